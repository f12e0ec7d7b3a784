"""What each roof section sheds: plan area, covering, and what one inch (or 10 mm) of rain brings."""

from __future__ import annotations

from collections.abc import Collection

from dooryard.figure import Input
from dooryard.plan.document import Stop
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.water.catchment import rain_volume
from dooryard.water.uphill import uphill
from dooryard.words import list_words
from dooryard.yard.model import Roof

# The round depth people use to compare roofs, in each system of units.
ROUND_DEPTH_MM = {"us": 25.4, "metric": 10.0}


def describe(draft: Draft) -> None:
    """Add one stop of the walk for each roof section."""
    for roof in draft.yard.roofs:
        draft.walk.append(_stop(draft, roof))


def feeds_edible_bed(draft: Draft, roof: Roof) -> bool:
    """Whether water of this roof may reach a bed of vegetables or fruit."""
    crops = draft.knowledge.crops
    eaten = [bed for bed in draft.yard.beds if crops[bed.grows].kind in ("vegetable", "fruit")]
    names = {bed.name for bed in eaten}
    given = {bed.watered_from for bed in eaten} | {
        one.name for one in draft.yard.storages if one.empties_to in names
    }
    return any(
        roof in uphill(draft.yard, storage.name).roofs
        for storage in draft.yard.storages
        if storage.name in given
    )


def _stop(draft: Draft, roof: Roof) -> Stop:
    covering = draft.knowledge.coverings[roof.covering]
    depth = ROUND_DEPTH_MM[draft.yard.units]
    area = draft.book.input("plan area of the roof", roof.area_m2, "area", "the yard file")
    share = Input(
        "share that runs off",
        f"{covering.coefficient:g} ({covering.low:g} to {covering.high:g})",
        covering.source,
    )
    gives = draft.book.quantity(
        f"roof.{slug(roof.name)}.gives",
        f"what the {roof.name} sheds",
        float(rain_volume(depth, roof.area_m2, covering.coefficient)),
        "volume",
        "water.rain_volume",
        low=float(rain_volume(depth, roof.area_m2, covering.low)),
        high=float(rain_volume(depth, roof.area_m2, covering.high)),
        inputs=(area, draft.book.input("rain", depth, "depth"), share),
    )
    spoken = "One inch" if draft.yard.units == "us" else "Every 10 mm"
    shown_area = draft.book.quantity(
        f"roof.{slug(roof.name)}.area",
        f"plan area of the {roof.name}",
        roof.area_m2,
        "area",
        "yard.file",
        inputs=(area,),
    )
    sentences = [
        f"The {roof.name} covers {shown_area} of ground and drains to {spout_words(roof.downspout)}. "
        f"{spoken} of rain sends down {gives}."
    ]
    sentences += water_for_food(draft, roof)
    return Stop("roof", slug(roof.name), roof.name, tuple(sentences))


def unfit_for_food(draft: Draft, roof: Roof) -> str:
    """Why this roof's water should stay off food plants, one sentence; empty if nothing speaks against it."""
    covering = draft.knowledge.coverings[roof.covering]
    if covering.edible == "no":
        return f"The covering of the {roof.name} is {covering.name}. {covering.edible_note}"
    if roof.metals:
        return f"On the {roof.name} water runs over {list_words(roof.metals)}, and some of it washes off."
    if roof.treated:
        return f"The {roof.name} was treated against moss or algae, and some of that washes off."
    return ""


def unfit_from(draft: Draft, storage: str) -> str:
    """Why the water of this storage should stay off food plants; empty if nothing speaks against it.

    Roofs of storages whose overflow runs into it count as well: what one roof sheds mixes with all below.
    """
    reasons = (unfit_for_food(draft, roof) for roof in uphill(draft.yard, storage).roofs)
    return next((reason for reason in reasons if reason), "")


def kept_from(draft: Draft, storages: Collection[str] | None = None) -> list[str]:
    """Food beds that water of their storage should stay off, by name; `storages` : only beds of these."""
    crops = draft.knowledge.crops
    stored = {one.name for one in draft.yard.storages} if storages is None else set(storages)
    return [
        bed.name
        for bed in draft.yard.beds
        if bed.watered_from in stored
        and crops[bed.grows].kind in ("vegetable", "fruit")
        and unfit_from(draft, bed.watered_from)
    ]


def spout_words(name: str) -> str:
    """A downspout in a sentence: "the garage downspout", also where the name does not say what it is."""
    return f"the {name}" if "spout" in name else f"the {name} downspout"


def water_for_food(draft: Draft, roof: Roof) -> list[str]:
    """What to know before this roof's water comes near food plants; nothing if none are watered from it."""
    if not feeds_edible_bed(draft, roof):
        return []
    draft.caution("water.edibles")
    reason = unfit_for_food(draft, roof)
    if not reason:
        return []
    draft.caution("water.roof_treated" if roof.treated else "water.roof_edible")
    return [f"{reason} Keep this water off food plants."]
