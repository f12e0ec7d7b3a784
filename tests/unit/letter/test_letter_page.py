"""The page says all the document says, escapes it, and leads from each number to its reason and back."""

from __future__ import annotations

import copy
import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from dooryard.letter import page, prose
from dooryard.words import as_date

PLAN = json.loads((Path(__file__).parents[2] / "fixtures" / "plan.json").read_text("utf-8"))
VOID = {"meta", "link", "br", "hr", "img", "line", "path", "rect"}
NASTY = '<script>alert("x")</script> & <b>'


class Read(HTMLParser):
    """What a page holds: ids, links, headings, times, and the words outside of drawings and styles."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.ids: list[str] = []
        self.links: list[tuple[str, str]] = []  # (class, href)
        self.headings: list[int] = []
        self.times: list[str] = []
        self.tags: set[str] = set()
        self.open: list[str] = []
        self.parts: list[str] = []
        self.attributes: dict[str, dict[str, str | None]] = {}
        self.feed(html)
        assert self.open == [], "tags left open"
        self.words = " ".join("".join(self.parts).replace("\N{NO-BREAK SPACE}", " ").split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.tags.add(tag)
        self.attributes.setdefault(tag, given)
        if given.get("id"):
            self.ids.append(str(given["id"]))
        if tag == "a":
            self.links.append((given.get("class") or "", given.get("href") or ""))
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag == "time":
            self.times.append(given.get("datetime") or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not {"style", "svg"} & set(self.open):
            self.parts.append(data)


HTML = page.render(PLAN)
READ = Read(HTML)


def spelled(text: str) -> str:
    return " ".join(prose.spell(text, PLAN["figures"]).split())


def test_page_stands_alone() -> None:
    assert not re.search(r"""(?:src|href)\s*=\s*["'](?!#|data:)""", HTML)
    assert set(re.findall(r"\w+://[^\s\"'<)]+", HTML)) == {"http://www.w3.org/2000/svg"}
    assert "@import" not in HTML
    assert not READ.tags & {"script", "iframe", "object", "embed", "img"}


def test_page_names_its_language_and_itself() -> None:
    assert READ.attributes["html"]["lang"] == "en"
    assert "<title>Household 12: plan of 2031-05-20</title>" in HTML


def test_page_says_where_the_weather_comes_from_in_one_sentence() -> None:
    assert f"Weather: {prose.station_words(PLAN)}" in READ.words


def test_page_headings_go_down_one_step_at_a_time_from_a_single_first() -> None:
    assert READ.headings[0] == 1
    assert READ.headings.count(1) == 1
    assert all(after - before <= 1 for before, after in zip(READ.headings, READ.headings[1:], strict=False))


def test_page_ids_are_unique_over_page_and_drawings() -> None:
    assert len(READ.ids) == len(set(READ.ids))


def test_page_every_link_leads_somewhere_on_the_page() -> None:
    assert READ.links
    assert {href.removeprefix("#") for _, href in READ.links} <= set(READ.ids)


def test_page_every_pattern_used_by_a_drawing_is_on_the_page() -> None:
    used = set(re.findall(r"url\(#([^)]+)\)", HTML))
    assert used
    assert used <= set(READ.ids)


def test_page_begins_with_a_link_past_the_head() -> None:
    assert READ.links[0] == ("skip", "#plan")


def test_page_every_figure_has_its_reason_and_a_way_back() -> None:
    for figure_id in PLAN["figures"]:
        assert f"why-{figure_id}" in READ.ids
    for figure_id in prose.footnotes(PLAN):
        assert ("figure", f"#why-{figure_id}") in READ.links
        assert ("", f"#use-{figure_id}-1") in READ.links


def test_page_reason_holds_formula_inputs_source_and_status() -> None:
    method = PLAN["methods"]["water.outlet.orifice"]
    entry = READ.words[READ.words.index("Water the overflow can carry: about 11 gal a minute") :]
    entry = entry[: entry.index("Back")]
    assert method["formula"] in entry
    assert method["limits"] in entry
    assert "bore: 1 1/2 in (yard file)" in entry
    assert "10.8 gal a minute" in entry
    assert "Hydraulics textbook, Flow through a sharp-edged hole, 1976; common practice" in entry


def test_page_says_every_text_of_the_document() -> None:
    missing = [text for text in prose.texts(PLAN) if text and spelled(text) not in READ.words]
    assert missing == []


def test_page_leaves_no_mark_unspelled() -> None:
    assert "[[" not in READ.words
    assert "]]" not in HTML


