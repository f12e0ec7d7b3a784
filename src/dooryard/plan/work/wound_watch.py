"""When borers come to a wounded trunk: dates by heat for the borers of that tree, or what is missing for them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from dooryard.care.no_bloom import in_year
from dooryard.knowledge import Knowledge
from dooryard.plan.document import Table
from dooryard.plan.task import Task
from dooryard.plan.work.sheet import Sheet
from dooryard.season.verdicts import OrganismVerdict
from dooryard.words import day_words, range_words

# Borers of trunks; those of stalks and vines have a kind or a host of their own.
_KINDS = ("clearwing borer", "beetle borer", "trunk borer")


def borers_of(knowledge: Knowledge, tree: str) -> tuple[str, ...]:
    """Keys of the borers that live in the trunk of a kind of tree. tree : plant kind, as `names.find` gives it."""
    return tuple(key for key in knowledge.organisms_on(tree) if knowledge.organisms[key].kind in _KINDS)


def borers(sheet: Sheet, tree: str, verdicts: Sequence[OrganismVerdict], station: str) -> None:
    """When to look for borers. tree : its kind, empty if not told. verdicts : of its borers, empty without a record.

    station : whose warmth it is, empty without a record.
    """
    if not tree:
        sheet.short.append("Tell the tree with --tree and a record with --weather, and borers get dates.")
        return
    keys = borers_of(sheet.knowledge, tree)
    if not keys:
        sheet.short.append(
            f"We have no dates for a borer of {tree}. Look at the trunk once a month, May to September."
        )
        return
    names = [sheet.knowledge.organisms[key].name for key in keys]
    sheet.more_sources.update(sheet.knowledge.organisms[key].source for key in keys)
    if not station:
        sheet.refuse(
            f"We will not date the watch for {', '.join(names)}",
            "Borers come by warmth, and no record of it is given",
            "Give the station's record with --weather",
        )
        return
    rows = []
    for verdict in verdicts:
        when = _when(verdict, sheet.on)
        sheet.more_sources.update(row.stage.source for row in verdict.rows)
        rows.append((verdict.name, verdict.word, when))
        _tasks(sheet, verdict)
    sheet.part(
        "Borers to watch for",
        f"These come to {tree}, and sooner to one that is hurt. Once inside they are out of reach: keep it watered.",
        f"The dates are from the warmth at {station}; see dooryard season for each.",
        table=Table(
            "Borers of this tree",
            (("Borer", "left"), ("Today", "left"), ("Eggs and young on the bark", "left")),
            tuple(rows),
        ),
    )


def _when(verdict: OrganismVerdict, on: date) -> str:
    """This year's time if it lies ahead, and the usual one."""
    line, (usual_from, usual_to) = verdict.line, verdict.usual
    said = []
    if line.likely_from is not None and line.likely_to is not None and line.likely_to >= on:
        early = (
            f", {day_words(line.earliest)} at the earliest" if line.earliest and line.earliest >= on else ""
        )
        said.append(f"{range_words(line.likely_from, line.likely_to)}{early}")
    if usual_from is not None and usual_to is not None:
        said.append(f"usually {range_words(usual_from, usual_to)}")
    return "; ".join(said) or verdict.reason


def _tasks(sheet: Sheet, verdict: OrganismVerdict) -> None:
    """A look at the bark in this year's time, if it lies ahead, and in the usual time of the year after."""
    line, (usual_from, usual_to) = verdict.line, verdict.usual
    times = []
    if line.likely_from is not None and line.likely_to is not None and line.likely_to >= sheet.on:
        times.append((max(line.likely_from, sheet.on), line.likely_to, "By this year's warmth."))
    if usual_from is not None and usual_to is not None:
        year = sheet.on.year + 1
        basis = f"That is the usual time here, for {year}; ask again then."
        times.append((in_year(usual_from, year), in_year(usual_to, year), basis))
    for at, (first, last, basis) in enumerate(times):
        when = "" if first.year == sheet.on.year else f"in {first.year}, "
        sheet.tasks.append(
            Task(
                id=f"wound.{verdict.organism}-{at}",
                verb="Look",
                place="the trunk",
                kind="organism",
                what=f"{when}at the bark for {verdict.name}: holes, sawdust, sap or cast skins.",
                from_=first,
                to=max(first, last),
                why=f"A hurt trunk draws borers, and only on the bark are they in reach. {basis}",
                cautions=("care.borer_after",),
                organism=verdict.organism,
                if_missed="Look for sawdust at the foot of the trunk in fall, and ask an arborist if you find some.",
            )
        )
