"""The printed sheet, read back from the PDF: structure, words, numbers, papers."""

from __future__ import annotations

import copy
import io
import json
import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

from dooryard.letter import prose, screen, sheet
from dooryard.letter.explain import notes
from dooryard.problem import InputError

DOC: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8")
)
FOOT = r"Household 12 · Quillfeather Mill page [0-9]+ of [0-9]+ made on .*? reviewed by"
POINTS = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}


@pytest.fixture(scope="module")
def pdf() -> PdfReader:
    return PdfReader(io.BytesIO(sheet.render(DOC)))


def flat(text: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", text).split())


def words(reader: PdfReader) -> str:
    """The text of all pages without their feet, so that a sentence over two pages reads on."""
    return flat(" ".join(re.sub(FOOT, "", flat(page.extract_text())) for page in reader.pages))


def parts(node: Any, tag: str) -> Iterator[DictionaryObject]:
    """Every structure element of a tag below a node of the structure tree."""
    node = node.get_object() if isinstance(node, IndirectObject) else node
    if isinstance(node, list):
        for child in node:
            yield from parts(child, tag)
    elif isinstance(node, DictionaryObject):
        if node.get("/S") == tag:
            yield node
        if "/K" in node:
            yield from parts(node["/K"], tag)


def test_pdf_is_tagged_and_says_its_language_and_title(pdf: PdfReader) -> None:
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value
    assert root["/Lang"] == "en"
    assert "/StructTreeRoot" in root
    assert pdf.metadata is not None
    assert pdf.metadata.title == "Household 12: plan of 20 May 2031"
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()


def test_pdf_drawings_carry_their_words(pdf: PdfReader) -> None:
    figures = list(parts(pdf.trailer["/Root"]["/StructTreeRoot"], "/Figure"))
    alts = [flat(str(figure["/Alt"])) for figure in figures]
    for chart in DOC["charts"]:
        assert any(flat(prose.spell(chart["words"], DOC["figures"])) in alt for alt in alts), chart["id"]


def test_pdf_tables_have_head_cells_and_headings_do_not_skip(pdf: PdfReader) -> None:
    tree = pdf.trailer["/Root"]["/StructTreeRoot"]
    tables = list(parts(tree, "/Table"))
    assert tables
    assert all(list(parts(table, "/TH")) for table in tables)
    assert len(list(parts(tree, "/H1"))) == 1
    assert list(parts(tree, "/H2"))


def test_pdf_fonts_are_embedded_and_ours(pdf: PdfReader) -> None:
    names = set()
    for page in pdf.pages:
        for font in page["/Resources"]["/Font"].values():
            descendant = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = descendant["/FontDescriptor"].get_object()
            assert any(key in descriptor for key in ("/FontFile2", "/FontFile3", "/FontFile"))
            names.add(str(descriptor["/FontName"]).split("+")[1])
    assert names == {"AtkinsonHyperlegibleNext-Regular", "AtkinsonHyperlegibleNext-Bold"}


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pdf_pages_have_the_paper_asked_for(paper: str) -> None:
    for page in PdfReader(io.BytesIO(sheet.render(DOC, paper=paper))).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            POINTS[paper], abs=0.01
        )


def test_paper_we_do_not_print_on_is_told_with_the_choices() -> None:
    with pytest.raises(InputError, match="letter, a4"):
        sheet.render(DOC, paper="tabloid")


def week_cautions(doc: dict[str, Any]) -> list[dict[str, Any]]:
    """Cautions that must stand on page one: those of this week's tasks and those no task names."""
    week = {key for task in prose.week_tasks(doc) for key in task["cautions"]}
    named = {key for task in [*doc["tasks"], *doc["ahead"]] for key in task["cautions"]}
    return [caution for caution in doc["cautions"] if caution["id"] in week or caution["id"] not in named]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pdf_first_page_does_for_a_household(paper: str) -> None:
    first = flat(PdfReader(io.BytesIO(sheet.render(DOC, paper=paper))).pages[0].extract_text())
    for heading in ("In short", "This week, 20 to 26 May", "Caution"):
        assert heading in first
    assert len(week_cautions(DOC)) >= 4
    for caution in week_cautions(DOC):
        assert flat(caution["text"]) in first
    for task in prose.week_tasks(DOC):
        assert flat(task["what"]).split("[[")[0][1:] in first


def test_pdf_says_each_caution_in_full_once(pdf: PdfReader) -> None:
    for caution in DOC["cautions"]:
        assert words(pdf).count(flat(caution["text"])) == 1, caution["id"]


def test_pdf_reasons_move_behind_page_one_when_it_is_full() -> None:
    doc = copy.deepcopy(DOC)
    week = prose.week_tasks(doc)
    doc["tasks"] = [{**task, "id": f"{task['id']}.{i}"} for i in range(2) for task in week]
    pages = [flat(page.extract_text()) for page in PdfReader(io.BytesIO(sheet.render(doc))).pages]
    for said in [flat(task["if_missed"]) for task in week if task["if_missed"]]:
        assert said not in pages[0]
        assert " ".join(pages[1:]).count(said) == 2


def test_pdf_reasons_stand_with_the_tasks_when_page_one_has_room(pdf: PdfReader) -> None:
    first = flat(pdf.pages[0].extract_text())
    for task in prose.week_tasks(DOC):
        assert flat(task["if_missed"]) in first
    assert "Why, and what if missed" not in words(pdf)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pdf_is_four_pages_for_the_household_and_three_for_the_reasons(paper: str) -> None:
    pages = [
        flat(page.extract_text()) for page in PdfReader(io.BytesIO(sheet.render(DOC, paper=paper))).pages
    ]
    why = next(number for number, text in enumerate(pages) if "Stages behind the verdicts" in text)
    assert why <= 4
    assert len(pages) - why <= 3


