"""Torn bark on a trunk: how much is lost, what that usually means, what to do today, what to watch."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from dooryard.care.wound import Wound, share_lost
from dooryard.figure import Input
from dooryard.knowledge import Knowledge
from dooryard.knowledge.care_rows import WoundClass
from dooryard.plan.document import Plan
from dooryard.plan.task import Task
from dooryard.plan.work import wound_watch
from dooryard.plan.work.sheet import Sheet
from dooryard.season.verdicts import OrganismVerdict
from dooryard.units import System

_OAK = (
    "One exception: cover a fresh wound of an oak at once with paint, in the months when oak wilt spreads. "
    "dooryard work prune --plant oak --state ... tells them."
)


def wounds(
    knowledge: Knowledge,
    on: date,
    *,
    girth_m: float,
    found: Sequence[Wound],
    fresh: bool | None,
    tree: str = "",
    borers: Sequence[OrganismVerdict] = (),
    station: str = "",
    system: System = "us",
) -> Plan:
    """What torn bark means. girth_m : at the wounds [m]. found : the bare places. fresh : hours old and still moist.

    tree : its kind, for the borers that come to it; empty if not told. borers : their verdicts at the station that day;
    empty without a record. station : whose record it is.
    """
    sheet = Sheet("Torn bark", knowledge, on, system)
    share = share_lost(girth_m, found)
    tape_m = sheet.fact("wound.tape")
    low = share_lost(girth_m + tape_m, [_shifted(one, -tape_m / 2) for one in found])
    high = share_lost(girth_m, [_shifted(one, tape_m / 2) for one in found])
    listed = " and ".join(_width(sheet, one.width_m) for one in found)
    mark = sheet.book.plain(
        "wound.share",
        "share of the circumference without bark",
        share,
        f"{share:.0%}" if share in (0.0, 1.0) else f"{100 * share:.1f} %",
        "care.girdled",
        exact=f"{100 * share:.2f} %",
        inputs=(
            sheet.book.input("girth at the wounds", girth_m, "length", "given"),
            Input("bare along the girth", listed, "given"),
        ),
        low=low,
        high=high,
    )
    meaning = _class(knowledge, share)
    sheet.more_sources.add(meaning.source)
    sheet.short.append(f"{mark} of the bark around the trunk is gone: {meaning.words}.")
    sheet.short.append(f"{meaning.follows} {_sure(meaning.status)}")
    sheet.short.append(meaning.then)
    if {_class(knowledge, end).key for end in (low, high)} != {meaning.key}:
        sheet.short.append(
            "A quarter inch on the tape would change the class. Measure once more, at the widest place."
            if system == "us"
            else "Half a centimetre on the tape would change the class. Measure once more, at the widest place."
        )
    if len(found) > 1 and all(one.start_m is None for one in found):
        sheet.short.append(
            "The bare places are counted as lying side by side. Where they overlap less is lost."
        )
    _today(sheet, fresh)
    _watch(sheet)
    wound_watch.borers(sheet, tree, borers, station)
    sheet.part(
        "What not to do",
        "No paint, tar, cement or foam, no wrapping that holds water, no cutting into sound wood.",
        "No fertilizer this year.",
        *([_OAK] if not tree or "oak" in tree.split() else []),
    )
    sheet.caution("care.no_paint", "care.no_feed", "care.borer_after", "care.hazard_tree")
    return sheet.finish()


def _class(knowledge: Knowledge, share: float) -> WoundClass:
    """The class of a share of bark lost: the first whose upper end it does not pass."""
    classes = tuple(knowledge.wounds.values())
    # A quarter itself is no longer less than a quarter; a half still lies between.
    if share < classes[0].share_to:
        return classes[0]
    return next((one for one in classes[1:] if share <= one.share_to), classes[-1])


def _shifted(one: Wound, by_m: float) -> Wound:
    return Wound(max(one.width_m + by_m, 1e-4), one.start_m)


def _sure(status: str) -> str:
    return "A university leaflet says so." if status == "seen" else "That is a rule of thumb, from memory."


def _width(sheet: Sheet, width_m: float) -> str:
    return sheet.book.exact(width_m, "length")


def _today(sheet: Sheet, fresh: bool | None) -> None:
    back = "Press the loose bark back where it was, tack or tie it, shade it, and keep it moist."
    trim = (
        "Cut away only loose dead bark, back to where it is sound and tight, with a sharp knife and rounded ends. "
        "Cut no deeper."
    )
    if fresh is None:
        said = [
            f"If it was torn off within hours and is still moist: {back[0].lower()}{back[1:]}",
            f"If it is older: {trim[0].lower()}{trim[1:]}",
        ]
    else:
        said = [back] if fresh else [trim]
    sheet.part(
        "What to do today",
        *said,
        "Lay a ring of mulch, 2 to 3 in deep and 6 in clear of the bark, so that no mower or trimmer comes near again.",
        "Water in dry weeks.",
    )


def _watch(sheet: Sheet) -> None:
    """Looks at the crown and the trunk in the coming seasons."""
    years = round(sheet.fact("wound.watch_years"))
    first = sheet.on + timedelta(days=28)
    sheet.tasks.append(
        Task(
            id="wound.look",
            verb="Look",
            place="the trunk",
            kind="organism",
            what="at the edge of the wound: does new bark form, is the wood sound, are there holes or sawdust?",
            from_=first,
            to=first + timedelta(days=14),
            best=None,
            why="New bark shows within weeks while the tree grows. Borers come to trees under stress.",
            cautions=("care.borer_after",),
            if_missed=f"Look in each of the next {years} seasons, when leaves are out.",
        )
    )
