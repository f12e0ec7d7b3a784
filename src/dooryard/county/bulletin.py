"""The week's text for a newsletter: plain, dated, under 450 words, shortened by whole items and never mid-sentence."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from dooryard.county.watch import Item, Watch, window_of
from dooryard.knowledge import Knowledge
from dooryard.plan.organism_tasks import plain_order
from dooryard.season.sentences import span_words
from dooryard.season.windows import CLOSING, NOW, SOON
from dooryard.words import day_words, list_words, range_words, sentence

MOST_WORDS = 450
LEAD = (
    "Dates differ from yard to yard: a low or shady yard is later. Look at the plant first, and treat only what you "
    "find."
)
END = (
    "The label of the material in hand is the law. Spray nothing on open flowers. If you are not sure what you see, "
    "bring a sample in a bag to the county office."
)


def text(knowledge: Knowledge, county: str, on: date, found: Watch, silent: Sequence[str] = ()) -> str:
    """The bulletin. knowledge : for looks and words. county : its name. found : what matters, most pressing first.

    silent : stations of which nothing can be said.
    """
    title = f"What to look for in {county}, {range_words(on, on + timedelta(days=6))}"
    parts = [_item(knowledge, item) for item in found.look]
    quiet = "" if parts else "Nothing in our tables opens, is open or ends this week."
    untold = f"We have no weather of these days from {list_words(tuple(silent))}." if silent else ""
    stops = [_stop(knowledge, item) for item in found.stop]
    while True:
        told = (
            "\n\n".join(
                filter(None, [title, LEAD, *parts, quiet, _stops(stops), untold, _end(knowledge, parts)])
            )
            + "\n"
        )
        if len(told.split()) <= MOST_WORDS or len(parts) <= 1:
            return told
        # What is told last is least pressing.
        if len(stops) > 1:
            stops.pop()
        else:
            parts.pop()


def _end(knowledge: Knowledge, parts: list[str]) -> str:
    """The closing words, with the limits of oil and soap if one of the parts names them."""
    named = any(word in part.lower().split() for part in parts for word in ("oil", "soap"))
    return f"{END} {knowledge.cautions['oil-soap-heat'].text}" if named else END


def _item(knowledge: Knowledge, item: Item) -> str:
    organism = knowledge.organisms[item.organism]
    name = item.name[:1].upper() + item.name[1:]
    words = {verdict.word for verdict in item.verdicts.values()}
    when = []
    for word, said in ((NOW, "now"), (CLOSING, "only a few days more")):
        if item.at(word):
            when.append(f"{said} at {list_words(item.at(word))}")
    for station in item.at(SOON):
        window = window_of(item.verdicts[station])
        if window is not None:
            when.append(f"{station} {span_words(window.opens).split(',')[0]}")
    do = organism.do_soon if words == {SOON} else organism.do_now
    return f"{name}: {'; '.join(when)}. {_first_sentence(organism.look)} {sentence(plain_order(do))}"


def _first_sentence(words: str) -> str:
    return words.split(". ")[0].rstrip(".") + "."


def _stop(knowledge: Knowledge, item: Item) -> str:
    ends = [
        window.closes.likely
        for verdict in item.verdicts.values()
        if (window := window_of(verdict)) is not None and window.closes.likely is not None
    ]
    since = f" since {day_words(max(ends))}" if ends else ""
    instead = plain_order(_first_sentence(knowledge.organisms[item.organism].do_over))
    return f"{item.name[:1].upper()}{item.name[1:]} is over{since}. {sentence(instead)}"


def _stops(stops: list[str]) -> str:
    return f"Too late to treat: {' '.join(stops)}" if stops else ""
