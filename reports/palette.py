"""The colours of every page, light and dark, and the style rules that put them on page and charts.

Hues: blue, vermilion and green of Okabe & Ito, made for colour-blind readers (from memory), darkened or
lightened until text in them has a contrast of 4.5 and chart marks one of 3 on their background (a test
computes both). Charts are drawn in the light colours; the rules below exchange them for dark pages.
"""

from __future__ import annotations

from collections.abc import Mapping

LIGHT: Mapping[str, str] = {
    "paper": "#ffffff",
    "panel": "#f4f6f8",
    "ink": "#1b2430",
    "soft": "#52606d",
    "rule": "#d5dbe1",
    "link": "#005a8f",
    "main": "#0072b2",
    "accent": "#c04f00",
    "other": "#6b7785",
    "warn": "#a13d00",
    "good": "#00694d",
}

DARK: Mapping[str, str] = {
    "paper": "#12181f",
    "panel": "#1b232c",
    "ink": "#e8edf2",
    "soft": "#aab6c2",
    "rule": "#36424e",
    "link": "#7cc4f0",
    "main": "#56b4e9",
    "accent": "#f0924e",
    "other": "#93a0ad",
    "warn": "#f0a673",
    "good": "#4fcaa4",
}

CHART_COLOURS = ("ink", "soft", "rule", "main", "accent", "other")


def _variables(colours: Mapping[str, str]) -> str:
    """CSS variables of a set of colours."""
    return "".join(f"--{name}:{value};" for name, value in colours.items())


def _chart_rules() -> str:
    """Rules that let the colours written into a chart follow the page's."""
    return "".join(
        f'.chart [{paint}="{LIGHT[name]}"]{{{paint}:var(--{name})}}'
        for name in CHART_COLOURS
        for paint in ("fill", "stroke")
    )


def colour_rules() -> str:
    """Style rules for light, dark and printed pages (paper is always light)."""
    return (
        f":root{{color-scheme:light dark;{_variables(LIGHT)}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{_variables(DARK)}}}}}"
        f"{_chart_rules()}"
    )
