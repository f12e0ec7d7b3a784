"""When and how to cut a plant: by its wood and its bloom, at rest, and not while wounds spread a disease."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dooryard.care import pruning
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import OakWindow, Pruning
from dooryard.plan.document import Plan
from dooryard.plan.work.sheet import Sheet
from dooryard.problem import InputError, Problem, nearest
from dooryard.units import System
from dooryard.words import day_words, range_words


@dataclass(frozen=True)
class Known:
    """What is known of this year. bloom_ended : seen, or estimated (then bloom_from says by what).

    last_hard_freeze : middle date of spring's last one in the year of the next late winter, freeze_from where from.
    oak : the window of the state, for oaks.
    """

    bloom_ended: date | None = None
    bloom_from: str = ""
    last_hard_freeze: date | None = None
    freeze_from: str = ""
    oak: OakWindow | None = None
    renew: bool = False


def prune(knowledge: Knowledge, on: date, *, plant: str, known: Known, system: System = "us") -> Plan:
    """When one plant is cut. plant : common name. Raises InputError if nothing is on file for it."""
    sheet = Sheet(f"Cutting: {plant}", knowledge, on, system)
    sheet.caution("care.cut", "care.ladder_saw", "care.lines", "care.no_paint")
    words = plant.lower().split()
    if words and words[-1] in (pruning.OAKS, "oaks"):
        _oak(sheet, known.oak)
        _amount(sheet)
        return sheet.finish()
    row = pruning.pruning_of(knowledge, plant)
    if row is None:
        names = pruning.known_to_prune(knowledge)
        hint = (
            nearest(plant, names)
            or "If you are unsure of the kind, wait for bloom: what blooms before June is cut after it."
        )
        raise InputError(
            Problem("We have nothing on file for cutting this plant.", hint, field="--plant", found=plant)
        )
    sheet.more_sources.add(row.source)
    _when(sheet, row, known)
    sheet.part("How", row.how or "Thin it: take whole stems out at the base.", *_renewal(sheet, row, known))
    if row.avoid:
        sheet.part("Not then", _sentence(row.avoid))
    _amount(sheet)
    return sheet.finish()


def _when(sheet: Sheet, row: Pruning, known: Known) -> None:
    wood = {
        "old wood": "It blooms on last year's wood.",
        "new wood": "It blooms on this year's shoots.",
        "both": "Kinds differ: some bloom on last year's wood, some on this year's.",
    }.get(row.wood, "")
    at = "in " if row.safe.startswith(("late", "summer", "dry", "dormant")) else ""
    sheet.short.append(f"{wood} Cut it {at}{row.safe.rstrip('.')}.".strip())
    if row.status in ("from memory", "second-hand"):
        note = f"; {row.note}" if row.note else ""
        sheet.short.append(f"So the lists say ({row.status}{note}).")
    if row.time == "after bloom":
        _after_bloom(sheet, row, known)
    elif row.time == "late winter":
        _at_rest(sheet, known)


def _after_bloom(sheet: Sheet, row: Pruning, known: Known) -> None:
    if known.bloom_ended is None:
        sheet.refuse(
            "We will not name a last day",
            "When its bloom ends this year is not known",
            "Give the day with --bloom-ended, or the station's record with --weather if a bloom list has the plant",
        )
        return
    cut = pruning.cut_after_bloom(
        known.bloom_ended, round(sheet.fact("bloom.after")), row.latest, sheet.on.year
    )
    assert cut.closes is not None
    mark = sheet.book.plain(
        "prune.by",
        "last day to cut it",
        cut.closes.isoformat(),
        day_words(cut.closes),
        "care.prune_by",
        unit="date",
        inputs=(Input("bloom ends", day_words(known.bloom_ended), known.bloom_from or "given"),),
    )
    ends = "ended" if known.bloom_ended <= sheet.on else "ends"
    how = f" (estimated: {known.bloom_from})" if known.bloom_from else ""
    sheet.short.append(f"Its bloom {ends} about {day_words(known.bloom_ended)}{how}: cut it by {mark}.")
    if cut.late is not None:
        sheet.short.append(f"One list is stricter: by {day_words(cut.late)}.")
    if sheet.on > cut.closes:
        sheet.short.append("That is past. Next year's buds are set: wait until it has bloomed again.")


def _at_rest(sheet: Sheet, known: Known) -> None:
    if known.last_hard_freeze is None:
        return
    cut = pruning.cut_at_rest(known.last_hard_freeze, round(sheet.fact("prune.rest_before")))
    assert cut.opens is not None
    assert cut.closes is not None
    mark = sheet.book.plain(
        "prune.rest",
        "late winter here",
        cut.opens.isoformat(),
        range_words(cut.opens, cut.closes),
        "care.prune_rest",
        unit="date",
        high=cut.closes.isoformat(),
        inputs=(
            Input(
                "middle date of the last hard freeze", day_words(known.last_hard_freeze), known.freeze_from
            ),
        ),
    )
    sheet.short.append(f"Here that is about {mark}, before buds swell.")


def _oak(sheet: Sheet, window: OakWindow | None) -> None:
    if window is None:
        sheet.short.append(
            "Cut oaks from November to January. In spring and early summer a fresh wound can bring oak wilt."
        )
        sheet.refuse(
            "We will not name the closed weeks",
            "They differ from state to state",
            "Give --state, or north or south for elsewhere in the range of oak wilt",
        )
        return
    sheet.more_sources.add(window.source)
    span = (
        f"up to {_month_day(window.closes)}"
        if not window.opens
        else f"{_month_day(window.opens)} to {_month_day(window.closes)}"
    )
    if pruning.closed_for_oak(window, sheet.on):
        sheet.short.append(
            f"Not now. In {window.place} oaks are not cut {span}: beetles carry oak wilt to fresh wounds."
        )
        sheet.short.append(
            f"From {day_words(pruning.again_on(window, sheet.on))} on they may be; November to January is best."
        )
        sheet.refuse(
            "We will not advise cutting an oak now",
            f"In {window.place} wounds spread oak wilt {span} ({window.status})",
            window.if_wounded or "If a storm has torn it, ask an arborist today",
        )
    else:
        sheet.short.append(f"It may be cut now. In {window.place} oaks are not cut {span} ({window.status}).")
    if window.if_wounded:
        painted = any(word in window.if_wounded.lower() for word in ("paint", "cover"))
        alone = ["That is the one case in which a wound is painted."] if painted else []
        sheet.part("If it is wounded in those weeks", window.if_wounded, *alone)


def _month_day(text: str) -> str:
    month, day = text.split("-")
    return day_words(date(2001, int(month), int(day)))


def _renewal(sheet: Sheet, row: Pruning, known: Known) -> list[str]:
    if not known.renew:
        return []
    years = round(sheet.fact("prune.renew_years"))
    first = sheet.on.year
    when = "after bloom" if row.time == "after bloom" else row.time
    return [
        f"To renew an old one, each year {when} take a third of the oldest stems out at the ground: "
        f"{', '.join(str(first + year) for year in range(years))}. In the third year all its wood is young.",
        "Shrubs that grow from canes may be cut to 6 in while at rest instead, and then bloom little for one to three "
        "years. Never needled evergreens, never a plant with one trunk.",
    ]


def _amount(sheet: Sheet) -> None:
    most = sheet.fact("prune.crown_most")
    sheet.part(
        "How much",
        f"Never more than {most:.0%} of a tree's live crown in a year. Dead, broken and sick wood goes at any time.",
    )


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."
