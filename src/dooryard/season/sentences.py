"""The sentences of a verdict: short, dated, in the order answer, reason, what to do."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from dooryard.knowledge import Organism, Stage
from dooryard.season.heat import NOT_STATED
from dooryard.season.windows import CANNOT_TELL, CLOSING, NOW, OVER, SOON, TOO_EARLY, Moment, WindowVerdict
from dooryard.words import MONTHS, dates_words, day_words, list_words


def month_day_words(month_day: str) -> str:
    """1 March, from the "03-01" of a table."""
    month, day = month_day.split("-")
    return f"{int(day)} {MONTHS[int(month) - 1]}"


def span_words(moment: Moment) -> str:
    """6 to 8 June, most likely 7; without a likely day, the days it lies between."""
    return dates_words(moment.earliest, moment.likely, moment.latest)


def reason(
    one: WindowVerdict,
    opens: str = "",
    closes: str = "",
    *,
    brood: Sequence[WindowVerdict] = (),
    word: str = "",
) -> str:
    """Why the window's word holds today.

    opens, closes : how its two ends are said; `span_words` of them if not given. brood, word : the windows heard
    together and the word they allow. If that is not this window's own word, the others' words are told as well.
    """
    said = _reason(one, opens, closes)
    others: dict[str, dict[str, None]] = {}
    for other in brood:
        if other.word not in (one.word, CANNOT_TELL):
            others.setdefault(other.word, {})[other.window.place] = None
    if word in ("", one.word) or not others:
        return said
    told = "; ".join(
        f"that from {list_words(tuple(places))} says {other}" for other, places in others.items()
    )
    return f"The tables differ. By that from {one.window.place} {said[:1].lower()}{said[1:-1]}; {told}."


def _reason(one: WindowVerdict, opens: str, closes: str) -> str:
    name, opens, closes = one.window.name, opens or span_words(one.opens), closes or span_words(one.closes)
    if one.word in (TOO_EARLY, SOON):
        return f"The time for {name} is likely to begin {_about(one.opens)}{opens}."
    if one.word in (NOW, CLOSING):
        return f"The time for {name} began {opens} and is likely to end {_about(one.closes)}{closes}."
    if one.word == OVER:
        return f"The time for {name} ended {closes}."
    return f"Nine of ten past years would not bring enough heat for {name} before this year ends."


def _about(moment: Moment) -> str:
    """ "about " before a single day ahead: counted on in days, or held by a forecast, it is no surer than a range."""
    return "about " if moment.likely is not None and moment.earliest == moment.latest else ""


def conflict(
    verdicts: Sequence[WindowVerdict], stages: Sequence[Stage], closing_stages: Sequence[Stage]
) -> str:
    """How the tables differ: the two furthest apart about its beginning, or its end, and what each says
    today.

    verdicts, stages, closing_stages : the windows of one brood, and the rows each opens and closes with.
    """
    pairs = list(zip(verdicts, stages, closing_stages, strict=True))
    opens = [(v.opens.likely, _by(stage, v.window.open_at)) for v, stage, _ in pairs if v.opens.likely]
    closes = [(v.closes.likely, _by(stage, v.window.close_at)) for v, _, stage in pairs if v.closes.likely]
    text = "The tables differ."
    begin, end = _extremes(opens), _extremes(closes)
    if begin is not None and (end is None or _apart(begin) >= _apart(end)):
        text += f" {_two('begins', begin)}"
    elif end is not None:
        text += f" {_two('ends', end)}"
    sayers: dict[str, dict[str, None]] = {}
    for one, stage, _ in pairs:
        sayers.setdefault(one.word, {})[stage.place] = None
    if len(sayers) == 1:
        return f"{text} About today they agree."
    said = "; ".join(f"{word} ({', '.join(who)})" for word, who in sayers.items())
    return f"{text} About today they say: {said}."


Dated = tuple[date, str]


def _extremes(dated: Sequence[Dated]) -> tuple[Dated, Dated] | None:
    """The earliest and the latest, if they are two days."""
    if not dated:
        return None
    pair = min(dated), max(dated)
    return pair if pair[0][0] != pair[1][0] else None


def _apart(pair: tuple[Dated, Dated]) -> int:
    return (pair[1][0] - pair[0][0]).days


def _two(verb: str, pair: tuple[Dated, Dated]) -> str:
    (first, by_first), (last, by_last) = pair
    return (
        f"By the table from {by_first} it {verb} {day_words(first)}, "
        f"by that from {by_last} {day_words(last)}."
    )


def _by(stage: Stage, bound: str) -> str:
    """A table by its place and number, as printed."""
    number = stage.dd_high if bound == "high" and stage.dd_high is not None else stage.dd_low
    return f"{stage.place} ({number:g} degree-days above {stage.base:g} °{stage.unit})"


def row_note(stage: Stage) -> str:
    """What a reader must know about one published number."""
    if stage.kind == "calendar":
        return f"Dates from {stage.place}, not yours."
    if stage.kind == "event":
        return f"Summed from {stage.start}, which you must see yourself."
    notes = []
    if stage.start == NOT_STATED:
        notes.append(f"The table does not state its start; summed from {month_day_words(stage.start_used)}.")
    if stage.method == NOT_STATED:
        notes.append("The table does not state its method; the plain mean is used.")
    return " ".join(notes)


def look_first(organism: Organism) -> str:
    """What to do when the numbers cannot decide."""
    return f"Look on the plant itself. {organism.look} Treat only if you find {organism.treatable}."