def test_pdf_numbers_an_organisms_choices(pdf: PdfReader) -> None:
    text = words(pdf)
    found = next(organism for organism in DOC["organisms"] if organism.get("choices"))
    numbered = " ".join(f"{n}. {choice}" for n, choice in enumerate(found["choices"], 1))
    assert f"Choices, mildest first: {flat(numbered)}" in text
    assert list(parts(pdf.trailer["/Root"]["/StructTreeRoot"], "/L"))


def test_pdf_every_page_has_the_foot(pdf: PdfReader) -> None:
    count = len(pdf.pages)
    for number, page in enumerate(pdf.pages, 1):
        text = flat(page.extract_text())
        for part in ("Household 12 · Quillfeather Mill", "made on 20 May 2031", "advice ends on 9 June 2031"):
            assert part in text
        assert f"page {number} of {count}" in text
        assert "reviewed by" in text


def test_pdf_explains_every_figure(pdf: PdfReader) -> None:
    text = words(pdf)
    for note in notes(DOC):
        assert flat(f"[{note.number}] {note.name}: {note.exact}") in text
        # Each method is told once, and each source: a note names them by M and S.
        formula, source = flat(note.formula)[1:].rstrip("."), flat(note.source)
        assert text.count(formula) == 1
        assert source in text


def test_pdf_note_names_a_method_and_a_source_that_are_listed(pdf: PdfReader) -> None:
    text = words(pdf)
    for note in notes(DOC):
        start = text.index(f"[{note.number}] {flat(note.name)}:")
        method = re.search(r" (M[0-9]+)\.", text[start:])
        assert method is not None
        told = text[text.index(f"{method[1]} {flat(note.method_name)}:") :]
        source = re.search(rf"(S[0-9]+), {note.status}\.", told)
        assert source is not None
        assert f"{source[1]} {flat(note.source)}" in text


def figures_in(text: str) -> set[tuple[str, int]]:
    """(shown text, note number) of each figure in a text; fails if a number has any other words before it."""
    known = {note.number: note for note in notes(DOC)}
    found = set()
    for mark in re.finditer(r" \[([0-9]+)\]", text):
        note = known[int(mark[1])]
        before, after = text[: mark.start()], text[mark.end() :]
        if not after.startswith(f" {flat(note.name)}:"):
            assert before.endswith(flat(note.shown)), f"{before[-40:]} [{note.number}], not {note.shown}"
            found.add((note.shown, note.number))
    return found


def test_figures_on_screen_and_in_print_are_the_same(pdf: PdfReader) -> None:
    on_screen, in_print = figures_in(flat(screen.render(DOC, why=True))), figures_in(words(pdf))
    assert on_screen == {(note.shown, note.number) for note in notes(DOC)}
    assert in_print == on_screen


def test_pdf_leaves_no_mark(pdf: PdfReader) -> None:
    assert "[[" not in words(pdf)


def test_pdf_same_input_gives_the_same_bytes() -> None:
    assert sheet.render(DOC) == sheet.render(copy.deepcopy(DOC))


def test_pdf_in_large_type_says_the_same() -> None:
    large = PdfReader(io.BytesIO(sheet.render(DOC, large=True)))
    text = words(large)
    for note in notes(DOC):
        assert flat(f"{note.shown} [{note.number}]") in text


def test_pdf_letters_are_never_under_eight_and_a_half_points() -> None:
    sizes: dict[float, str] = {}
    # The drawings' letters are judged with the drawings.
    doc = {**DOC, "charts": [], "walk": [{**stop, "charts": []} for stop in DOC["walk"]]}

    def visit(text: str, _: Any, matrix: list[float], __: Any, size: float) -> None:
        if text.strip():
            sizes.setdefault(round(abs(matrix[3]) * size, 2), text)

    for page in PdfReader(io.BytesIO(sheet.render(doc))).pages:
        page.extract_text(visitor_text=visit)
    assert sizes
    assert min(sizes) >= 8.5


@pytest.mark.parametrize(
    "name", ["#set page(fill: red) *bold*", "$x$ @note <label> `raw`", "= Heading\n- list"]
)
def test_pdf_name_that_looks_like_markup_is_plain_text(name: str) -> None:
    doc = copy.deepcopy(DOC)
    doc["yard"]["name"] = name
    assert flat(name) in words(PdfReader(io.BytesIO(sheet.render(doc))))


def test_pdf_name_with_signs_no_typeface_has_still_prints() -> None:
    doc = copy.deepcopy(DOC)
    doc["yard"]["name"] = "日本 Peña \x07"
    assert "?? Peña" in words(PdfReader(io.BytesIO(sheet.render(doc))))


def test_pdf_of_an_almost_empty_plan_is_made() -> None:
    empty: dict[str, Any] = {
        key: [] for key in ("tasks", "ahead", "walk", "organisms", "refusals", "cautions", "charts")
    }
    doc = {**DOC, **empty, "summary": ["Nothing to do."], "figures": {}}
    text = words(PdfReader(io.BytesIO(sheet.render(doc))))
    assert "Nothing to do." in text
    assert "Why" not in text


def test_pdf_unknown_figure_raises_key_error_with_the_id() -> None:
    with pytest.raises(KeyError, match=r"cellar\.level"):
        sheet.render({**DOC, "summary": ["[[cellar.level]]"]})
