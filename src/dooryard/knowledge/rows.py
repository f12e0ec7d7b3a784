"""What one row of each knowledge table holds. Every row says where it comes from and how sure it is.

``source`` is an id of the sources table, ``status`` one of `STATUSES`, ``place`` where the fact was found to
hold (empty: anywhere). ``origin`` is empty for a row shipped with the program, or the file of the user's own
folder that added or replaced it.
"""

from __future__ import annotations

from dataclasses import dataclass

STATUSES = ("seen", "second-hand", "from memory", "common practice", "computed", "judged")
"""How sure a row is: read in the source itself; read in a copy or report of it; recalled, not looked up;
what the trade does without one printed source; worked out from a stated formula; our own decision."""


@dataclass(frozen=True, slots=True)
class Source:
    """A publication that rows refer to."""

    id: str
    author: str
    year: str
    title: str
    edition: str
    licence: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One number of the trade: ``value``, ``low``, ``high`` in ``unit``; a meaningless bound is None."""

    key: str
    value: float
    low: float | None
    high: float | None
    unit: str
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Method:
    """A way of working something out, in words: formula, limits of use, citation."""

    key: str
    name: str
    formula: str
    limits: str
    source: str
    status: str
    origin: str


@dataclass(frozen=True, slots=True)
class Covering:
    """A roof covering: share of the rain that leaves it [1], water that only wets it per event [mm]."""

    key: str
    name: str
    coefficient: float
    low: float
    high: float
    wetting_loss_mm: float
    wetting_low_mm: float
    wetting_high_mm: float
    edible: str
    edible_note: str
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class BearingSoil:
    """Ground under a stand: presumed bearing pressure [kPa], None where nothing may be presumed."""

    key: str
    name: str
    pressure_kpa: float | None
    source: str
    place: str
    status: str
    note: str
    origin: str


CROP_KINDS = ("vegetable", "fruit", "lawn", "ornamental", "tree")


@dataclass(frozen=True, slots=True)
class Crop:
    """What grows in a bed: crop factors and depletion [1], root depth and height [m], stage lengths [d]."""

    key: str
    name: str
    kind: str
    kc_ini: float
    kc_mid: float
    kc_end: float
    root_low_m: float
    root_high_m: float
    depletion: float
    height_m: float
    ini_d: float | None
    dev_d: float | None
    mid_d: float | None
    late_d: float | None
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Soil:
    """A soil texture: water held at field capacity and at wilting point, each as a range [m3/m3]."""

    key: str
    name: str
    field_capacity_low: float
    field_capacity_high: float
    wilting_low: float
    wilting_high: float
    source: str
    place: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A sentence that must stand beside certain advice; ``applies`` says beside which."""

    key: str
    text: str
    applies: str
    source: str
    place: str
    status: str
    origin: str


@dataclass(frozen=True, slots=True)
class Organism:
    """A pest: what a household sees, and one sentence for each time of its year.

    ``cycle`` tells how it goes through its year. The four ``do_`` sentences begin with one of the four verbs
    (Look, Do, Wait, Ask).
    """

    key: str
    name: str
    scientific: str
    kind: str
    hosts: str
    generations: str
    overwinters: str
    cycle: str
    look: str
    treatable: str
    do_early: str
    do_soon: str
    do_now: str
    do_over: str
    leave_alone: str
    mistake: str
    source: str
    status: str
    note: str
    origin: str


STAGE_KINDS = ("heat", "event", "calendar")
STAGE_USES = ("look", "treat", "over", "indicator")


@dataclass(frozen=True, slots=True)
class Stage:
    """One published number about when an organism does something.

    A heat row has ``dd_low`` (and ``dd_high`` if a range is printed) in degree-days of ``unit`` (F or C),
    above ``base`` and, if given, below ``upper`` (with ``cutoff``), summed by ``method`` from ``start``.
    ``start`` is as published ("01-01", "03-01" or "not stated"); ``start_used`` is what we sum from.
    An event row is a heat row summed from the day something is seen; ``start`` says what, in words, and
    ``start_used`` is empty: no record knows that day, so it opens no window.
    A calendar row has dates ``first`` and ``last`` (month-day) seen at ``place`` and nowhere else.
    """

    key: str
    organism: str
    stage: str
    kind: str
    use: str
    dd_low: float | None
    dd_high: float | None
    unit: str
    base: float | None
    upper: float | None
    cutoff: str
    method: str
    start: str
    start_used: str
    first: str
    last: str
    place: str
    source: str
    status: str
    note: str
    origin: str


WINDOW_BOUNDS = ("low", "high")


@dataclass(frozen=True, slots=True)
class Window:
    """Which published numbers open and close the time when something can be done: our decision, marked so.

    It opens ``open_lag_d`` days after stage row ``opens`` reaches its ``open_at`` bound, and closes
    ``close_lag_d`` days after ``closes`` reaches ``close_at``; ``closes`` equal to ``opens`` with a lag means
    a time counted in days. ``signs`` are words that, in a sighting, mean it has opened in this yard.
    """

    key: str
    organism: str
    generation: int
    name: str
    opens: str
    open_at: str
    open_lag_d: int
    closes: str
    close_at: str
    close_lag_d: int
    signs: tuple[str, ...]
    source: str
    place: str
    status: str
    note: str
    origin: str


TREATMENT_KINDS = (
    "do nothing",
    "cultural",
    "physical",
    "biological",
    "oil or soap",
    "active ingredient",
    "ask",
)


@dataclass(frozen=True, slots=True)
class Treatment:
    """One thing that can be done about an organism, ranked from least toxic; no trade names, no rates."""

    key: str
    organism: str
    rank: int
    kind: str
    action: str
    when: str
    cautions: tuple[str, ...]
    source: str
    status: str
    note: str
    origin: str


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that may be behind what an owner sees or asks: a test for it, and what to do then.

    words : what people call it, to find it by. topics : parts of a water report with the yard's own numbers on it.
    """

    key: str
    symptom: str
    words: tuple[str, ...]
    topics: tuple[str, ...]
    cause: str
    test: str
    fix: str
    cautions: tuple[str, ...]
    source: str
    place: str
    status: str
    note: str
    origin: str


TROUBLE_TOPICS = (
    "level",
    "fill",
    "roof",
    "outlet",
    "beds",
    "stand",
    "burst",
    "ground",
    "worth",
    "frost",
    "mosquito",
)
"""Parts of a water report that a trouble may point to."""


@dataclass(frozen=True, slots=True)
class Host:
    """A kind of plant, as written in a yard file, on which an organism lives."""

    organism: str
    plant_kind: str
    source: str
    status: str
    origin: str
