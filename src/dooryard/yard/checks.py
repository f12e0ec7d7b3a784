"""Do the parts of a yard fit together? One small function for each rule; all run, none stops the others.

A rule looks only at values that could be read: what is wrong with a single value has been told already.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from math import pi

from dooryard import units
from dooryard.problem import Problem
from dooryard.units import System
from dooryard.yard import roof_shapes
from dooryard.yard.keys import NAMED, ROOFS, TABLES
from dooryard.yard.model import DOWNSPOUT, GROUND, RAIN, TAP
from dooryard.yard.values import Entry, Fault, Names, fault, flat, near_name, quoted

_TAPE_SLACK = 1.1
"""How far a figure may pass its limit before it is doubted: tape measures of a round thing are that rough."""


@dataclass
class Draft:
    """The file as far as it could be read: its entries by table, in order ("" is the top)."""

    entries: dict[str, list[Entry]] = field(default_factory=dict)

    def of(self, table: str) -> list[Entry]:
        """The entries of one table."""
        return self.entries.get(table, [])

    @property
    def system(self) -> System:
        """Units for messages: the yard's own, else US."""
        return next((top.values["units"] for top in self.of("") if "units" in top.values), "us")


def problems(draft: Draft, knowledge: Names) -> list[Fault]:
    """Everything that does not fit, in no special order. References take on the spelling of the names."""
    faults: list[Fault] = []
    for rule in _RULES:
        faults += rule(draft, knowledge)
    return faults


def notes(draft: Draft, knowledge: Names) -> list[Fault]:
    """What is worth a second look though it is no mistake. For a draft without problems."""
    found: list[Fault] = []
    for note in _NOTES:
        found += note(draft, knowledge)
    return found


def _areas(draft: Draft, knowledge: Names) -> Iterator[Fault]:
    for entry in (*draft.of("roofs"), *draft.of("beds")):
        if roof_shapes.is_shaped(entry):
            yield from roof_shapes.sized(entry, knowledge)
            continue
        sides = [key for key in ("length", "width") if key in entry.raw]
        if "area" in entry.raw and sides:
            what = f"The size is given twice, by area and by {' and '.join(sides)}."
            yield fault(entry, "area", what, "Keep area, or length and width, not both.")
        elif len(sides) == 1:
            other = "width" if sides == ["length"] else "length"
            example = entry.table.keys[other].example
            yield fault(entry, sides[0], f"The {other} is missing.", f"Write also: {other} = {example}")
        elif not sides and "area" not in entry.raw:
            problem = Problem(
                "area is missing.",
                f"Write, for example: area = {entry.table.keys['area'].example}",
                field=entry.field_name("area"),
            )
            yield Fault(entry.path, problem)
        elif "length" in entry.values and "width" in entry.values:
            entry.values["area"] = entry.values["length"] * entry.values["width"]
            if entry.table is ROOFS:
                entry.values["parts"] = (roof_shapes.rectangle(entry),)


def _one_name_each(draft: Draft, _: Names) -> Iterator[Fault]:
    first: dict[str, Entry] = {}
    for table in NAMED:
        for entry in draft.of(table):
            name = flat(entry.name)
            if not name:
                continue
            if name in (TAP, RAIN, GROUND, DOWNSPOUT):
                what = f'"{entry.name}" has a meaning of its own in a yard file.'
                yield fault(entry, "name", what, f'Give it a longer name, such as "back {entry.name}".')
            elif name in first:
                other = first[name]
                what = (
                    f'Two places have the name "{entry.name}": a {other.table.one} and a {entry.table.one}.'
                )
                if other.table is entry.table:
                    what = f'Two {table} have the name "{entry.name}".'
                yield fault(entry, "name", what, "Give each place a name of its own.")
            else:
                first[name] = entry


_REFERENCES: tuple[tuple[str, str, tuple[str, ...], tuple[str, ...]], ...] = (
    # table, key, tables it may name, words it may hold instead
    ("roofs", "downspout", ("downspouts",), ()),
    ("storages", "fed_by", ("downspouts",), ()),
    ("storages", "linked_to", ("storages",), ()),
    ("storages", "empties_to", ("storages", "beds"), (GROUND, DOWNSPOUT)),
    ("beds", "watered_from", ("storages",), (TAP, RAIN)),
    ("sightings", "plant", ("plants", "beds"), ()),
    ("levels", "storage", ("storages",), ()),
)


