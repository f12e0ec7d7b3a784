"""The calendar file as other programs read it: days, alarms, folding, entries that move but never double."""

from __future__ import annotations

import copy
import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import recurring_ical_events
from icalendar import Calendar

from dooryard.letter import calendar

DOC: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "plan.json").read_text(encoding="utf-8")
)
STAMP = datetime(2031, 5, 20, 6, 30, tzinfo=UTC)


def task(**changes: Any) -> dict[str, Any]:
    found = {
        "id": "water.tomato-bed",
        "verb": "Do",
        "place": "tomato bed",
        "kind": "water",
        "what": "Water the tomato bed.",
        "from": "2031-06-06",
        "to": "2031-06-08",
        "best": "2031-06-07",
        "why": "It is dry.",
        "cautions": [],
        "if_missed": "",
    }
    return {**found, **changes}


def events(doc: dict[str, Any]) -> list[Any]:
    return list(Calendar.from_ical(calendar.render(doc, stamp=STAMP)).walk("VEVENT"))


def only(**changes: Any) -> Any:
    (event,) = events({**DOC, "tasks": [task(**changes)], "ahead": []})
    return event


def test_calendar_event_covers_first_to_last_day() -> None:
    event = only()
    assert event["DTSTART"].dt == date(2031, 6, 6)
    assert event["DTEND"].dt == date(2031, 6, 9)
    assert not isinstance(event["DTSTART"].dt, datetime)
    assert event["TRANSP"] == "TRANSPARENT"


def test_calendar_entry_is_shown_on_its_days_and_no_other() -> None:
    file = Calendar.from_ical(calendar.render({**DOC, "tasks": [task()], "ahead": []}, stamp=STAMP))
    shown = [day for day in range(4, 12) if recurring_ical_events.of(file).at(date(2031, 6, day))]
    assert shown == [6, 7, 8]


def test_calendar_holds_every_task_once() -> None:
    found = events(DOC)
    assert len(found) == len(DOC["tasks"]) + len(DOC["ahead"])
    assert len({str(event["UID"]) for event in found}) == len(found)


def test_calendar_summary_begins_with_the_verb() -> None:
    assert only()["SUMMARY"] == "Do: water the tomato bed"
    looked = only(verb="Look", kind="organism", what="Look for sawdust on the lilac.", place="lilac")
    assert looked["SUMMARY"] == "Look for sawdust on the lilac"


def test_calendar_summary_is_the_first_sentence_and_the_description_has_all() -> None:
    event = only(what="Feel the soil. If it is dry, give [[bed.tomatoes.amount]].")
    assert event["SUMMARY"] == "Do: feel the soil (watering, tomato bed)"
    assert "Do: feel the soil. If it is dry, give about 25 gal." in str(event["DESCRIPTION"])


def test_calendar_description_says_what_why_caution_and_if_missed() -> None:
    text = str(only(cautions=["water.edible"], if_missed="The fruit splits.")["DESCRIPTION"])
    assert "Do: water the tomato bed." in text
    assert "When: 6 to 8 June, best on 7." in text
    assert "Why: It is dry." in text
    assert "Caution: On vegetables, water the soil" in text
    assert "If missed: The fruit splits." in text


def test_calendar_figures_are_spelled() -> None:
    text = calendar.render(DOC, stamp=STAMP).decode()
    assert "[[" not in text
    assert "about 25 gal" in text.replace("\r\n ", "")


@pytest.mark.parametrize(("best", "day"), [("2031-06-07", 6), (None, 5)])
def test_calendar_alarm_rings_the_evening_before_the_best_day(best: str | None, day: int) -> None:
    event = only(best=best)
    (alarm,) = event.walk("VALARM")
    midnight = datetime(2031, 6, 6)
    assert midnight + alarm["TRIGGER"].dt == datetime(2031, 6, day, 18)


@pytest.mark.parametrize(("best", "day"), [("2031-06-06", 6), (None, 6), ("2031-06-07", 6)])
def test_calendar_alarm_never_rings_before_the_plan_was_made(best: str | None, day: int) -> None:
    doc = {**DOC, "on": "2031-06-06", "tasks": [task(best=best)], "ahead": []}
    (event,) = events(doc)
    (alarm,) = event.walk("VALARM")
    rings = datetime(2031, 6, 6) + alarm["TRIGGER"].dt
    # On its own day in the morning, a later one on its eve.
    assert rings == datetime(2031, 6, day, 18 if best == "2031-06-07" else 8)


@pytest.mark.parametrize(
    ("verb", "last", "rings"),
    [
        ("Do", "2031-06-30", True),
        ("Ask", "2031-06-30", True),
        ("Look", "2031-06-08", True),
        ("Look", "2031-06-09", False),
        ("Wait", "2031-06-06", False),
    ],
)
def test_calendar_what_cannot_wait_rings(verb: str, last: str, rings: bool) -> None:
    assert len(only(verb=verb, to=last).walk("VALARM")) == rings


