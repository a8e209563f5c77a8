"""Contrast of the palette by the web accessibility guidelines' formula (relative luminance; from memory)."""

from __future__ import annotations

import pytest

from longmile.reports.palette import CHART_COLOURS, DARK, LIGHT, colour_rules


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_its_known_ends():
    # black on white is 21 to 1, a colour on itself 1 to 1 (from memory)
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#0072b2", "#0072b2") == 1


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", ["ink", "soft", "link", "warn", "good", "main"])
@pytest.mark.parametrize("ground", ["paper", "panel"])
def test_text_has_a_contrast_of_4_5(colours, name, ground):
    assert contrast(colours[name], colours[ground]) >= 4.5


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("name", ["main", "accent", "other"])
def test_marks_of_a_chart_have_a_contrast_of_3(colours, name):
    assert contrast(colours[name], colours["paper"]) >= 3


def test_every_chart_colour_is_exchanged_for_dark_pages():
    assert set(LIGHT) == set(DARK)
    assert len(set(LIGHT.values())) == len(LIGHT)
    for name in CHART_COLOURS:
        assert f'[fill="{LIGHT[name]}"]{{fill:var(--{name})}}' in colour_rules()