def _references(draft: Draft, _: Names) -> Iterator[Fault]:
    for table, key, targets, words in _REFERENCES:
        known = {flat(place.name): place.name for target in targets for place in draft.of(target)}
        known |= {word: word for word in words}
        for entry in draft.of(table):
            given = entry.values.get(key)
            if given is None:
                continue
            listed = (given,) if isinstance(given, str) else given
            for name in listed:
                if flat(name) not in known:
                    yield _dangling(draft, entry, key, name, targets, words, known)
            spelled = tuple(known.get(flat(name), name) for name in listed)
            entry.values[key] = spelled[0] if isinstance(given, str) else spelled


def _dangling(
    draft: Draft,
    entry: Entry,
    key: str,
    name: str,
    targets: tuple[str, ...],
    words: tuple[str, ...],
    known: Mapping[str, str],
) -> Fault:
    ones = " or ".join(TABLES[target].one for target in targets)
    what = f'There is no {ones} called "{name}".'
    for table in NAMED:
        if table not in targets and any(flat(place.name) == flat(name) for place in draft.of(table)):
            what = f'"{name}" is a {TABLES[table].one}; a {ones} is due here.'
    near = near_name(name, known.values())
    places = [place for place in known.values() if place and place not in words]
    parts = [f'Did you mean "{near}"?' if near else ""]
    if [*places, *words] != [near]:
        parts.append(f"Write one of {', '.join(quoted([*places, *words]))}.")
    if not [*places, *words]:
        parts = [f"Describe it first under {TABLES[targets[0]].heading}."]
    return fault(entry, key, what, " ".join(part for part in parts if part), f'"{name}"')


def _roof_for_one_downspout(draft: Draft, knowledge: Names) -> Iterator[Fault]:
    largest_m2 = knowledge.fact("downspout.plausible_roof").value
    for roof in draft.of("roofs"):
        area_m2 = roof.values.get("area")
        if area_m2 is None or area_m2 <= largest_m2 or roof.values.get("measured_twice") is True:
            continue
        shown, most = (units.show(area, "area", draft.system) for area in (area_m2, largest_m2))
        what = f"{shown} is more roof than one downspout commonly serves (at most about {most})."
        keep = "If the size is right, add: measured_twice = true"
        key = next(key for key in ("area", "length", "shape", "parts") if key in roof.raw)
        yield fault(roof, key, what, f"{_feet_meant(roof, largest_m2)} {keep}".strip())


def _offset_of_the_same_weather(draft: Draft, knowledge: Names) -> Iterator[Fault]:
    for place in draft.of("place"):
        offset_c = place.values.get("night_offset")
        if offset_c is None or abs(offset_c) <= knowledge.fact("site.largest_offset_c").value:
            continue
        most = units.show(
            knowledge.fact("site.largest_offset_c").value, "temperature_difference", draft.system
        )
        what = f"No yard's nights differ from a near station's by more than {most} as a rule."
        instead = "Write the difference, not the temperature, or choose a nearer station."
        yield fault(place, "night_offset", what, instead)


def _feet_meant(roof: Entry, largest_m2: float) -> str:
    """The same number in square feet, where that would be a roof one downspout can serve."""
    typed = roof.raw.get("area")
    number = re.match(r"[\d.,\s]*\d", typed) if isinstance(typed, str) else None
    if number is None:
        return ""
    meant = f"{number[0].strip()} sq ft"
    if units.parse(meant, "area") > largest_m2:
        return ""
    return f'Did you mean "{meant}"?'


def _heights(draft: Draft, _: Names) -> Iterator[Fault]:
    for storage in draft.of("storages"):
        value = storage.values
        top, over, out = (value.get(key) for key in ("height", "overflow_height", "outlet_height"))
        if top is not None and over is not None and over > top:
            what = f"The overflow is above the rim, which is at {storage.raw['height']}."
            yield fault(storage, "overflow_height", what, "Measure both from the barrel's own bottom.")
        if over is not None and out is not None and out >= over:
            what = f"The outlet is not below the overflow, which is at {storage.raw['overflow_height']}."
            yield fault(storage, "outlet_height", what, "Measure both from the barrel's own bottom.")
        elif top is not None and out is not None and out >= top:
            what = f"The outlet is not below the rim, which is at {storage.raw['height']}."
            yield fault(storage, "outlet_height", what, "Measure both from the barrel's own bottom.")