@pytest.mark.parametrize(
    ("what", "place", "name"),
    [
        (
            "Look into the back barrel for wrigglers and see that every screen lies tight, every 7 days.",
            "back barrel",
            "Look into the back barrel for wrigglers",
        ),
        (
            "Look closely and slowly at the undersides of young twigs with a lens, in good morning light.",
            "front magnolia",
            "Look closely and slowly at the undersides of young twigs with a lens (front magnolia)",
        ),
        ("Look at " + "x" * 80 + ".", "bed", "Look at " + "x" * 80 + " (bed)"),
        ("Look at the bed and then at the barrel.", "bed", "Look at the bed and then at the barrel"),
        (
            "Look over the old peach and the peach bed every few days for peachtree borer, at the foot of it.",
            "old peach and peach bed",
            "Look over the old peach and the peach bed every few days for peachtree borer",
        ),
    ],
)
def test_calendar_long_order_is_cut_where_a_clause_ends_and_names_its_place(
    what: str, place: str, name: str
) -> None:
    event = only(verb="Look", kind="upkeep", what=what, place=place)
    assert event["SUMMARY"] == name
    assert what in str(event["DESCRIPTION"])


def test_calendar_name_says_in_brackets_what_the_order_leaves_out() -> None:
    asked = only(
        verb="Ask", kind="organism", what="Ask a licensed applicator.", organism="bagworm", place="hedge"
    )
    assert asked["SUMMARY"] == "Ask a licensed applicator (bagworm, hedge)"
    felt = only(what="Feel the soil of the tomato bed.")
    assert felt["SUMMARY"] == "Do: feel the soil of the tomato bed (watering)"
    assert only(what="Water the tomato bed.")["SUMMARY"] == "Do: water the tomato bed"


def test_calendar_description_says_where_and_the_choices() -> None:
    organism = next(organism for organism in DOC["organisms"] if organism.get("choices"))
    lines = str(only(organism=organism["id"])["DESCRIPTION"]).split("\n")
    assert lines[1] == "Where: tomato bed, Household 12."
    at = lines.index("Choices, mildest first:")
    assert lines[at + 1] == "1. Pick off the bags by hand (September to May)."
    assert lines[at + 2].startswith("2. Bacillus")
    assert "Choices, mildest first:" not in str(only()["DESCRIPTION"])


def test_calendar_made_again_with_other_dates_moves_the_entry() -> None:
    later = copy.deepcopy(DOC)
    for entry in [*later["tasks"], *later["ahead"]]:
        for key in ("from", "to", "best"):
            if entry[key]:
                entry[key] = (date.fromisoformat(entry[key]) + timedelta(days=3)).isoformat()
        entry["what"] = f"{entry['what']} Again."
    assert [event["UID"] for event in events(later)] == [event["UID"] for event in events(DOC)]


def test_calendar_other_yard_or_year_has_other_uids() -> None:
    ours = str(only()["UID"])
    next_year = only(**{"from": "2032-06-06", "to": "2032-06-08", "best": None})
    (elsewhere,) = events({**DOC, "yard": {"name": "Household 13"}, "tasks": [task()], "ahead": []})
    assert len({ours, str(next_year["UID"]), str(elsewhere["UID"])}) == 3


def test_calendar_two_tasks_without_id_at_one_place_stay_two() -> None:
    twins = [task(id=None), task(id=None, what="Water it again.")]
    assert len({str(event["UID"]) for event in events({**DOC, "tasks": twins, "ahead": []})}) == 2


def test_calendar_same_input_gives_the_same_bytes() -> None:
    assert calendar.render(DOC, stamp=STAMP) == calendar.render(copy.deepcopy(DOC), stamp=STAMP)


def test_calendar_stamp_is_the_one_given() -> None:
    assert only()["DTSTAMP"].dt == STAMP


def test_calendar_stamp_without_a_time_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        calendar.render(DOC, stamp=datetime(2031, 5, 20))


def test_calendar_lines_are_folded_at_75_octets_and_end_in_crlf() -> None:
    doc = {
        **DOC,
        "tasks": [task(what="Riega el bancal número ½ de Peña: " + "añádele agua, ñ; " * 20)],
        "ahead": [],
    }
    file = calendar.render(doc, stamp=STAMP)
    lines = file.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)
    # Folding must not cut a letter of two octets: every line decodes alone (RFC 5545, 3.1 allows more).
    (event,) = Calendar.from_ical(file).walk("VEVENT")
    assert str(event["SUMMARY"]).startswith("Do: riega el bancal número ½ de Peña: añádele agua, ñ; añádele")


def test_calendar_signs_of_the_format_survive() -> None:
    event = only(place="Bed; north, \\ side", what='Water "it"; then, rest\nBEGIN:VEVENT')
    assert event["LOCATION"] == "Bed; north, \\ side, Household 12"
    assert event["SUMMARY"] == 'Do: water "it"; then, rest BEGIN:VEVENT (Bed; north, \\ side)'
    assert str(event["DTSTART"].to_ical(), "ascii") == "20310606"


def test_calendar_control_signs_are_dropped() -> None:
    assert b"\x07" not in calendar.render({**DOC, "tasks": [task(place="bed\x07")], "ahead": []}, stamp=STAMP)
