"""The build sheet in print and on the page: scale and ruler measured where they are drawn, words for all."""

from __future__ import annotations

import io
import itertools
import re
import unicodedata
from datetime import date
from typing import Any

import pytest
from pypdf import PdfReader

from dooryard import knowledge
from dooryard.letter import page, sheet
from dooryard.letter.drawing import svg
from dooryard.plan.build_report import build
from tests.build_yards import INCH_M, barrel, yard
from tests.pdf_lines import Line, lines

ON = date(2031, 5, 20)
KNOWN = knowledge.load()
POINTS_INCH, POINTS_CM = 72.0, 72.0 / 2.54
HALF_A_PER_CENT = 0.005


def doc(**changes: Any) -> dict[str, Any]:
    """The document of the made-up barrel's build sheet."""
    units = changes.pop("units", "us")
    return build(yard(barrel(**changes), units=units), KNOWN, ON).document()


def plates(document: dict[str, Any], paper: str) -> tuple[list[Line], list[Line]]:
    """Lines of the page with the drawing and of the page with the template."""
    reader = PdfReader(io.BytesIO(sheet.render(document, paper=paper)))
    found: dict[str, list[Line]] = {}
    for leaf in reader.pages:
        words = leaf.extract_text()
        for part in ("heights from the ground line\n", "in true size\n"):
            if part in words:
                found[part] = lines(leaf)
    assert len(found) == 2
    return found["heights from the ground line\n"], found["in true size\n"]


def level(found: list[Line]) -> list[float]:
    """Lengths of the level lines [pt]."""
    return [abs(x2 - x1) for x1, y1, x2, y2 in found if abs(y1 - y2) < 0.01]


def upright(found: list[Line]) -> list[float]:
    """Lengths of the upright lines [pt]."""
    return [abs(y2 - y1) for x1, y1, x2, y2 in found if abs(x1 - x2) < 0.01]


def drawn(lengths: list[float], wanted: float) -> bool:
    return any(abs(one - wanted) <= HALF_A_PER_CENT * wanted for one in lengths)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_template_ruler_of_six_inches_measures_six_inches_in_the_pdf(paper: str) -> None:
    _, template = plates(doc(), paper)
    (start,) = {min(x1, x2) for x1, y1, x2, y2 in template if y1 == y2 and drawn([abs(x2 - x1)], 432.0)}
    ticks = {x1 for x1, y1, x2, y2 in template if abs(x1 - x2) < 0.01 and 5 < abs(y1 - y2) < 20}
    for eighth in range(6 * 8 + 1):
        assert any(abs(tick - (start + eighth * POINTS_INCH / 8)) < 0.02 for tick in ticks)


def test_template_of_a_metric_yard_has_a_true_ruler_of_fifteen_centimetres() -> None:
    _, template = plates(doc(units="metric"), "a4")
    assert drawn(level(template), 15 * POINTS_CM)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_template_holes_stand_at_their_true_distance_from_the_edge(paper: str) -> None:
    """Spigot 3 in up; overflow lip 32 in and half a 1 1/2 in bore leave 2 1/4 in to the rim at 35 in."""
    _, template = plates(doc(), paper)
    assert drawn(upright(template), 3.0 * POINTS_INCH)
    assert drawn(upright(template), 2.25 * POINTS_INCH)


@pytest.mark.parametrize("large", [False, True])
def test_template_is_as_true_in_large_type(large: bool) -> None:
    reader = PdfReader(io.BytesIO(sheet.render(doc(), large=large)))
    found = [leaf for leaf in reader.pages if "in true size" in leaf.extract_text()]
    assert any(drawn(level(lines(leaf)), 6 * POINTS_INCH) for leaf in found)


def test_drawing_in_the_pdf_has_the_scale_it_states() -> None:
    document = doc()
    scale = document["charts"][0]["scale"]
    drawing, _ = plates(document, "letter")
    assert f"scale 1 to {scale}" in document["charts"][0]["bar"]["text"]
    # The barrel's 23 in, its 35 in, and the stand's 24 in, each as its measure line.
    assert drawn(level(drawing), 23 * POINTS_INCH / scale)
    assert drawn(level(drawing), 24 * POINTS_INCH / scale)
    assert drawn(upright(drawing), 35 * POINTS_INCH / scale)
    # The ladder runs from the ground to the cut, a foot above the rim at 51 in.
    assert drawn(upright(drawing), 63 * POINTS_INCH / scale)


@pytest.mark.parametrize("height_in", [20, 35, 60, 96])
def test_drawing_fits_its_sheet_for_low_and_tall_barrels(height_in: float) -> None:
    document = doc(height_m=height_in * INCH_M, overflow_height_m=(height_in - 3) * INCH_M)
    svg_text = svg(document["charts"][0], 672)
    found = re.search(r'viewBox="0 0 672 ([0-9.]+)"', svg_text)
    assert found is not None
    # A letter sheet leaves 9.8 in; heading and words take about one.
    assert float(found[1]) <= 8.8 * 96


def test_drawing_needs_no_colour_to_be_read() -> None:
    """Only ink, grey rules and paper: no clay, no blue."""
    for chart in doc()["charts"]:
        used = set(re.findall(r"#[0-9a-f]{6}", svg(chart, 672)))
        assert used <= {"#1b2620", "#8b948d", "#fffefa", "#d6dbd5"}


@pytest.mark.parametrize("width", [360, 392, 520, 640, 672])
def test_drawing_labels_keep_apart_at_every_width(width: int) -> None:
    """No two lines of words that begin at one place stand nearer than a letter's height."""
    text = svg(doc()["charts"][0], width)
    places = [(float(x), float(y)) for x, y in re.findall(r'<text x="([0-9.]+)" y="([0-9.]+)"', text)]
    for x in {x for x, _ in places}:
        column = sorted(y for other, y in places if other == x)
        assert all(b - a >= 14 for a, b in itertools.pairwise(column))


def test_page_shows_the_template_in_inches_and_says_to_check_it_first() -> None:
    shown = page.render(doc())
    assert 'class="true-size"' in shown
    assert "figure .true-size svg { width: 7in" in shown
    assert "Check the ruler before you trust it." in shown
    template = shown.split('class="true-size"')[1].split("</svg>")[0]
    assert 'viewBox="0 0 672 ' in template
    # 672 units are 7 in, so 576 of them are 6 in.
    assert re.search(r'x1="24" y1="[0-9.]+" x2="600"', template)


def test_print_gives_each_plate_its_words_for_those_who_cannot_see_it() -> None:
    raw = PdfReader(io.BytesIO(sheet.render(doc())))
    numbers = range(1, int(raw.trailer["/Size"]))
    found = [raw.get_object(number) for number in numbers]
    told = " ".join(str(one["/Alt"]) for one in found if isinstance(one, dict) and "/Alt" in one)
    assert "spigot, middle 19 in" in unicodedata.normalize("NFKC", told)
    assert "Hole template" in told