def _overflow_inside_its_wall(draft: Draft, _: Names) -> Iterator[Fault]:
    for storage in draft.of("storages"):
        bore_m = storage.values.get("overflow_bore")
        for key, word in (("diameter", "wide"), ("height", "high")):
            most_m = storage.values.get(key)
            if bore_m is not None and most_m is not None and bore_m >= most_m:
                what = f"The overflow's pipe cannot be as wide as the barrel is {word}, {storage.raw[key]}."
                yield fault(storage, "overflow_bore", what, "Measure across the inside of the pipe.")
                break


def _volume_inside_its_measures(draft: Draft, _: Names) -> Iterator[Fault]:
    for storage, outside_l in _cylinders(draft):
        if storage.values["volume"] > outside_l * _TAPE_SLACK:
            room = units.show(outside_l, "volume", draft.system)
            what = f"A round barrel of this diameter and height holds at most {room}."
            instead = "Correct the volume, diameter or height; leave the diameter out if it is not round."
            yield fault(storage, "volume", what, instead)


def _cylinders(draft: Draft) -> Iterator[tuple[Entry, float]]:
    for storage in draft.of("storages"):
        if {"volume", "diameter", "height"} <= storage.values.keys():
            across, high = storage.values["diameter"], storage.values["height"]
            yield storage, pi / 4 * across**2 * high * 1000


def _water_goes_somewhere_else(draft: Draft, _: Names) -> Iterator[Fault]:
    storages = {storage.name: storage for storage in draft.of("storages") if storage.name}
    pool = _pools(storages)
    for name, storage in storages.items():
        if name in storage.values.get("linked_to", ()):
            yield fault(storage, "linked_to", "It is linked to itself.", "Name the other barrels.")
        met = {pool[name]}
        onward = storage.values.get("empties_to")
        if onward in storages and pool[onward] == pool[name]:
            what = f'Its overflow goes to "{onward}", which shares one level with it.'
            yield fault(storage, "empties_to", what, "Say where the water goes when all of them are full.")
            continue
        # Follow the overflow from pool to pool; coming back to the start means a ring.
        while onward in storages and pool[onward] not in met:
            met.add(pool[onward])
            pool_mates = [storages[mate] for mate in storages if pool[mate] == pool[onward]]
            onward = next((m.values["empties_to"] for m in pool_mates if "empties_to" in m.values), None)
        if onward in storages and pool[onward] == pool[name]:
            what = "Followed on, the overflow comes back to this barrel."
            yield fault(storage, "empties_to", what, 'Let the last barrel empty to "ground" or a bed.')


def _pools(storages: Mapping[str, Entry]) -> dict[str, str]:
    """For each storage one name that stands for all it shares its level with."""
    pool = {name: name for name in storages}
    for name, storage in storages.items():
        for other in storage.values.get("linked_to", ()):
            if other in pool:
                kept, merged = pool[name], pool[other]
                pool = {key: kept if value == merged else value for key, value in pool.items()}
    return pool


def _levels_fit(draft: Draft, _: Names) -> Iterator[Fault]:
    volumes = {s.name: s.values["volume"] for s in draft.of("storages") if "volume" in s.values}
    seen: set[tuple[str, object]] = set()
    for level in draft.of("levels"):
        storage, amount = level.values.get("storage"), level.values.get("volume")
        if amount is not None and amount > volumes.get(str(storage), amount) * (1 + 1e-9):
            holds = units.show(volumes[str(storage)], "volume", draft.system)
            yield fault(level, "volume", f'"{storage}" holds only {holds}.', "Read the level again.")
        if storage is not None and "date" in level.values:
            if (storage, level.values["date"]) in seen:
                what = f'There are two readings of "{storage}" on one day.'
                yield fault(level, "date", what, "Keep the later one.")
            seen.add((storage, level.values["date"]))


def _sightings_say_what(draft: Draft, _: Names) -> Iterator[Fault]:
    for sighting in draft.of("sightings"):
        if "organism" not in sighting.raw and "sign" not in sighting.raw:
            problem = Problem(
                "Neither organism nor sign says what was seen.",
                'Write what you saw in your words: sign = "brown leaf edges"',
                field=sighting.field_name("sign"),
            )
            yield Fault(sighting.path, problem)


