"""The columns of each table and how a line of it becomes a row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from dooryard.knowledge import rows
from dooryard.knowledge.cells import Cells
from dooryard.problem import nearest

Row = TypeVar("Row")


@dataclass(frozen=True)
class Table(Generic[Row]):
    """A table: where it lies (a file, or a folder of files), its columns, its row builder and its key."""

    place: str
    columns: tuple[str, ...]
    build: Callable[[Cells], Row]
    key: Callable[[Row], str]


def columns(text: str) -> tuple[str, ...]:
    """The columns of a table from the first line of its file."""
    return tuple(text.split(","))


def _source(c: Cells) -> rows.Source:
    return rows.Source(
        id=c.filled("id"),
        author=c.filled("author"),
        year=c.text("year"),
        title=c.filled("title"),
        edition=c.text("edition"),
        licence=c.text("licence"),
        note=c.text("note"),
        origin=c.origin,
    )


def _fact(c: Cells) -> rows.Fact:
    c.ordered("low", "value", "high")
    return rows.Fact(
        key=c.filled("key"),
        value=c.number("value"),
        low=c.maybe_number("low"),
        high=c.maybe_number("high"),
        unit=c.filled("unit"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _covering(c: Cells) -> rows.Covering:
    c.ordered("low", "coefficient", "high")
    c.ordered("wetting_low_mm", "wetting_loss_mm", "wetting_high_mm")
    return rows.Covering(
        key=c.filled("key"),
        name=c.filled("name"),
        coefficient=c.number("coefficient"),
        low=c.number("low"),
        high=c.number("high"),
        wetting_loss_mm=c.number("wetting_loss_mm"),
        wetting_low_mm=c.number("wetting_low_mm"),
        wetting_high_mm=c.number("wetting_high_mm"),
        edible=c.filled("edible"),
        edible_note=c.text("edible_note"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _bearing(c: Cells) -> rows.BearingSoil:
    return rows.BearingSoil(
        key=c.filled("key"),
        name=c.filled("name"),
        pressure_kpa=c.maybe_number("pressure_kpa"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _crop(c: Cells) -> rows.Crop:
    c.ordered("root_low_m", "root_low_m", "root_high_m")
    return rows.Crop(
        key=c.filled("key"),
        name=c.filled("name"),
        kind=c.word("kind", rows.CROP_KINDS),
        kc_ini=c.number("kc_ini"),
        kc_mid=c.number("kc_mid"),
        kc_end=c.number("kc_end"),
        root_low_m=c.number("root_low_m"),
        root_high_m=c.number("root_high_m"),
        depletion=c.number("depletion"),
        height_m=c.number("height_m"),
        ini_d=c.maybe_number("ini_d"),
        dev_d=c.maybe_number("dev_d"),
        mid_d=c.maybe_number("mid_d"),
        late_d=c.maybe_number("late_d"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _soil(c: Cells) -> rows.Soil:
    c.ordered("field_capacity_low", "field_capacity_low", "field_capacity_high")
    c.ordered("wilting_low", "wilting_low", "wilting_high")
    return rows.Soil(
        key=c.filled("key"),
        name=c.filled("name"),
        field_capacity_low=c.number("field_capacity_low"),
        field_capacity_high=c.number("field_capacity_high"),
        wilting_low=c.number("wilting_low"),
        wilting_high=c.number("wilting_high"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _caution(c: Cells) -> rows.Caution:
    return rows.Caution(
        key=c.filled("key"),
        text=c.filled("text"),
        applies=c.filled("applies"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        origin=c.origin,
    )


def _organism(c: Cells) -> rows.Organism:
    for field in ("do_early", "do_soon", "do_now", "do_over"):
        if c.text(field).split(" ")[0].rstrip(".:") not in ("Look", "Do", "Wait", "Ask"):
            c.fault(field, "This sentence does not begin with its verb.", "Begin with Look, Do, Wait or Ask.")
    return rows.Organism(
        key=c.filled("key"),
        name=c.filled("name"),
        scientific=c.filled("scientific"),
        kind=c.filled("kind"),
        hosts=c.filled("hosts"),
        generations=c.filled("generations"),
        overwinters=c.filled("overwinters"),
        cycle=c.filled("cycle"),
        look=c.filled("look"),
        treatable=c.filled("treatable"),
        do_early=c.filled("do_early"),
        do_soon=c.filled("do_soon"),
        do_now=c.filled("do_now"),
        do_over=c.filled("do_over"),
        leave_alone=c.filled("leave_alone"),
        mistake=c.filled("mistake"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _stage(c: Cells) -> rows.Stage:
    kind = c.word("kind", rows.STAGE_KINDS)
    if kind in ("heat", "event"):
        c.number("dd_low")
        c.number("base")
        c.word("unit", ("F", "C"))
        c.filled("method")
        c.filled("start")
    if kind == "heat":
        c.month_day("start_used")
    elif kind == "calendar":
        c.month_day("first")
        c.month_day("last")
        c.filled("place")
    c.ordered("dd_low", "dd_low", "dd_high")
    c.ordered("base", "base", "upper")
    return rows.Stage(
        key=c.filled("key"),
        organism=c.filled("organism"),
        stage=c.filled("stage"),
        kind=kind,
        use=c.word("use", rows.STAGE_USES),
        dd_low=c.maybe_number("dd_low"),
        dd_high=c.maybe_number("dd_high"),
        unit=c.text("unit"),
        base=c.maybe_number("base"),
        upper=c.maybe_number("upper"),
        cutoff=c.text("cutoff") or "none",
        method=c.text("method"),
        start=c.text("start"),
        start_used=c.text("start_used"),
        first=c.text("first"),
        last=c.text("last"),
        place=c.text("place"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _window(c: Cells) -> rows.Window:
    return rows.Window(
        key=c.filled("key"),
        organism=c.filled("organism"),
        generation=c.whole("generation"),
        name=c.filled("name"),
        opens=c.filled("opens"),
        open_at=c.word("open_at", rows.WINDOW_BOUNDS),
        open_lag_d=c.whole("open_lag_d", 0),
        closes=c.filled("closes"),
        close_at=c.word("close_at", rows.WINDOW_BOUNDS),
        close_lag_d=c.whole("close_lag_d", 0),
        signs=c.words("signs"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _treatment(c: Cells) -> rows.Treatment:
    organism, rank = c.filled("organism"), c.whole("rank")
    return rows.Treatment(
        key=f"{organism}.{rank}",
        organism=organism,
        rank=rank,
        kind=c.word("kind", rows.TREATMENT_KINDS),
        action=c.filled("action"),
        when=c.filled("when"),
        cautions=c.words("cautions"),
        source=c.source(),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _trouble(c: Cells) -> rows.Trouble:
    for topic in c.words("topics"):
        if topic not in rows.TROUBLE_TOPICS:
            c.fault(
                "topics", "There is no such topic.", nearest(topic, rows.TROUBLE_TOPICS) or "Take it out."
            )
    return rows.Trouble(
        key=c.filled("key"),
        symptom=c.filled("symptom"),
        words=c.words("words"),
        topics=c.words("topics"),
        cause=c.filled("cause"),
        test=c.filled("test"),
        fix=c.filled("fix"),
        cautions=c.words("cautions"),
        source=c.source(),
        place=c.text("place"),
        status=c.status(),
        note=c.text("note"),
        origin=c.origin,
    )


def _host(c: Cells) -> rows.Host:
    return rows.Host(
        organism=c.filled("organism"),
        plant_kind=c.filled("plant_kind"),
        source=c.source(),
        status=c.status(),
        origin=c.origin,
    )


SOURCES = Table("sources", columns("id,author,year,title,edition,licence,note"), _source, lambda row: row.id)
FACTS = Table(
    "facts", columns("key,value,low,high,unit,source,place,status,note"), _fact, lambda row: row.key
)
CAUTIONS = Table("cautions", columns("key,text,applies,source,place,status"), _caution, lambda row: row.key)
COVERINGS = Table(
    "coverings.csv",
    columns(
        "key,name,coefficient,low,high,wetting_loss_mm,wetting_low_mm,wetting_high_mm,edible,edible_note,"
        "source,place,status,note"
    ),
    _covering,
    lambda row: row.key,
)
BEARING = Table(
    "bearing.csv", columns("key,name,pressure_kpa,source,place,status,note"), _bearing, lambda row: row.key
)
CROPS = Table(
    "crops.csv",
    columns(
        "key,name,kind,kc_ini,kc_mid,kc_end,root_low_m,root_high_m,depletion,height_m,ini_d,dev_d,mid_d,late_d,"
        "source,place,status,note"
    ),
    _crop,
    lambda row: row.key,
)
SOILS = Table(
    "soils.csv",
    columns(
        "key,name,field_capacity_low,field_capacity_high,wilting_low,wilting_high,source,place,status,note"
    ),
    _soil,
    lambda row: row.key,
)
ORGANISMS = Table(
    "organisms.csv",
    columns(
        "key,name,scientific,kind,hosts,generations,overwinters,cycle,look,treatable,do_early,do_soon,do_now,do_over,"
        "leave_alone,mistake,source,status,note"
    ),
    _organism,
    lambda row: row.key,
)
STAGES = Table(
    "stages.csv",
    columns(
        "key,organism,stage,kind,use,dd_low,dd_high,unit,base,upper,cutoff,method,start,start_used,first,last,"
        "place,source,status,note"
    ),
    _stage,
    lambda row: row.key,
)
WINDOWS = Table(
    "windows.csv",
    columns(
        "key,organism,generation,name,opens,open_at,open_lag_d,closes,close_at,close_lag_d,signs,"
        "source,place,status,note"
    ),
    _window,
    lambda row: row.key,
)
TREATMENTS = Table(
    "treatments.csv",
    columns("organism,rank,kind,action,when,cautions,source,status,note"),
    _treatment,
    lambda row: row.key,
)
TROUBLES = Table(
    "troubles.csv",
    columns("key,symptom,words,topics,cause,test,fix,cautions,source,place,status,note"),
    _trouble,
    lambda row: row.key,
)
HOSTS = Table(
    "hosts.csv",
    columns("organism,plant_kind,source,status"),
    _host,
    lambda row: f"{row.organism} on {row.plant_kind}",
)
