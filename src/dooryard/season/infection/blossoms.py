"""What the days since the first open blossom meant for fire blight of apple and pear, in plain words."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError, Problem
from dooryard.season.infection.fire_blight import blossom_days
from dooryard.season.infection.fortnight import Days, Meant
from dooryard.words import day_words, list_words

LONGEST_BLOOM_D = 45
"""Days after the first blossom beyond which no apple or pear is still in bloom (our limit)."""


def checked(bloom: date, on: date) -> int:
    """How many days lie between the first open blossom and the day asked.

    Raises InputError if the blossom opens on or after `on`, or opened so long ago that none can be open.
    """
    since = (on - bloom).days
    if since <= 0:
        what, instead = "No blossom was open before the day asked.", f"Name a day before {on.isoformat()}."
    elif since > LONGEST_BLOOM_D:
        what = f"Blossoms that opened {since} days ago have fallen, and fire blight enters open ones."
        instead = "Leave --bloom out, and look for shoots that turn black and bend over."
    else:
        return since
    raise InputError(Problem(what, instead, field="--bloom", found=bloom.isoformat()))


def fire_blight(days: Days, knowledge: Knowledge, bloom: date) -> Meant:
    """Whether open blossoms may have been infected since the first of them opened.

    Parameters
    ----------
    days : Days
        Reaching back to `bloom`, with its ``heat_ch``; the mean of a day is taken as the middle of its two
        temperatures.
    knowledge : Knowledge
        The facts ``fire_blight.…``.
    bloom : date
        The day the first blossoms opened.

    Returns
    -------
    Meant
        ``value`` is the share of the heat needed [1]; "cannot tell" if nothing is known of any of these days.
    """
    disease, method, first = "fire blight", "season.fire_blight", "disease.fire_blight"
    needed = knowledge.fact("fire_blight.needed")
    count = (days.last - bloom).days + 1
    if days.heat_ch is None or count > days.heat_ch.size or np.isnan(days.heat_ch[-count:]).all():
        nothing = f"For {disease} we cannot tell: nothing is known of the days since {day_words(bloom)}."
        return Meant(disease, "cannot tell", float("nan"), "share", method, needed.status, first, (nothing,))
    heat, wet_h = days.heat_ch[-count:], days.wet_h[-count:]
    wetted = wet_h > 0 if days.rained is None else (wet_h > 0) | days.rained[-count:]
    found = blossom_days(
        heat,
        wetted,
        (days.t_min_c[-count:] + days.t_max_c[-count:]) / 2,
        needed_ch=needed.value,
        least_mean_c=knowledge.fact("fire_blight.least_mean").value,
    )
    share = float(found.share[-1])
    risky = [bloom + timedelta(days=int(i)) for i in np.flatnonzero(found.risk)]
    if risky:
        told = list_words([day_words(day) for day in risky[-3:]])
        told = f"the last of them {told}" if len(risky) > 3 else told
        noun = "1 day" if len(risky) == 1 else f"{len(risky)} days"
        said = [
            f"On {noun} since {day_words(bloom)} open blossoms may have been infected: {told}. It had been warm enough "
            "since bloom, and the day was wet and warm."
        ]
    elif share >= 1:
        said = [
            f"Since {day_words(bloom)} it has been warm enough for {disease}, but no warm day since then wetted the "
            "blossoms. The next rain or heavy dew on a warm day can bring it."
        ]
    else:
        said = [
            f"The warmth since {day_words(bloom)} is {share:.0%} of what {disease} needs, so open blossoms were hardly "
            "infected."
        ]
    said.append("That counts only for blossoms that are open. A laboratory can confirm it.")
    unknown = int((np.isnan(heat) | np.isnan(wet_h)).sum())
    if unknown:
        gone = "1 day" if unknown == 1 else f"{unknown} days"
        said.append(f"Of {gone} not all is known, so there may have been more.")
    word = "favoured" if risky else "not favoured"
    return Meant(disease, word, share, "share", method, needed.status, first, tuple(said))
