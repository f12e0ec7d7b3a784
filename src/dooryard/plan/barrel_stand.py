"""What a full storage weighs, what the ground bears, and how little tips it full or empty."""

from __future__ import annotations

from math import pi

from dooryard.figure import Input
from dooryard.plan.document import Refusal
from dooryard.plan.draft import Draft
from dooryard.plan.figures import slug
from dooryard.plan.task import Task
from dooryard.water.stand import TOGETHER, Stability, bearing_pressure, stability, water_mass, weight
from dooryard.yard.model import Storage

_TAPE_M = 0.01  # a tape tells no smaller difference between a barrel and its stand
PSF_PER_KPA = 20.885434  # 1 lb per sq ft is 0.04788026 kPa


def sentences(draft: Draft, storage: Storage) -> list[str]:
    """Weight, pressure on the ground and stability of one storage, with the cautions that follow."""
    draft.caution("water.weight", "water.empty_barrel", "water.level_base")
    empty_kg, empty_input = empty_mass(draft, storage)
    # A blocked overflow lets it fill to the rim.
    full_kg = float(water_mass(storage.volume_l)) + empty_kg
    key = f"storage.{slug(storage.name)}"
    mass = draft.book.quantity(
        f"{key}.mass",
        f"weight of the {storage.name} when brim full",
        full_kg,
        "mass",
        "water.mass",
        about=True,
        inputs=(
            draft.book.input("holds up to the rim", storage.volume_l, "volume", "the yard file"),
            empty_input,
        ),
    )
    said = [f"Brim full, it weighs {mass}.", *_ground(draft, storage, full_kg, key)]
    said += _tipping(draft, storage, empty_kg, key)
    return [" ".join(said), *_overhang(draft, storage, key)]


def empty_mass(draft: Draft, storage: Storage) -> tuple[float, Input]:
    """Mass of the empty storage [kg], as written or taken from the usual drum, and where it comes from."""
    if storage.empty_mass_kg is not None:
        mass = storage.empty_mass_kg
        return mass, draft.book.input("empty", mass, "mass", "the yard file")
    fact = draft.knowledge.fact("storage.empty_mass_per_litre")
    mass = fact.value * storage.volume_l
    return mass, draft.book.input("empty, taken from the usual drum", mass, "mass", fact.source)


def _base(storage: Storage) -> tuple[float, str] | None:
    """Area that presses on the ground [m2] and its name; None if no measure is given."""
    if storage.stand_base_m is not None:
        return storage.stand_base_m[0] * storage.stand_base_m[1], "base of the stand"
    if storage.diameter_m is not None:
        return pi / 4 * storage.diameter_m**2, "bottom of the storage"
    return None


def _ground(draft: Draft, storage: Storage, full_kg: float, key: str) -> list[str]:
    base = _base(storage)
    if base is None:
        draft.refusals.append(
            Refusal(
                f"We will not say whether the ground bears the {storage.name}",
                "Neither its diameter nor the base of its stand is in the yard file",
                'Measure one and write it, such as stand_base = "24 x 24 in"',
            )
        )
        return []
    pressure_kpa = float(bearing_pressure(full_kg, base[0]))
    pressure = _pressure(
        draft,
        f"{key}.bearing",
        f"pressure of the full {storage.name} on the ground",
        pressure_kpa,
        (
            draft.book.input("weight, the stand itself not counted", full_kg, "mass"),
            draft.book.input(base[1], base[0], "area", "the yard file"),
        ),
    )
    said = [f"It presses on the ground with {pressure}."]
    if storage.stand_on is None:
        said.append("What it stands on is not in the yard file: look that the ground is firm and level.")
        return said
    soil = draft.knowledge.bearing_soils[storage.stand_on]
    if soil.pressure_kpa is None:
        draft.tasks.append(
            Task(
                id=f"{key}.ground",
                verb="Do",
                place=storage.name,
                kind="storage",
                what=f"Empty the {storage.name}, take off the {soil.name} under it and set the stand on firm, "
                "level ground or packed gravel.",
                from_=draft.on,
                to=draft.last_day,
                why=f"Nobody can say what {soil.name} bears. Full, the barrel weighs [[{key}.mass]].",
                cautions=draft.caution("water.weight", "water.tipping"),
                if_missed="It sinks on one side, leans, and can fall on someone.",
            )
        )
        said.append(f"No building code lets us presume that {soil.name} bears anything.")
        return said
    allowed = _pressure(
        draft,
        f"{key}.allowed",
        f"pressure that {soil.name} is presumed to bear",
        soil.pressure_kpa,
        (Input(soil.name, _pressure_words(draft, soil.pressure_kpa), soil.source),),
    )
    enough = "That is well within" if pressure_kpa <= soil.pressure_kpa / 2 else "That is near"
    enough = "That is more than" if pressure_kpa > soil.pressure_kpa else enough
    said.append(f"{enough} the {allowed} that a building code presumes for {soil.name}.")
    return said


