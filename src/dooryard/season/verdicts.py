"""Is it time? One word per organism, with the reason, what to do, and when the word will change.

Each published table is summed its own way and judged by itself (`windows`); tables of the same brood are
then heard together, and what they say differently is told. A heat sum says when to look; only the pest seen
on the plant says treat, so the sentences send people to look first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from dooryard.knowledge import STATUSES, Knowledge, Organism, Stage, Window
from dooryard.problem import InputError, Problem, nearest
from dooryard.season import sentences
from dooryard.season.book import HeatBook
from dooryard.season.sighting_shift import (
    Compared,
    Shift,
    compared,
    each_once,
    moved,
    of_brood,
    opens,
    seen_on,
    shift,
)
from dooryard.season.timing import Crossing, SeasonHeat
from dooryard.season.windows import (
    CANNOT_TELL,
    CLOSING,
    NOT_HERE,
    NOW,
    OVER,
    SOON,
    TOO_EARLY,
    Moment,
    WindowVerdict,
    agreed,
    closing,
    judged,
    opening,
)
from dooryard.weather.outlook import Outlook
from dooryard.weather.record import WeatherRecord
from dooryard.words import day_words
from dooryard.yard.model import Sighting

WAITING = (TOO_EARLY, SOON, CANNOT_TELL)
"""Words that a fresh sighting of the right stage overrules."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """What we will not say, what is missing, how to get it."""

    what: str
    missing: str
    how: str


@dataclass(frozen=True, slots=True)
class RowVerdict:
    """One published number and when it is reached here: its low and, if a range is printed, its high bound.

    A calendar row has no crossings. ``note`` says what was assumed, or where its dates come from.
    """

    stage: Stage
    low: Crossing | None
    high: Crossing | None
    note: str


@dataclass(frozen=True, slots=True)
class SeasonLine:
    """The deciding brood as a line from January to December; any date may be None.

    earliest, latest : over all its tables. likely_from, likely_to : by the best attested table.
    usual_from, usual_to : the middle of this station's past years by the same table.
    """

    earliest: date | None
    likely_from: date | None
    likely_to: date | None
    latest: date | None
    usual_from: date | None
    usual_to: date | None


@dataclass(frozen=True, slots=True)
class OrganismVerdict:
    """What can be said about one organism on one day.

    organism, name, scientific : key and names. word : one of `windows.WORDS`. reason, do_now : sentences.
    rule : which rule on which window decided. deciding : that window; None if a sighting, a refusal or the want
    of a host decided. changes_on : when the word is likely to change, None if
    unknown. rows : every published number of the organism. windows : the word of each table. conflict : how
    tables differ, or None. refusal : set if the word is "cannot tell". shifts : by window, how far what was
    seen (in all years) moves its dates; the windows hold the dates as moved. compared : every
    sighting against every table.
    """

    organism: str
    name: str
    scientific: str
    word: str
    reason: str
    rule: str
    deciding: WindowVerdict | None
    do_now: str
    changes_on: date | None
    rows: tuple[RowVerdict, ...]
    windows: tuple[WindowVerdict, ...]
    conflict: str | None
    refusal: Refusal | None
    line: SeasonLine
    sightings: tuple[Sighting, ...]
    shifts: Mapping[str, Shift] = field(default_factory=dict)
    compared: tuple[Compared, ...] = ()

    @property
    def usual(self) -> tuple[date | None, date | None]:
        """When the deciding window usually opens and closes at this station."""
        return self.line.usual_from, self.line.usual_to


def judge(
    organism_key: str,
    knowledge: Knowledge,
    record: WeatherRecord,
    outlook: Outlook,
    on: date,
    sightings: Sequence[Sighting] = (),
    *,
    plant_kinds: Collection[str] | None = None,
) -> OrganismVerdict:
    """The verdict on one organism; see `judge_all`, which is quicker for several."""
    return judge_all((organism_key,), knowledge, record, outlook, on, sightings, plant_kinds=plant_kinds)[0]


def judge_all(
    organism_keys: Iterable[str],
    knowledge: Knowledge,
    record: WeatherRecord,
    outlook: Outlook,
    on: date,
    sightings: Sequence[Sighting] = (),
    *,
    plant_kinds: Collection[str] | None = None,
    heat: SeasonHeat | None = None,
) -> tuple[OrganismVerdict, ...]:
    """The verdict on each organism, each kind of heat sum worked out once.

    Parameters
    ----------
    organism_keys : iterable of str
        Keys of the organisms table.
    knowledge : Knowledge
        The tables; any row of a person's own counts as well.
    record, outlook : WeatherRecord, Outlook
        The station's days, and what may come from ``on``.
    on : date
        The day asked.
    sightings : sequence of Sighting
        What was seen in the yard up to ``on``: of this year it can open a window, of any year it shifts the
        tables' dates (see `sighting_shift`).
    plant_kinds : collection of str or None
        Kinds of plants in the yard; an organism that lives on none of them is "not here". None: any.
    heat : SeasonHeat or None
        The heat of this record, outlook and day if it was made before, to spare the work.

    Returns
    -------
    One verdict per key, in the order asked.

    Raises
    ------
    InputError
        If an organism is not known, or the record begins on or after ``on``.
    """
    keys = tuple(organism_keys)
    unknown = [key for key in keys if key not in knowledge.organisms]
    if unknown:
        raise InputError(
            Problem(
                "No organism has this key.", nearest(key, knowledge.organisms), field="organism", found=key
            )
            for key in unknown
        )
    book = HeatBook(knowledge, keys, heat or SeasonHeat(record, outlook, on))
    return tuple(
        _judge(knowledge.organisms[key], knowledge, book, on, sightings, plant_kinds) for key in keys
    )


def _judge(
    organism: Organism,
    knowledge: Knowledge,
    book: HeatBook,
    on: date,
    sightings: Sequence[Sighting],
    plant_kinds: Collection[str] | None,
) -> OrganismVerdict:
    seen = tuple(
        one
        for one in sightings
        if one.organism == organism.key and one.date.year == on.year and one.date <= on
    )
    rows = tuple(_row(stage, book) for stage in book.stages[organism.key])
    by_heat = _window_verdicts(book.windows[organism.key], knowledge, book, on)
    signs = of_brood([one.window for one in by_heat], sightings, book)
    told = {
        one.window.key: compared(one.window, signs[one.window.generation], book, knowledge) for one in by_heat
    }
    verdicts, shifts = _shifted(by_heat, told, signs, knowledge, on)
    due = _deciding_brood(by_heat)
    fresh = _fresh(
        [one for one in seen if due and one in signs[due[0].window.generation]], due, knowledge, on
    )
    brood = _deciding_brood(verdicts)
    word = agreed(one.word for one in brood) if brood else CANNOT_TELL
    best = _best(brood, knowledge, word)
    rule = f"{best.window.key}: {best.rule}" if best else "no published heat number opens a window"
    text = sentences.reason(best, brood=brood, word=word) if best and word != CANNOT_TELL else ""
    refusal: Refusal | None = None
    settled = False  # decided by something no date will change
    if not _hosted(organism.key, knowledge, plant_kinds) and not seen:
        word, rule, settled = NOT_HERE, "none of its hosts grows in this yard", True
        text = f"It lives on {organism.hosts}; none of these is in this yard."
    elif book.latitude is not None and book.latitude < 0:
        word, rule, text = CANNOT_TELL, "the station lies south of the equator", ""
        refusal = _south(organism)
    elif fresh is not None and agreed(one.word for one in due) in WAITING:
        word = word if word == CLOSING else NOW
        rule, settled = f"seen in this yard on {day_words(fresh.date, year=True)}", True
        text = f"The right stage was seen here on {day_words(fresh.date)} ({fresh.sure})."
    elif word == CANNOT_TELL:
        refusal = _refused(organism, brood, rows)
    if refusal is not None:
        text = f"{refusal.what} {refusal.missing}"
    if seen and fresh is None:
        days = ", ".join(day_words(one.date) for one in seen)
        text += f" Seen in this yard this year: {days}."
    differ = _conflict(brood, knowledge)
    return OrganismVerdict(
        organism=organism.key,
        name=organism.name,
        scientific=organism.scientific,
        word=word,
        reason=text,
        rule=rule,
        deciding=None if settled or word == CANNOT_TELL else best,
        do_now=_do(organism, word, best, differs=not settled and not _all_act(brood)),
        changes_on=_changes(brood, word, knowledge, on) if not settled or word in (NOW, CLOSING) else None,
        rows=rows,
        windows=verdicts,
        conflict=differ,
        refusal=refusal,
        line=_line(brood, best, book),
        sightings=seen,
        shifts=shifts,
        compared=tuple(one for seen_by in told.values() for one in seen_by),
    )


def _shifted(
    by_heat: Sequence[WindowVerdict],
    told: Mapping[str, Sequence[Compared]],
    signs: Mapping[int, Sequence[Sighting]],
    knowledge: Knowledge,
    on: date,
) -> tuple[tuple[WindowVerdict, ...], Mapping[str, Shift]]:
    """Each window with its dates moved by what was seen, and the shifts by window.

    A brood's sightings shift its later broods as well. What was surely seen to open this year opened that day.
    """
    found: list[WindowVerdict] = []
    shifts: dict[str, Shift] = {}
    soon_d, closing_d = (knowledge.fact(f"season.{name}").value for name in ("soon", "closing"))
    for one in by_heat:
        earlier = [
            seen
            for other in by_heat
            if other.window.generation < one.window.generation
            for seen in told[other.window.key]
        ]
        like = [*told[one.window.key], *each_once(earlier)]
        by = shift(like, knowledge)
        if by is None:
            found.append(one)
            continue
        shifts[one.window.key] = by
        days = max((seen.expected - date(seen.expected.year, 1, 1)).days for seen in by.compared)
        since = date(on.year, 1, 1) + timedelta(days=days)

        def later(moment: Moment, limit: date, by: Shift = by, since: date = since) -> Moment:
            after_d = 0 if moment.likely is None else (moment.likely - since).days
            return moved(moment, by, limit, knowledge, after_d=after_d)

        begun = [
            seen.date
            for seen in signs[one.window.generation]
            if seen.date.year == on.year
            and seen.date <= on
            and seen.sure != "unsure"
            and opens(one.window, seen)
        ]
        opened = seen_on(min(begun)) if begun else later(one.opens, on)
        closes = later(one.closes, on - timedelta(days=1))
        found.append(judged(one.window, opened, closes, on, soon_d=soon_d, closing_d=closing_d))
    return tuple(found), shifts


def _all_act(brood: Sequence[WindowVerdict]) -> bool:
    """Whether the tables say one word, or all say that the window is open."""
    words = {one.word for one in brood}
    return len(words) < 2 or words <= {NOW, CLOSING}


def _row(stage: Stage, book: HeatBook) -> RowVerdict:
    return RowVerdict(
        stage,
        book.crossings.get((stage.key, "low")),
        book.crossings.get((stage.key, "high")),
        sentences.row_note(stage),
    )


def _window_verdicts(
    windows: Sequence[Window], knowledge: Knowledge, book: HeatBook, on: date
) -> tuple[WindowVerdict, ...]:
    soon_d, closing_d = (knowledge.fact(f"season.{name}").value for name in ("soon", "closing"))
    return tuple(
        judged(
            window,
            opening(book.at(window.opens, window.open_at), window.open_lag_d, on),
            closing(book.at(window.closes, window.close_at), window.close_lag_d, on),
            on,
            soon_d=soon_d,
            closing_d=closing_d,
        )
        for window in windows
    )


def _deciding_brood(verdicts: Sequence[WindowVerdict]) -> tuple[WindowVerdict, ...]:
    """The windows of the first brood that is not over (nor out of reach); of the last one if all are."""
    broods: dict[int, list[WindowVerdict]] = defaultdict(list)
    for one in verdicts:
        broods[one.window.generation].append(one)
    last: tuple[WindowVerdict, ...] = ()
    for generation in sorted(broods):
        words = agreed(one.word for one in broods[generation])
        if words not in (OVER, NOT_HERE):
            return tuple(broods[generation])
        if words == OVER or not last:
            last = tuple(broods[generation])
    return last


def _best(brood: Sequence[WindowVerdict], knowledge: Knowledge, word: str) -> WindowVerdict | None:
    """The best attested table among those that say the word, else among those still open if the word says so, else
    among all that can tell."""
    beside = {NOW: CLOSING, CLOSING: NOW}.get(word)
    said = [one for one in brood if one.word == word] or [one for one in brood if one.word == beside]
    ranked = said or [one for one in brood if one.word != CANNOT_TELL] or list(brood)
    return min(
        ranked, key=lambda one: STATUSES.index(knowledge.stages[one.window.opens].status), default=None
    )


def _hosted(organism: str, knowledge: Knowledge, plant_kinds: Collection[str] | None) -> bool:
    return plant_kinds is None or any(organism in knowledge.organisms_on(kind) for kind in plant_kinds)


def _fresh(
    seen: Sequence[Sighting], brood: Sequence[WindowVerdict], knowledge: Knowledge, on: date
) -> Sighting | None:
    """The latest sighting that is recent, not unsure, and of a sign that opens one of these windows."""
    limit = on - timedelta(days=knowledge.fact("season.sighting_fresh").value)
    signs = {sign.lower() for one in brood for sign in one.window.signs}
    found = [
        one
        for one in seen
        if one.date >= limit
        and one.sure != "unsure"
        and one.sign is not None
        and any(sign in one.sign.lower() for sign in signs)
    ]
    return max(found, key=lambda one: one.date, default=None)


def _refused(organism: Organism, brood: Sequence[WindowVerdict], rows: Sequence[RowVerdict]) -> Refusal:
    what = f"We cannot say whether it is time for {organism.name}."
    gaps = list(dict.fromkeys(one.opens.refused for one in brood if one.opens.refused is not None))
    if not brood:
        places = ", ".join(dict.fromkeys(row.stage.place for row in rows if row.stage.kind == "calendar"))
        events = list(dict.fromkeys(row.stage.start for row in rows if row.stage.kind == "event"))
        if events:
            missing = (
                f"The published heat sums start from {' or '.join(events)}, which no weather record shows."
            )
            return Refusal(what, missing, "Watch for it and note the date: the sum starts on that day.")
        if places:
            missing = f"Only dates from {places} are published."
        elif rows:
            missing = "The published numbers do not say when something can be done."
        else:
            missing = "No timing number is published."
        return Refusal(what, missing, "Look on the plant, or hang a trap, and note the date you see it.")
    if gaps:
        return Refusal(
            what, gaps[0], "Get the missing days from the station, or use a station without the gap."
        )
    return Refusal(
        what, "The tables are too far apart about today.", "Look on the plant; what you find decides."
    )


def _south(organism: Organism) -> Refusal:
    return Refusal(
        f"We cannot say whether it is time for {organism.name}.",
        "The tables were made north of the equator, with sums from the northern winter.",
        "Ask the local office for its own table.",
    )


def _conflict(brood: Sequence[WindowVerdict], knowledge: Knowledge) -> str | None:
    days = sorted(one.opens.likely for one in brood if one.opens.likely is not None)
    apart = (days[-1] - days[0]).days if days else 0
    if len({one.word for one in brood}) < 2 and apart < knowledge.fact("season.tables_apart").value:
        return None
    return sentences.conflict(
        brood,
        [knowledge.stages[one.window.opens] for one in brood],
        [knowledge.stages[one.window.closes] for one in brood],
    )


def _do(organism: Organism, word: str, best: WindowVerdict | None, *, differs: bool) -> str:
    if word == NOT_HERE:
        return "Wait. Nothing needs doing for it."
    asks = organism.do_now.startswith("Ask")
    if word == CANNOT_TELL or (differs and word in (SOON, NOW, CLOSING) and not asks):
        return sentences.look_first(organism)
    if word == CLOSING and best is not None and best.closes.likely is not None:
        return f"{organism.do_now} The time likely ends on {day_words(best.closes.likely)}."
    return {
        TOO_EARLY: organism.do_early,
        SOON: organism.do_soon,
        NOW: organism.do_now,
        CLOSING: organism.do_now,
        OVER: organism.do_over,
    }[word]


def _changes(brood: Sequence[WindowVerdict], word: str, knowledge: Knowledge, on: date) -> date | None:
    """The first day on which the tables together are likely to say another word; never today or before."""
    soon_d, closing_d = (knowledge.fact(f"season.{name}").value for name in ("soon", "closing"))
    turns = set()
    for one in brood:
        if one.opens.likely is not None:
            turns |= {one.opens.likely - timedelta(days=soon_d), one.opens.likely}
        if one.closes.likely is not None:
            turns |= {one.closes.likely - timedelta(days=closing_d), one.closes.likely + timedelta(days=1)}
    for day in sorted(turns):
        if day > on and agreed(_word_then(one, day, soon_d, closing_d) for one in brood) != word:
            return day
    # Nothing is ahead this year: sums begin anew.
    return date(on.year + 1, 1, 1) if any(one.word in (OVER, NOT_HERE) for one in brood) else None


def _word_then(one: WindowVerdict, day: date, soon_d: float, closing_d: float) -> str:
    """What a table will say on a day to come if everything falls on its likely day."""
    opens, closes = one.opens.likely, one.closes.likely
    if one.word in (OVER, NOT_HERE, CANNOT_TELL):
        return one.word
    if closes is not None and day > closes:
        return OVER
    if opens is None or day < opens:
        soon = opens is not None and (opens - day).days <= soon_d
        return SOON if soon else TOO_EARLY
    return CLOSING if closes is not None and (closes - day).days <= closing_d else NOW


def _line(brood: Sequence[WindowVerdict], best: WindowVerdict | None, book: HeatBook) -> SeasonLine:
    if best is None:
        return SeasonLine(None, None, None, None, None, None)
    early = [one.opens.earliest for one in brood if one.opens.earliest is not None]
    late = [one.closes.latest for one in brood if one.closes.latest is not None]
    window = best.window
    return SeasonLine(
        earliest=min(early, default=None),
        likely_from=best.opens.likely,
        likely_to=best.closes.likely,
        latest=max(late, default=None),
        usual_from=book.usual(window.opens, window.open_at, window.open_lag_d),
        usual_to=book.usual(window.closes, window.close_at, window.close_lag_d),
    )
