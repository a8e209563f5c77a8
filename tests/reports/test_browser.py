"""The pages opened from disk in a real Chromium with the network off."""

from __future__ import annotations

from pathlib import Path

import pytest

from longmile.reports.page import briefing_page, estimates_page, methods_page, quality_page

pytestmark = pytest.mark.browser
PAGES = {
    "briefing.html": briefing_page,
    "estimates.html": estimates_page,
    "data-quality.html": quality_page,
    "methods.html": methods_page,
}
OPEN_ALL = "document.querySelectorAll('details').forEach(part => part.open = true)"
SIZES = """[...document.querySelectorAll('figure[data-chart]')].map(figure => {
    const box = figure.querySelector('.live svg, .live canvas')?.getBoundingClientRect();
    return [figure.dataset.chart, box ? box.width : 0, box ? box.height : 0,
            figure.querySelectorAll('.live svg path').length];
})"""
STILLS = """[...document.querySelectorAll('.still svg')].map(svg => {
    const box = svg.getBoundingClientRect(); return box.width > 100 && box.height > 30;
})"""


@pytest.fixture(scope="module")
def site(invented_shop, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("published")
    frames = invented_shop.frames()
    for name, make in PAGES.items():
        (folder / name).write_text(make(frames), encoding="utf-8")
    return folder


@pytest.mark.parametrize("name", PAGES)
def test_a_page_asks_for_nothing_and_reports_no_error(browser, site, name):
    visit = browser.open(site / name)
    visit.evaluate("window.longmileDrawn")
    visit.evaluate(OPEN_ALL)
    assert visit.requests == [(site / name).resolve().as_uri()]
    assert visit.errors == []
    assert visit.dialogs == []
    visit.close()


def test_every_chart_is_drawn_live(browser, site):
    visit = browser.open(site / "briefing.html")
    assert visit.evaluate("window.longmileDrawn") == 6
    drawn = visit.evaluate(SIZES)
    assert len(drawn) == 6
    for chart, width, height, n_marks in drawn:
        assert width > 300 and height > 60 and n_marks > 3, chart
    visit.close()


@pytest.mark.parametrize("name", PAGES)
def test_hostile_text_is_not_run(browser, site, name):
    visit = browser.open(site / name)
    visit.evaluate("window.longmileDrawn")
    assert visit.evaluate("document.title").startswith("Two Rivers <b>Garage</b>: ")
    assert visit.evaluate("document.querySelectorAll('img').length") == 0
    assert visit.dialogs == []
    visit.close()


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_no_page_scrolls_sideways(browser, site, name, width):
    visit = browser.open(site / name, width=width, is_phone=width < 500)
    visit.evaluate("window.longmileDrawn")
    visit.evaluate(OPEN_ALL)
    assert visit.evaluate("[innerWidth, document.documentElement.scrollWidth]") == [width, width]
    visit.close()


def test_without_scripts_the_still_drawings_are_shown(browser, site):
    visit = browser.open(site / "briefing.html", has_scripts=False)
    # Evaluating works from outside although the page's own scripts are off.
    assert visit.evaluate("document.querySelectorAll('.is-live').length") == 0
    assert visit.evaluate(STILLS) == [True] * 6
    visit.close()


def test_dark_pages_draw_charts_in_dark_colours(browser, site):
    """The curve, written in the light blue #0072b2, is painted #56b4e9 = rgb(86, 180, 233)."""
    visit = browser.open(site / "briefing.html", is_dark=True)
    visit.evaluate("window.longmileDrawn")
    painted = "getComputedStyle(document.querySelector('.live [stroke=\"#0072b2\"]')).stroke"
    assert visit.evaluate(painted) == "rgb(86, 180, 233)"
    visit.close()


def test_the_browser_sees_what_it_should_report(browser, tmp_path):
    """A page that does everything wrong: the tests above could fail."""
    page = tmp_path / "bad.html"
    page.write_text(
        "<title>x</title><img "
        "src='https://example.invalid/a.png'><script>console.error('seen');alert('asked');"
        "throw new Error('thrown')</script><div style='width:5000px'>wide</div>",
        encoding="utf-8",
    )
    visit = browser.open(page, width=360, is_phone=True)
    assert any("example.invalid" in address for address in visit.requests)
    assert any("seen" in text for text in visit.errors)
    assert any("thrown" in text for text in visit.errors)
    assert visit.dialogs == ["asked"]
    assert visit.evaluate("document.documentElement.scrollWidth") > 360
    visit.close()


def test_the_page_prints(browser, site, tmp_path):
    visit = browser.open(site / "briefing.html")
    visit.evaluate("window.longmileDrawn")
    assert visit.pdf(tmp_path / "briefing.pdf").read_bytes().startswith(b"%PDF-")
    visit.close()