def _pressure_words(draft: Draft, kpa: float) -> str:
    """A pressure on the ground as the trade gives it: pounds per square foot, or kPa."""
    return f"{kpa * PSF_PER_KPA:,.0f} lb per sq ft" if draft.yard.units == "us" else f"{kpa:.1f} kPa"


def _pressure(draft: Draft, figure_id: str, name: str, kpa: float, inputs: tuple[Input, ...]) -> str:
    shown = _pressure_words(draft, kpa)
    exact = f"{kpa * PSF_PER_KPA:,.1f} lb per sq ft" if draft.yard.units == "us" else f"{kpa:.2f} kPa"
    return draft.book.plain(
        figure_id, name, kpa, shown, "water.bearing", unit="kPa", exact=exact, inputs=inputs
    )


def _tipping(draft: Draft, storage: Storage, empty_kg: float, key: str) -> list[str]:
    """The pushes that tip it, brim full off its stand and with it, and empty."""
    full = ways(storage, storage.volume_l, empty_kg)
    empty = ways(storage, 0.0, empty_kg)
    if not full or storage.height_m is None:
        return []
    if min(way.push_n for way in full) < draft.fact("stand.adult_push") or _too_tall(draft, storage):
        draft.caution("water.tipping")
    said = []
    for way in full:
        together = way.mode == TOGETHER
        mark = _push(
            draft, storage, f"{key}.push-full{'-stand' if together else ''}", f"full, the {way.mode}", way
        )
        said.append(f"{mark} {'tips it together with the stand' if together else 'tips it off its stand'}")
    if len(said) == 1:
        said = [said[0].removesuffix(" tips it off its stand") + " starts to tip it"]
    # The stand's weight is not counted, so an empty barrel is judged as it stands on top of it.
    (alone,) = (way for way in empty if way.mode != TOGETHER)
    light = _push(draft, storage, f"{key}.push-empty", "empty", alone)
    return [
        f"A steady push at the rim of {' and one of '.join(said)} when it is brim full; {light} tips it empty."
    ]


def _overhang(draft: Draft, storage: Storage, key: str) -> list[str]:
    """A barrel wider than its stand, and the task to build that wider; nothing if it rests in full."""
    if not storage.stand_height_m or storage.stand_base_m is None or storage.diameter_m is None:
        return []
    narrow_m = min(storage.stand_base_m)
    if storage.diameter_m <= narrow_m + _TAPE_M:
        return []
    wide, base = draft.book.show(storage.diameter_m, "length"), draft.book.show(narrow_m, "length")
    draft.tasks.append(
        Task(
            id=f"{key}.stand",
            verb="Do",
            place=storage.name,
            kind="storage",
            what=f"Empty the {storage.name} and set it on a stand at least as wide as its bottom, {wide}.",
            from_=draft.on,
            to=draft.last_day,
            why=f"The stand is {base} wide, so the bottom hangs over it. It tips more easily, and it can sag or crack.",
            cautions=draft.caution("water.weight", "water.tipping"),
            if_missed="It can fall on someone when it is full.",
        )
    )
    return [f"It is wider than its stand ({wide} on {base}), so it turns on the edge of the stand."]


def ways(storage: Storage, litres: float, empty_kg: float) -> tuple[Stability, ...]:
    """The ways it can go over with so much in it, the stand's weight not counted; none if a measure is missing."""
    if storage.height_m is None or storage.diameter_m is None:
        return ()
    narrow = min(storage.stand_base_m) if storage.stand_base_m is not None else storage.diameter_m
    found = stability(
        volume_l=litres,
        diameter_m=storage.diameter_m,
        height_m=storage.height_m,
        empty_kg=empty_kg,
        stand_height_m=storage.stand_height_m or 0.0,
        stand_base_m=narrow if storage.stand_height_m else 0.0,
    )
    return tuple(sorted(found, key=lambda way: way.mode == TOGETHER))


def _push(draft: Draft, storage: Storage, figure_id: str, state: str, way: Stability) -> str:
    stand_m = (storage.stand_height_m or 0.0) if way.mode == TOGETHER else 0.0
    return draft.book.quantity(
        figure_id,
        f"push at the rim that starts to tip the {storage.name}, {state}",
        way.push_n / float(weight(1.0)),
        "mass",
        "water.tipping_push",
        about=True,
        inputs=(
            draft.book.input("width it turns on", way.base_m, "length", "the yard file"),
            draft.book.input(
                "height of the rim over what it turns on",
                (storage.height_m or 0.0) + stand_m,
                "length",
                "the yard file",
            ),
            draft.book.input("weight of barrel and water", way.mass_kg, "mass"),
            Input("weight of the stand", "not counted, the cautious side"),
        ),
        note="Given as a weight: pushing that hard is like holding so much.",
    )


def _too_tall(draft: Draft, storage: Storage) -> bool:
    if storage.stand_height_m is None or storage.stand_base_m is None:
        return False
    return storage.stand_height_m > draft.fact("stand.height_to_base") * min(storage.stand_base_m)
