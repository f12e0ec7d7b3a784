"""The roof survey in words: each section with the spread of its area, how it was measured, what months bring.

The water report uses this in place of the short stops of `plan.roofs`; what may not go near food plants is said
by the same sentences.
"""

from __future__ import annotations

import numpy as np

from dooryard.figure import Input
from dooryard.plan import roof_gutters, roofs
from dooryard.plan.document import Stop, Table
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.water import roof as survey
from dooryard.water.roof import Section
from dooryard.words import MONTHS, list_words
from dooryard.yard.model import Roof, RoofPart


def describe(draft: Draft) -> None:
    """Add a stop of the walk for every roof section, and after them one for every downspout."""
    rain_mm = survey.monthly_rain(draft.record)
    for roof, section in zip(draft.yard.roofs, survey.survey(draft.yard, draft.knowledge), strict=True):
        sentences = [*_size(draft, roof, section), *_water(draft, roof, section)]
        sentences += roof_gutters.gutter(draft, roof, section)
        sentences += roofs.water_for_food(draft, roof)
        table = _months(draft, section, rain_mm)
        draft.walk.append(Stop("roof", slug(roof.name), roof.name, tuple(sentences), table))
    for drain in survey.drains(draft.yard, draft.knowledge):
        if drain.sections:
            draft.walk.append(roof_gutters.downspout(draft, drain))


def _size(draft: Draft, roof: Roof, section: Section) -> list[str]:
    low, value, high = section.area_m2
    error = draft.knowledge.fact("roof.tape_error" if roof.parts else "roof.area_error")
    if roof.tape_error_m is not None:
        spread = draft.book.input("each measure may be off by", roof.tape_error_m, "length", "the yard file")
    elif roof.parts:
        spread = draft.book.input("each measure may be off by", error.value, "length", error.source)
    else:
        spread = Input("the stated area may be off by", f"{error.value:.0%}", error.source)
    area = draft.book.quantity(
        f"roof.{slug(roof.name)}.area",
        f"plan area of the {roof.name}",
        value,
        "area",
        "water.plan_area",
        low=low,
        high=high,
        inputs=(draft.book.input("area as measured", value, "area", "the yard file"), spread),
    )
    measured = list_words([_slope_words(draft, part) for part in roof.parts])
    how = f", measured as {measured}" if measured else ""
    return [
        f"The {roof.name} covers {area} of ground{how}, and drains to {roofs.spout_words(roof.downspout)}."
    ]


def _slope_words(draft: Draft, part: RoofPart) -> str:
    eave, ridge, run = (draft.book.show(m, "length") for m in (part.eave_m, part.ridge_m, part.run_m))
    if part.shape == "triangle":
        return f"a triangle {eave} wide and {run} deep"
    if part.ridge_m == part.eave_m:
        return f"a strip {eave} long and {run} deep"
    return f"a slope with an eave of {eave}, a ridge of {ridge} and {run} between them"


def _water(draft: Draft, roof: Roof, section: Section) -> list[str]:
    depth_mm = roofs.ROUND_DEPTH_MM[draft.yard.units]
    covering = draft.knowledge.coverings[roof.covering]
    low, value, high = (float(end) for end in survey.gives(section.litres_per_mm, depth_mm))
    gives = draft.book.quantity(
        f"roof.{slug(roof.name)}.gives",
        f"what the {roof.name} sheds",
        value,
        "volume",
        "water.roof_gives",
        low=low,
        high=high,
        inputs=(
            draft.book.input("plan area of the roof", section.area_m2.value, "area", "the yard file"),
            draft.book.input("rain", depth_mm, "depth"),
            Input(
                "share that runs off",
                f"{covering.coefficient:g} ({covering.low:g} to {covering.high:g})",
                covering.source,
            ),
        ),
    )
    spoken = "One inch" if draft.yard.units == "us" else "Every 10 mm"
    return [f"{spoken} of rain sends down {gives}."]


def _months(draft: Draft, section: Section, rain_mm: survey.Floats) -> Table | None:
    """What each month of a mean year brings; None unless every month was whole at least once."""
    if np.isnan(rain_mm).any():
        return None
    low, _, high = survey.gives(section.litres_per_mm, rain_mm)
    rows = tuple(
        (
            name,
            draft.book.show(float(rain_mm[month]), "depth"),
            draft.book.range_words(float(low[month]), float(high[month]), "volume"),
        )
        for month, name in enumerate(MONTHS)
    )
    return Table(
        "Mean rain of the station's whole months, and what it brings down this roof",
        (("Month", "left"), ("Rain", "right"), ("Water", "right")),
        rows,
    )