_RULES: tuple[Callable[[Draft, Names], Iterable[Fault]], ...] = (
    _areas,
    _one_name_each,
    _references,
    _roof_for_one_downspout,
    _offset_of_the_same_weather,
    _heights,
    _overflow_inside_its_wall,
    _volume_inside_its_measures,
    _water_goes_somewhere_else,
    _levels_fit,
    _sightings_say_what,
)


def _kinds_nearly_known(draft: Draft, knowledge: Names) -> Iterator[Fault]:
    kinds = {host.plant_kind for host in knowledge.hosts}
    for plant in draft.of("plants"):
        yield from _nearly(plant, "kind", kinds, 0.8)
    organisms = {spelling for key, row in knowledge.organisms.items() for spelling in (key, row.name)}
    for sighting in draft.of("sightings"):
        yield from _nearly(sighting, "organism", organisms, 0.8)


def _nearly(entry: Entry, key: str, known: set[str], likeness: float) -> Iterator[Fault]:
    given = entry.values.get(key)
    if given is None or flat(given) in {flat(name) for name in known}:
        return
    near = near_name(given, known, likeness)
    if near:
        what = f"We know nothing of this name, so no advice is given for it. Did you mean {near}?"
        yield fault(entry, key, what, f'If so, write {key} = "{near}".')


def _nothing_feeds_it(draft: Draft, _: Names) -> Iterator[Fault]:
    storages = {storage.name: storage for storage in draft.of("storages")}
    pool = _pools(storages)
    wet = {pool[name] for name, storage in storages.items() if storage.values.get("fed_by")}
    wet |= {pool[s.values["empties_to"]] for s in storages.values() if s.values.get("empties_to") in storages}
    for name, storage in storages.items():
        if pool[name] not in wet:
            what = "No downspout and no other barrel runs into it, so rain never fills it."
            yield Fault(
                storage.path,
                Problem(what, 'Write fed_by = ["..."] if one does.', field=storage.field_name("fed_by")),
            )


def _no_roof_drains_to_it(draft: Draft, _: Names) -> Iterator[Fault]:
    used = {roof.values["downspout"] for roof in draft.of("roofs")}
    for downspout in draft.of("downspouts"):
        if downspout.name not in used:
            what = "No roof drains to this downspout."
            yield fault(downspout, "name", what, "Describe the roof section above it under [[roofs]].")


def _large_roof_for_its_downspout(draft: Draft, knowledge: Names) -> Iterator[Fault]:
    per_opening = knowledge.fact("downspout.roof_per_opening").value
    for downspout in draft.of("downspouts"):
        width_m, depth_m = downspout.values["width"], downspout.values.get("depth")
        opening_m2 = pi / 4 * width_m**2 if depth_m is None else width_m * depth_m
        roofs_m2 = sum(
            roof.values["area"] for roof in draft.of("roofs") if roof.values["downspout"] == downspout.name
        )
        if roofs_m2 > per_opening * opening_m2 * _TAPE_SLACK:
            has, serves = (
                units.show(area, "area", draft.system) for area in (roofs_m2, per_opening * opening_m2)
            )
            what = f"{has} of roof drain to it; by the trade's rule its opening serves about {serves}."
            yield fault(downspout, "width", what, "Measure the roof section and the pipe once more.")


def _holds_far_less_than_it_measures(draft: Draft, _: Names) -> Iterator[Fault]:
    for storage, outside_l in _cylinders(draft):
        if storage.values["volume"] < outside_l / 2:
            room = units.show(outside_l, "volume", draft.system)
            what = f"A round barrel of this diameter and height holds up to {room}."
            yield fault(storage, "volume", what, "Look whether gallons and litres were mixed up.")


def _hips_that_do_not_close(draft: Draft, _: Names) -> Iterator[Fault]:
    for roof in draft.of("roofs"):
        yield from roof_shapes.odd_hips(roof)


_NOTES: tuple[Callable[[Draft, Names], Iterable[Fault]], ...] = (
    _kinds_nearly_known,
    _nothing_feeds_it,
    _no_roof_drains_to_it,
    _large_roof_for_its_downspout,
    _holds_far_less_than_it_measures,
    _hips_that_do_not_close,
)
