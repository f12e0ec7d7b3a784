"""The one loader of every knowledge table: lazy, checked, and able to take a person's own folder on top.

The shapes of tables that a plan does not need are imported with the table: making them costs more than reading it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from dooryard.knowledge import tables
from dooryard.knowledge.cells import Origin, read_table
from dooryard.knowledge.rows import (
    STATUSES,
    BearingSoil,
    Caution,
    Covering,
    Crop,
    Fact,
    Host,
    Method,
    Organism,
    Soil,
    Source,
    Stage,
    Treatment,
    Trouble,
    Window,
)
from dooryard.problem import InputError, Problem, nearest

if TYPE_CHECKING:
    from dooryard.knowledge.build_rows import Part, Step, Tool
    from dooryard.knowledge.care_rows import (
        Division,
        Invasive,
        OakWindow,
        Pruning,
        Restriction,
        SprayLimit,
        WoundClass,
    )
    from dooryard.knowledge.gate_tables import GateWords
    from dooryard.knowledge.season_rows import (
        Bloom,
        Chill,
        DatedWindow,
        Germination,
        Infection,
        Severity,
        SoilTemperature,
    )
    from dooryard.knowledge.sign_rows import Cause, PlantGroups, Sign

SHIPPED = Path(__file__).parent
"""The folder of tables that comes with the program."""

Row = TypeVar("Row")


@dataclass(frozen=True)
class Knowledge:
    """Every table, read when first asked for. A row of a later folder replaces the row of the same key.

    Asking for a table raises `InputError` with all its faults if any row has one: nothing is loaded half.
    """

    folders: tuple[Path, ...]

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """Publications by id."""
        return self._read(tables.SOURCES)

    @cached_property
    def facts(self) -> Mapping[str, Fact]:
        """Single numbers by key."""
        return self._sourced(tables.FACTS)

    def fact(self, key: str) -> Fact:
        """The fact of that key. Raises KeyError, naming a near key, if there is none (the caller's fault)."""
        return _get(self.facts, key, "fact")

    @cached_property
    def methods(self) -> Mapping[str, Method]:
        """Ways of working things out, by key such as ``season.heat.average``."""
        found, problems = _methods(self.folders, self.sources)
        self._raise(problems)
        return found

    @cached_property
    def coverings(self) -> Mapping[str, Covering]:
        """Roof coverings by key."""
        return self._sourced(tables.COVERINGS)

    @cached_property
    def bearing_soils(self) -> Mapping[str, BearingSoil]:
        """Grounds a stand may rest on, by key."""
        return self._sourced(tables.BEARING)

    @cached_property
    def crops(self) -> Mapping[str, Crop]:
        """What grows in beds, by key."""
        return self._sourced(tables.CROPS)

    @cached_property
    def soils(self) -> Mapping[str, Soil]:
        """Soil textures by key."""
        return self._sourced(tables.SOILS)

    @cached_property
    def cautions(self) -> Mapping[str, Caution]:
        """Caution sentences by key."""
        return self._sourced(tables.CAUTIONS)

    @cached_property
    def organisms(self) -> Mapping[str, Organism]:
        """Pests by key."""
        return self._sourced(tables.ORGANISMS)

    @cached_property
    def stages(self) -> Mapping[str, Stage]:
        """Published timing numbers by key, in table order."""
        return self._sourced(tables.STAGES)

    @cached_property
    def windows(self) -> Mapping[str, Window]:
        """Treatable windows by key, in table order."""
        return self._sourced(tables.WINDOWS)

    @cached_property
    def treatments(self) -> Mapping[str, Treatment]:
        """Treatments by key ``organism.rank``."""
        return self._sourced(tables.TREATMENTS)

    @cached_property
    def troubles(self) -> Mapping[str, Trouble]:
        """What may be behind what an owner sees at a barrel, by key, in table order."""
        return self._sourced(tables.TROUBLES)

    @cached_property
    def parts(self) -> Mapping[str, Part]:
        """What a rain barrel is built of, by key, in table order."""
        from dooryard.knowledge import build_tables

        return self._sourced(build_tables.PARTS)

    @cached_property
    def tools(self) -> Mapping[str, Tool]:
        """Tools of a build, by key, in table order."""
        from dooryard.knowledge import build_tables

        return self._sourced(build_tables.TOOLS)

    @cached_property
    def steps(self) -> Mapping[str, Step]:
        """Order of work of a build and of a workshop, by key, in table order."""
        from dooryard.knowledge import build_tables

        return self._sourced(build_tables.STEPS)

    @cached_property
    def hosts(self) -> tuple[Host, ...]:
        """Which organism lives on which kind of plant."""
        return tuple(self._sourced(tables.HOSTS).values())

    @cached_property
    def blooms(self) -> tuple[Bloom, ...]:
        """When plants bloom, by warmth, in table order."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.BLOOMS).values())

    @cached_property
    def soil_temperatures(self) -> tuple[SoilTemperature, ...]:
        """Soil warmth for sowing and planting, a row for each crop and source."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.SOIL_TEMPERATURES).values())

    @cached_property
    def germination(self) -> tuple[Germination, ...]:
        """Days to a seedling, a row for each crop and soil temperature that was tried, coldest first."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.GERMINATION).values())

    @cached_property
    def infection(self) -> tuple[Infection, ...]:
        """Wet hours that let a disease in, by temperature, coldest first within a disease."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.INFECTION).values())

    @cached_property
    def severity(self) -> tuple[Severity, ...]:
        """Severity values of a wet spell."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.SEVERITY).values())

    @cached_property
    def chill(self) -> tuple[Chill, ...]:
        """What an hour counts towards winter rest, by model, coldest first within a model."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.CHILL).values())

    @cached_property
    def dated_windows(self) -> tuple[DatedWindow, ...]:
        """Times of the year that are known by date only, each for its own place."""
        from dooryard.knowledge import season_tables

        return tuple(self._sourced(season_tables.DATED_WINDOWS).values())

    @cached_property
    def signs(self) -> Mapping[str, Sign]:
        """What a household can look for, by key."""
        from dooryard.knowledge import sign_tables

        return self._sourced(sign_tables.SIGNS)

    @cached_property
    def causes(self) -> Mapping[str, Cause]:
        """What may be behind a complaint, by key."""
        from dooryard.knowledge import sign_tables

        return self._sourced(sign_tables.CAUSES)

    @cached_property
    def plant_groups(self) -> Mapping[str, PlantGroups]:
        """The groups each kind of plant belongs to, by its name."""
        from dooryard.knowledge import sign_tables

        return self._sourced(sign_tables.PLANT_GROUPS)

    @cached_property
    def pruning(self) -> Mapping[str, Pruning]:
        """When and how plants are cut, by key."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.PRUNING)

    @cached_property
    def divisions(self) -> Mapping[str, Division]:
        """When perennials are divided, by key."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.DIVISION)

    @cached_property
    def oak_windows(self) -> Mapping[str, OakWindow]:
        """When oaks must not be cut, by key, a row for each place."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.OAK_WINDOWS)

    @cached_property
    def spray_limits(self) -> Mapping[str, SprayLimit]:
        """Limits of garden materials, by key; the label in hand overrules them."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.SPRAY_LIMITS)

    @cached_property
    def wounds(self) -> Mapping[str, WoundClass]:
        """What a loss of bark means, by key, the smallest loss first."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.WOUNDS)

    @cached_property
    def restrictions(self) -> Mapping[str, Restriction]:
        """What states and counties forbid, by key; each row expires."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.RESTRICTIONS)

    @cached_property
    def invasive(self) -> Mapping[str, Invasive]:
        """Plants that run wild, by key; shipped empty, for each county has its own list."""
        from dooryard.knowledge import care_tables

        return self._sourced(care_tables.INVASIVE)

    @cached_property
    def gate_words(self) -> Mapping[str, GateWords]:
        """Words the review gate looks for, by key; a county's own brands are rows of its own folder."""
        from dooryard.knowledge import gate_tables

        return self._sourced(gate_tables.GATE_WORDS)

    @cached_property
    def _organisms_by_plant(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, tuple[str, ...]] = {}
        for host in self.hosts:
            found[host.plant_kind] = (*found.get(host.plant_kind, ()), host.organism)
        return found

    def organisms_on(self, plant_kind: str) -> tuple[str, ...]:
        """Keys of the organisms that live on a kind of plant ("juniper"); empty if none is known."""
        return self._organisms_by_plant.get(plant_kind.strip().lower(), ())

    def stages_of(self, organism: str) -> tuple[Stage, ...]:
        """The published timing numbers of one organism, in table order."""
        return tuple(stage for stage in self.stages.values() if stage.organism == organism)

    def windows_of(self, organism: str) -> tuple[Window, ...]:
        """The treatable windows of one organism, in table order."""
        return tuple(window for window in self.windows.values() if window.organism == organism)

    def treatments_of(self, organism: str) -> tuple[Treatment, ...]:
        """What can be done about one organism, least toxic first."""
        found = [row for row in self.treatments.values() if row.organism == organism]
        return tuple(sorted(found, key=lambda row: row.rank))

    def check(self) -> tuple[Problem, ...]:
        """Read every table and every reference between them; all faults at once (empty if there is none)."""
        from dooryard.knowledge.references import dangling

        problems: list[Problem] = []
        whole: list[str] = []
        for name in _TABLES:
            try:
                getattr(self, name)
                whole.append(name)
            except InputError as error:
                problems += [problem for problem in error.problems if problem not in problems]
        return (*problems, *dangling(self, whole))

    def _sourced(self, table: tables.Table[Row]) -> dict[str, Row]:
        return self._read(table, self.sources)

    def _read(self, table: tables.Table[Row], sources: Collection[str] = ()) -> dict[str, Row]:
        found: dict[str, Row] = {}
        problems: list[Problem] = []
        for folder in self.folders:
            here: dict[str, Row] = {}
            for path in _files(folder, table.place):
                where = _origin(folder, path, sources)
                rows, faults = read_table(path, table.columns, table.build, where)
                problems += faults
                for line, row in rows:
                    key = table.key(row)
                    if key in here:
                        what = f"There is already a row with the key {key}."
                        problems.append(Problem(what, "Give each row its own key.", where.shown, line))
                    here[key] = row
            found.update(here)
        self._raise(problems)
        return found

    @staticmethod
    def _raise(problems: list[Problem]) -> None:
        if problems:
            raise InputError(problems)


_TABLES = (
    "sources", "facts", "methods", "coverings", "bearing_soils", "crops", "soils", "cautions", "organisms",
    "stages", "windows", "treatments", "troubles", "hosts", "blooms", "soil_temperatures", "germination",
    "infection", "severity", "chill", "dated_windows", "parts", "tools", "steps", "signs", "causes",
    "plant_groups", "pruning", "divisions", "oak_windows", "spray_limits", "restrictions", "wounds",
    "invasive", "gate_words",
)  # fmt: skip


@lru_cache(maxsize=1)
def _shipped() -> Knowledge:
    return Knowledge((SHIPPED,))


def load(extra: Sequence[Path] = ()) -> Knowledge:
    """The shipped tables, with a person's own folders (same file names and columns) laid over them in order.

    Cheap: nothing is read before a table is asked for, and the shipped tables are kept for the next call.
    Raises `InputError` if a folder does not exist.
    """
    if not extra:
        return _shipped()
    missing = [path for path in extra if not path.is_dir()]
    if missing:
        raise InputError(
            Problem("There is no such folder of knowledge.", "Give a folder that exists.", found=str(path))
            for path in missing
        )
    return Knowledge((SHIPPED, *extra))


def _files(folder: Path, place: str) -> list[Path]:
    """The file or the folder's files of a table; a table may be absent from a folder."""
    if place.endswith(".csv"):
        path = folder / place
        return [path] if path.exists() else []
    return sorted((folder / place).glob("*.csv"))


def _origin(folder: Path, path: Path, sources: Collection[str]) -> Origin:
    if folder == SHIPPED:
        return Origin(f"knowledge/{path.relative_to(folder).as_posix()}", "", sources)
    return Origin(str(path), str(path), sources)


def _methods(folders: tuple[Path, ...], sources: Collection[str]) -> tuple[dict[str, Method], list[Problem]]:
    found: dict[str, Method] = {}
    problems: list[Problem] = []
    for folder in folders:
        here: dict[str, Method] = {}
        for path in sorted((folder / "methods").glob("*.toml")):
            where = _origin(folder, path, sources)
            try:
                text = path.read_text(encoding="utf-8-sig")
                entries = plain_entries(text) or tomllib.loads(text)
            except UnicodeDecodeError:
                problems.append(Problem("This file is not written in UTF-8.", "Save it so.", where.shown))
                continue
            except tomllib.TOMLDecodeError as error:
                problems.append(Problem(f"This is not TOML: {error}.", "Mend the line named.", where.shown))
                continue
            for key, entry in entries.items():
                faults = _method_problems(entry, where)
                if key in here:
                    what = f"There is already a method with the key {key}."
                    faults.append(Problem(what, "Give each method its own key.", where.shown))
                problems += [fault.at(line=_line_of(text, key)) for fault in faults]
                if not faults:
                    here[key] = Method(key=key, origin=where.origin, **entry)
        found.update(here)
    return found, problems


_PLAIN = re.compile(r'\["([^"\\\]]+)"\]|([a-z]+) = "([^"\\]*)"')


def plain_entries(text: str) -> dict[str, dict[str, str]] | None:
    """The tables of a TOML file that holds nothing but ``["key"]`` and ``field = "words"``, one a line; else None.

    All shipped methods are written so, and the full reader takes ten times as long.
    """
    found: dict[str, dict[str, str]] = {}
    table: dict[str, str] | None = None
    for line in text.split("\n"):
        if not line or line.startswith("#"):
            continue
        match = _PLAIN.fullmatch(line)
        if match is None:
            return None
        key, field, words = match.groups()
        if key is not None:
            if key in found:
                return None
            table = found[key] = {}
        elif table is None or field in table:
            return None
        else:
            table[field] = words
    return found


_METHOD_FIELDS = ("name", "formula", "limits", "source", "status")


def _method_problems(entry: Any, where: Origin) -> list[Problem]:
    def fault(what: str, instead: str, field: str = "") -> Problem:
        found = entry.get(field, "") if field else ""
        return Problem(what, instead, where.shown, field=field, found=str(found)[:60])

    if not isinstance(entry, dict):
        return [fault("A method is a table.", 'Write its key in brackets: ["room.method"].')]
    problems = [
        fault("This entry is missing or not text.", f'Write {field} = "…".', field)
        for field in _METHOD_FIELDS
        if not (isinstance(entry.get(field), str) and entry[field].strip())
    ]
    problems += [
        fault("This entry is not known.", nearest(field, _METHOD_FIELDS) or "Take it out.", field)
        for field in entry
        if field not in _METHOD_FIELDS
    ]
    if problems:
        return problems
    if entry["status"] not in STATUSES:
        problems.append(
            fault(
                "This is not one of the words used here.", f"Write one of: {', '.join(STATUSES)}.", "status"
            )
        )
    if entry["source"] not in where.sources:
        hint = nearest(entry["source"], where.sources)
        problems.append(
            fault("No source has this id.", hint or "Add it to a table in the folder sources.", "source")
        )
    return problems


def _line_of(text: str, key: str) -> int | None:
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip() in (f'["{key}"]', f"['{key}']", f"[{key}]"):
            return number
    return None


def _get(rows: Mapping[str, Row], key: str, what: str) -> Row:
    try:
        return rows[key]
    except KeyError:
        raise KeyError(f"no {what} {key!r}. {nearest(key, rows)}".strip()) from None
