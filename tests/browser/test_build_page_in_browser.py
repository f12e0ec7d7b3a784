"""The build sheet's page in a real browser: a true ruler, words apart, no fault for those who cannot see it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from dooryard import knowledge
from dooryard.letter import page as letter_page
from dooryard.plan.build_report import build
from tests.build_yards import barrel, yard

pytest.importorskip("playwright")
from playwright.sync_api import Browser, Page

WIDTHS = [pytest.param(1200, id="desk"), pytest.param(360, id="phone")]
STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CSS_INCH = 96


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    document = build(yard(barrel()), knowledge.load(), date(2031, 5, 20)).document()
    path = tmp_path_factory.mktemp("page") / "build.html"
    path.write_text(letter_page.render(document), "utf-8")
    return path.as_uri()


@pytest.fixture
def opened(browser: Browser, address: str) -> Iterator[Page]:
    page = browser.new_page(viewport={"width": 1200, "height": 900})
    page.goto(address)
    yield page
    page.close()


@pytest.mark.parametrize("width", WIDTHS)
def test_build_page_ruler_of_six_inches_is_six_css_inches(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 900})
    long = opened.evaluate("document.querySelector('[id$=-ruler] line').getBoundingClientRect().width")
    assert long == pytest.approx(6 * CSS_INCH, rel=0.005)


@pytest.mark.parametrize("width", [320, 360, 768, 1200])
def test_build_page_never_scrolls_sideways_though_its_template_does(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 800})
    assert opened.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_build_page_has_no_accessibility_fault(opened: Page, width: int) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    opened.set_viewport_size({"width": width, "height": 900})
    options = {
        "runOnly": {"type": "tag", "values": STANDARD},
        "rules": {"color-contrast-enhanced": {"enabled": True}},
    }
    found = axe.run(opened, options=options).response
    assert [(fault["id"], [node["target"] for node in fault["nodes"]]) for fault in found["violations"]] == []


@pytest.mark.parametrize("width", WIDTHS)
def test_build_page_words_of_a_drawing_do_not_lie_on_each_other(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 900})
    overlaps = opened.evaluate(
        """[...document.querySelectorAll('figure svg')].filter(svg => svg.getClientRects().length).flatMap(svg => {
            const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
            const found = [];
            boxes.forEach(([one, a], i) => boxes.slice(i + 1).forEach(([other, b]) => {
                const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                // Line boxes are taller than letters: a few units of overlap touch nothing.
                if (across > 1 && down > 6) found.push([one, other]);
            }));
            return found;
        })"""
    )
    assert overlaps == []


def test_build_page_words_of_a_drawing_stay_inside_it(opened: Page) -> None:
    cut = opened.evaluate(
        """[...document.querySelectorAll('figure svg')].filter(svg => svg.getClientRects().length).flatMap(svg => {
            const frame = svg.getBoundingClientRect();
            return [...svg.querySelectorAll('text')].filter(t => {
                const box = t.getBoundingClientRect();
                return box.right > frame.right + 1 || box.left < frame.left - 1 || box.bottom > frame.bottom + 1;
            }).map(t => t.textContent);
        })"""
    )
    assert cut == []
