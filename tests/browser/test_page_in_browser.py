"""The page in a real browser: accessible, quiet, narrow enough for a phone, and complete on paper."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import page as letter_page

pytest.importorskip("playwright")
from playwright.sync_api import Browser, Page, expect

PLAN = json.loads((Path(__file__).parents[1] / "fixtures" / "plan.json").read_text("utf-8"))
STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WIDTHS = [pytest.param(1200, id="desk"), pytest.param(360, id="phone")]


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("page") / "plan.html"
    path.write_text(letter_page.render(PLAN), "utf-8")
    return path.as_uri()


@pytest.fixture
def opened(browser: Browser, address: str) -> Iterator[Page]:
    """The page, opened, with every request and every word of the console kept on it."""
    page = browser.new_page(viewport={"width": 1200, "height": 900})
    page.goto(address)
    yield page
    page.close()


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("folded", [True, False], ids=["folded", "unfolded"])
def test_page_has_no_accessibility_fault(opened: Page, width: int, folded: bool) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    opened.set_viewport_size({"width": width, "height": 900})
    if not folded:
        opened.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true })")
    # The enhanced rule asks for 7:1 instead of 4.5:1.
    options = {
        "runOnly": {"type": "tag", "values": STANDARD},
        "rules": {"color-contrast-enhanced": {"enabled": True}},
    }
    found = axe.run(opened, options=options).response
    assert len(found["passes"]) > 10
    assert [(fault["id"], [node["target"] for node in fault["nodes"]]) for fault in found["violations"]] == []


def test_page_asks_for_nothing_and_complains_of_nothing(browser: Browser, address: str) -> None:
    page = browser.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(address)
    page.wait_for_load_state("networkidle")
    page.close()
    assert [url for url in asked if not url.startswith("data:")] == [address]
    assert said == []


@pytest.mark.parametrize("width", [320, 360, 768, 1200])
def test_page_never_scrolls_sideways(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 800})
    opened.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true })")
    assert opened.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_drawing_letters_stand_at_least_twelve_pixels_high(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 900})
    sizes: list[float] = opened.evaluate(
        """[...document.querySelectorAll('figure svg')].filter(svg => svg.getClientRects().length)
            .flatMap(svg => [...svg.querySelectorAll('text')].map(text =>
                parseFloat(text.getAttribute('font-size')) * svg.getBoundingClientRect().width
                / svg.viewBox.baseVal.width))"""
    )
    assert sizes
    assert min(sizes) >= 12


@pytest.mark.parametrize("width", WIDTHS)
def test_drawings_are_shown_once_each(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 900})
    shown = opened.evaluate(
        "[...document.querySelectorAll('figure svg')].filter(svg => svg.getClientRects().length).length"
    )
    assert shown == len(PLAN["charts"])


@pytest.mark.parametrize("width", WIDTHS)
def test_drawing_words_stay_apart_as_the_browser_sets_them(opened: Page, width: int) -> None:
    opened.set_viewport_size({"width": width, "height": 900})
    overlaps = opened.evaluate(
        """[...document.querySelectorAll('figure svg')].filter(svg => svg.getClientRects().length)
        .flatMap(svg => {
            const boxes = [...svg.querySelectorAll('text')]
                .map(text => [text.textContent, text.getBoundingClientRect()]);
            const found = [];
            boxes.forEach(([one, a], i) => boxes.slice(i + 1).forEach(([other, b]) => {
                const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                // A line's box is taller than its letters: a third of it is air.
                if (across > 1 && down > Math.min(a.height, b.height) / 3) found.push([one, other]);
            }));
            return found;
        })"""
    )
    assert overlaps == []


def test_column_is_sixty_to_seventy_two_letters_wide(opened: Page) -> None:
    letters = opened.evaluate(
        """(() => {
            const part = document.querySelector('section.stop p');
            const style = getComputedStyle(part);
            const pen = document.createElement('canvas').getContext('2d');
            pen.font = `${style.fontSize} ${style.fontFamily}`;
            const text = [...document.querySelectorAll('section.stop p')].map(p => p.textContent).join(' ');
            return part.clientWidth / (pen.measureText(text).width / text.length);
        })()"""
    )
    assert 60 <= letters <= 72
    assert opened.evaluate("getComputedStyle(document.body).fontSize") == "18px"


def test_number_leads_to_its_reason_and_back_by_keyboard(opened: Page) -> None:
    first = opened.locator("a.figure").first
    figure_id = str(first.get_attribute("href")).removeprefix("#why-")
    first.focus()
    opened.keyboard.press("Enter")
    expect(opened).to_have_url(re.compile(re.escape(f"#why-{figure_id}") + "$"))
    back = opened.locator(f'[id="why-{figure_id}"] .back a').first
    back.focus()
    opened.keyboard.press("Enter")
    expect(opened).to_have_url(re.compile(re.escape(f"#use-{figure_id}-1") + "$"))


def test_first_key_press_offers_the_way_past_the_head(opened: Page) -> None:
    opened.keyboard.press("Tab")
    assert opened.evaluate("document.activeElement.textContent") == "Skip to the plan"
    assert opened.locator(".skip").bounding_box()["y"] >= 0  # type: ignore[index]


def printed(page: Page) -> list[str]:
    pypdf = pytest.importorskip("pypdf")
    pages: Any = pypdf.PdfReader(BytesIO(page.pdf(format="Letter", prefer_css_page_size=True))).pages
    return [" ".join(part.extract_text().replace("\N{NO-BREAK SPACE}", " ").split()) for part in pages]


def test_first_printed_page_alone_does_for_a_household(opened: Page) -> None:
    pages = printed(opened)
    squeezed = re.sub(r"\s", "", pages[0])
    for task in PLAN["tasks"]:
        if task["from"] <= "2031-05-26":
            assert re.sub(r"\s", "", task["what"].split("[[")[0]) in squeezed
            for key in task["cautions"]:
                text = next(caution["text"] for caution in PLAN["cautions"] if caution["id"] == key)
                assert re.sub(r"\s", "", text) in squeezed
    assert "Inshort" in squeezed
    always = next(caution["text"] for caution in PLAN["cautions"] if caution["id"] == "water.children")
    assert re.sub(r"\s", "", always) in squeezed


def test_printed_tasks_name_their_cautions_and_the_reasons_follow(opened: Page) -> None:
    squeezed = re.sub(r"\s", "", " ".join(printed(opened)))
    assert "fromthetap.CautionA." in squeezed
    assert "CautionA.Onvegetables" in squeezed
    assert squeezed.index("CautionA.Onvegetables") < squeezed.index("Do,tomatobed.Thesoilholds")
