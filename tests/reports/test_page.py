"""Pages: whole, escaped, fetching nothing, in order, and sensible for an empty shop."""

from __future__ import annotations

import dataclasses
import json
import re
from html.parser import HTMLParser
from itertools import pairwise

import polars as pl
import pytest

from longmile.reports.drawing import script_json
from longmile.reports.facts import briefing
from longmile.reports.page import briefing_page, estimates_page, methods_page, quality_page

PAGES = {
    "briefing": briefing_page,
    "estimates": estimates_page,
    "data-quality": quality_page,
    "methods": methods_page,
}
MAX_BYTES = 1_500_000


class Read(HTMLParser):
    """A page as read by a parser: elements with attributes, scripts and styles, the text shown."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.inside = ""
        self.scripts: list[tuple[dict[str, str], str]] = []
        self.styles = ""
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        held = {name: value or "" for name, value in attrs}
        self.elements.append((tag, held))
        self.inside = tag if tag in ("script", "style") else ""
        if tag == "script":
            self.scripts.append((held, ""))

    def handle_endtag(self, tag):
        self.inside = ""

    def handle_data(self, data):
        if self.inside == "script":
            held, before = self.scripts[-1]
            self.scripts[-1] = (held, before + data)
        elif self.inside == "style":
            self.styles += data
        else:
            self.text += data


@pytest.fixture(scope="module")
def pages(invented_shop):
    frames = invented_shop.frames()
    return {name: make(frames) for name, make in PAGES.items()}


@pytest.fixture(scope="module")
def empty_pages(invented_shop):
    frames = invented_shop.empty_frames()
    return {name: make(frames) for name, make in PAGES.items()}


@pytest.mark.parametrize("name", PAGES)
def test_nothing_is_fetched(pages, name):
    read = Read(pages[name])
    loading = {"src", "srcset", "action", "formaction", "poster", "data", "background", "xlink:href"}
    for tag, held in read.elements:
        assert tag not in ("link", "iframe", "object", "embed", "base", "form", "img", "video", "audio"), tag
        assert not loading & set(held), (tag, held)
        assert not any(attribute.startswith("on") for attribute in held), (tag, held)
        address = held.get("href", "#")
        assert address.startswith("#") or re.fullmatch(r"[a-z-]+\.html(#[a-z-]+)?", address), address
        assert "url(" not in held.get("style", "")
    assert "url(" not in read.styles
    assert "@import" not in read.styles


@pytest.mark.parametrize("name", PAGES)
def test_hostile_text_is_text(pages, name):
    read = Read(pages[name])
    tags = [tag for tag, _ in read.elements]
    assert "img" not in tags
    assert all(held.get("onload") is None for _, held in read.elements)
    # the bundle, the upgrade, and one specification a chart; no script that a record brought along
    kinds = [held.get("type", "run") for held, _ in read.scripts]
    assert kinds.count("run") == (2 if name == "briefing" else 0)
    assert "Two Rivers <b>Garage</b>" in read.text


def test_hostile_text_is_shown_whole_on_the_pages_that_quote_it(pages, invented_shop):
    assert "alert(1)" in Read(pages["briefing"]).text
    assert invented_shop.HOSTILE_CONCERN in Read(pages["data-quality"]).text
    assert invented_shop.RIGHT_TO_LEFT in Read(pages["briefing"]).text


def test_a_word_of_5000_characters_is_cut_and_said_to_be(pages):
    text = Read(pages["briefing"]).text
    assert "x" * 200 + " [cut]" in text
    assert "x" * 201 not in text


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("which", ["pages", "empty_pages"])
def test_none_and_nan_are_never_shown(request, which, name):
    text = Read(request.getfixturevalue(which)[name]).text
    assert not re.search(r"\b(None of|None\.)", text) or name == "data-quality"
    assert not re.search(r"\b(None(?!\.| of them)|nan|NaN|null|undefined|Markup)\b", text)


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("which", ["pages", "empty_pages"])
def test_headings_are_in_order_and_the_page_is_marked_up(request, which, name):
    read = Read(request.getfixturevalue(which)[name])
    levels = [int(tag[1]) for tag, _ in read.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    by_tag = dict(read.elements[::-1])
    assert by_tag["html"]["lang"] == "en"
    assert ("a", {"class": "skip", "href": "#main"}) in read.elements
    tables = sum(tag == "table" for tag, _ in read.elements)
    assert sum(tag == "caption" for tag, _ in read.elements) == tables
    assert all("scope" in held for tag, held in read.elements if tag == "th")
    ids = [held["id"] for tag, held in read.elements if "id" in held]
    assert len(ids) == len(set(ids))


def test_every_chart_has_a_still_drawing_a_label_and_a_specification(pages):
    read = Read(pages["briefing"])
    charts = [held["data-chart"] for tag, held in read.elements if tag == "figure"]
    # two of rates, two families that stand out, two leading components
    assert charts == ["standing_out", "family_1", "family_2", "components", "leading_1", "leading_2"]
    stills = [held for _, held in read.elements if held.get("class") == "chart still"]
    assert len(stills) == len(charts)
    assert all(held["role"] == "img" and held["aria-label"] for held in stills)
    specs = {held["id"]: json.loads(text) for held, text in read.scripts if "id" in held}
    assert set(specs) == {f"spec_{chart}" for chart in charts}


def test_a_script_element_cannot_be_ended_by_data():
    assert "<" not in script_json({"a": "</script><!--"})
    assert json.loads(script_json({"a": "</script>&\u2028"})) == {"a": "</script>&\u2028"}
    with pytest.raises(ValueError, match="JSON compliant"):
        script_json({"a": float("nan")})


def test_the_numbers_of_the_facts_stand_on_the_page(pages):
    text = Read(pages["briefing"]).text
    # 40 failures in 1,000,000 miles = 4.0 per 100,000; invented limits half and twice
    assert "It failed 4.0 times per 100,000 miles, between 2.0 and 8.0: 40 failures in 1 million miles" in text
    assert "120 vehicles watched over 2.13 million miles; of 507 rows that came in, 490 were kept, 7 set aside" in text
    assert "the newest 25 are shown" in text


def test_safety_relevant_parts_have_no_forecast_table(pages):
    section = re.search(r'<section[^>]*h_family_1".*?</section>', pages["briefing"], re.S)
    assert section is not None
    assert "Brake pads" in section[0]
    for forecast in ("Half by", "Mean miles to failure", "Chance to run further", "1 in 10"):
        assert forecast not in section[0]


def test_an_empty_shop_reads_sensibly(empty_pages):
    text = Read(empty_pages["briefing"]).text
    assert "Nothing to report yet" in text
    assert "inbox" in text
    assert "No file has been loaded" in Read(empty_pages["data-quality"]).text
    assert "This shop has no stratum yet" in Read(empty_pages["methods"]).text


def test_a_shop_without_a_failure_says_so(invented_shop):
    estimate = invented_shop.frames().estimate.filter(pl.col("n_failures") == 0)
    assert "nothing has failed yet" in Read(briefing_page(invented_shop.frames(estimate=estimate))).text


def test_limits_that_are_missing_are_said_in_words(invented_shop):
    gone = invented_shop.frames().estimate.with_columns(
        pl.lit(None, dtype=pl.Float64).alias("mean_miles_upper"),
        pl.lit(float("nan")).alias("median_miles"),
        pl.lit(float("inf")).alias("b10_miles_upper"),
    )
    frames = invented_shop.frames(estimate=gone)
    text = Read(briefing_page(frames)).text
    assert "without an upper limit" in text
    assert not re.search(r"\b(nan|inf)\b", text)
    assert briefing(frames).standing_out[1].median is None


def test_pages_of_the_same_frames_are_the_same(invented_shop, pages):
    assert briefing_page(invented_shop.frames()) == pages["briefing"]


def test_pages_keep_their_weight(pages):
    assert all(len(page.encode()) <= MAX_BYTES for page in pages.values())


def test_facts_are_frozen(invented_shop):
    with pytest.raises(dataclasses.FrozenInstanceError):
        briefing(invented_shop.frames()).n_families = 3