def test_page_drawings_are_named_with_their_numbers() -> None:
    labels = re.findall(r'<svg[^>]* aria-label="([^"]*)"', HTML)
    assert len(labels) == 2 * len(PLAN["charts"])
    assert any(
        label.startswith("The back barrel in section. The barrel holds 14 to 20 gal") for label in labels
    )


def test_page_parts_stand_in_the_order_of_a_walk() -> None:
    parts = ["short", "week", "cautions", "walk", "ahead", "organisms", "refusals", "record", "why"]
    places = [READ.ids.index(part) for part in parts]
    assert places == sorted(places)


def test_page_puts_a_task_into_the_week_its_window_opens_in() -> None:
    week = HTML[HTML.index('id="week"') : HTML.index('id="walk"')]
    ahead = HTML[HTML.index('id="ahead"') : HTML.index('id="organisms"')]
    for task in PLAN["tasks"]:
        first = task["what"].split("[[")[0][:24]
        soon = task["from"] <= "2031-05-26"
        assert (first in week) is soon
        assert (first in ahead) is not soon


def test_page_dates_are_marked_for_machines() -> None:
    assert {"2031-05-20", "2031-06-09", "1981-01-01"} <= set(READ.times)
    assert all(as_date(day) for day in READ.times)


def test_page_a_caution_no_task_names_stands_under_the_week() -> None:
    top = HTML[HTML.index("At all times") : HTML.index('id="walk"')]
    assert "A child can drown" in top


def test_page_says_each_caution_in_full_once_and_its_letter_beside_the_tasks() -> None:
    letters = prose.caution_letters(PLAN)
    for caution in PLAN["cautions"]:
        assert READ.words.count(caution["text"]) == 1
    tasks = [*PLAN["tasks"], *PLAN["ahead"]]
    for key, letter in letters.items():
        beside = sum(key in task["cautions"] for task in tasks)
        assert READ.links.count(("", f"#caution-{key}")) == beside > 0
        assert f"Caution {letter}. " in READ.words


def test_page_lists_an_organisms_choices_in_their_order() -> None:
    bags = READ.words.index("Pick off the bags by hand")
    assert READ.words[:bags].endswith("Choices, mildest first: ")
    assert bags < READ.words.index("Bacillus thuringiensis kurstaki on bags")


def test_page_escapes_whatever_a_person_typed() -> None:
    def soiled(value: Any, key: str = "") -> Any:
        keep = {
            "id",
            "kind",
            "verb",
            "word",
            "method",
            "source",
            "status",
            "align",
            "schema",
            "language",
            "organism",
        }
        if isinstance(value, dict):
            return {
                name: part if name in ("figures", "methods", "sources") else soiled(part, name)
                for name, part in value.items()
            }
        if isinstance(value, list):
            return (
                value
                if key in ("cautions", "charts", "sightings") and value and isinstance(value[0], str)
                else [soiled(part, key) for part in value]
            )
        if isinstance(value, str) and key not in keep and not re.fullmatch(r"\d{4}-\d\d-\d\d", value):
            return f"{NASTY} {value}"
        return value

    html = page.render(soiled(PLAN))
    assert "<script" not in html
    assert "<b>" not in html
    assert html.count("&lt;script&gt;") > 100
    Read(html)


def test_page_unknown_figure_is_an_error_not_a_gap() -> None:
    doc = copy.deepcopy(PLAN)
    doc["summary"].append("It needs [[no.such.figure]].")
    with pytest.raises(KeyError, match=r"no\.such\.figure"):
        page.render(doc)


def test_page_of_a_bare_plan_says_that_there_is_nothing() -> None:
    bare = {
        **PLAN,
        **{
            key: []
            for key in (
                "summary",
                "tasks",
                "ahead",
                "walk",
                "organisms",
                "refusals",
                "record",
                "cautions",
                "charts",
            )
        },
        **{key: {} for key in ("figures", "methods", "sources")},
    }
    said = Read(page.render(bare)).words
    assert "Nothing needs doing before 26 May" in said
    assert "Nothing was held back" in said


def test_page_carries_the_typeface_and_does_without_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert HTML.count("data:font/woff2;base64,") == 2
    monkeypatch.setattr(page, "_FONTS", (("no-such-font.woff2", 400),))
    monkeypatch.setattr(page, "_style", page._style.__wrapped__)
    plain = page.render(PLAN)
    assert "data:font" not in plain
    assert "sans-serif" in plain


def test_page_is_the_same_for_the_same_document() -> None:
    assert page.render(PLAN) == HTML
