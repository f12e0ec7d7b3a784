"""Each drawing is well-formed, legible, true to scale, and says so where there is nothing to draw."""

from __future__ import annotations

import copy
import itertools
import json
import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from dooryard.letter.drawing import COLUMN, LARGE, NARROW, SQUAT, WIDE, ink, svg
from dooryard.letter.drawing.ink import text_width
from dooryard.problem import InputError

Chart = dict[str, Any]

SVG = "{http://www.w3.org/2000/svg}"
PLAN = json.loads((Path(__file__).parents[2] / "fixtures" / "plan.json").read_text("utf-8"))
CHARTS = {chart["id"]: chart for chart in PLAN["charts"]}
WIDTHS = (WIDE, LARGE, COLUMN, NARROW)
EACH = [pytest.param(chart_id, width, id=f"{chart_id}-{width}") for chart_id in CHARTS for width in WIDTHS]
FONTS = Path(ink.__file__).parents[1] / "fonts"


def chart(chart_id: str, **changes: Any) -> Chart:
    return {**copy.deepcopy(CHARTS[chart_id]), **changes}


def parsed(drawn: Chart, width: int = WIDE) -> ElementTree.Element:
    # On a sheet drawings are squat.
    return ElementTree.fromstring(svg(drawn, width, depth=SQUAT if width in (COLUMN, LARGE) else 1.0))


def words(root: ElementTree.Element) -> list[str]:
    return [(text.text or "").replace("\N{NO-BREAK SPACE}", " ") for text in root.iter(f"{SVG}text")]


def test_fixture_holds_every_kind_of_drawing() -> None:
    assert {drawn["kind"] for drawn in CHARTS.values()} == {"ribbon", "fan", "season", "glass", "worth"}


@pytest.mark.parametrize(("chart_id", "width"), EACH)
def test_drawing_needs_nothing_but_presentation_attributes(chart_id: str, width: int) -> None:
    text = svg(CHARTS[chart_id], width)
    root = ElementTree.fromstring(text)
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
        *("svg", "defs", "pattern", "g", "path", "line", "rect", "text")
    }
    attributes = {name for element in root.iter() for name in element.attrib}
    assert not attributes & {"class", "style", "href", "onload"}
    assert text.count("://") == 1  # the namespace of SVG itself
    assert root.get("role") == "img"
    assert (root.get("aria-label") or "").startswith(CHARTS[chart_id]["title"])


@pytest.mark.parametrize(("chart_id", "width"), EACH)
def test_drawing_letters_are_never_smaller_than_twelve_units(chart_id: str, width: int) -> None:
    sizes = [float(text.get("font-size", "0")) for text in parsed(CHARTS[chart_id], width).iter(f"{SVG}text")]
    assert sizes
    assert min(sizes) >= 12


def hard_cases() -> dict[str, Chart]:
    """Charts that crowd their labels: many, long, close together, or with little room."""
    year = [(date(2031, 1, 1) + timedelta(days=i)).isoformat() for i in range(365)]
    wet: list[float | None] = [None if i in (5, 163) or 100 <= i < 160 else (i % 7) / 5 for i in range(365)]
    marks = [("overflow of the second barrel", 50.2), ("outlet", 4.9), ("tap", 5.5), ("stress", 6.0)]
    ribbon = chart(
        "back-barrel.ribbon",
        dates=year,
        rain=wet,
        low=[5.0] * 365,
        high=[20.0] * 365,
        today="2031-12-20",
        forecast_from="2031-12-20",
        marks=[{"label": label, "value": value} for label, value in marks],
    )
    long_name = "a very long name of an organism on the north slope of the back garden"
    lines = [{**line, "label": long_name} for line in CHARTS["season.line"]["lines"]]
    flat = {
        "height": 12.0,
        "diameter": 60.0,
        "outlet": 1.0,
        "overflow": 11.0,
        "level_low": 4.0,
        "level_high": 5.0,
    }
    return {
        "a year of days": ribbon,
        "today at the left": {**ribbon, "today": "2031-01-01", "forecast_from": "2031-01-01"},
        "three days": {**ribbon, **{key: ribbon[key][:3] for key in ("dates", "rain", "low", "high")}},
        "tall tank": chart("back-barrel.glass", height=80.0, diameter=20.0, outlet=1.0, overflow=79.0),
        "flat tank": chart("back-barrel.glass", level_text="about 1,200 to 1,450 gal in it", **flat),
        "many thresholds": chart(
            "heat.fan",
            thresholds=[{"label": f"crawlers of scale {i}", "value": 300 + 20 * i} for i in range(14)],
        ),
        "long names": chart("season.line", lines=lines),
        "level steps": chart(
            "back-barrel.worth", steps=[{"label": "one more", "dry": 5, "middling": 5, "wet": 5}] * 6
        ),
    }


CROWDED = [
    *(pytest.param(drawn, width, id=f"{key}-{width}") for key, drawn in CHARTS.items() for width in WIDTHS),
    *(
        pytest.param(drawn, width, id=f"{key}-{width}")
        for key, drawn in hard_cases().items()
        for width in WIDTHS
    ),
]


@pytest.mark.parametrize(("drawn", "width"), CROWDED)
def test_drawing_words_never_lie_on_one_another_or_leave_the_drawing(drawn: Chart, width: int) -> None:
    root = parsed(drawn, width)
    height = float(root.get("height", "0"))
    boxes = boxes_of(root)
    for text, (left, top, right, bottom) in boxes:
        assert left >= -1, text
        assert right <= width * 1.02 + 1, text
        assert top >= -1, text
        assert bottom <= height + 1, text
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, f"{one!r} lies on {other!r}"


def boxes_of(root: ElementTree.Element) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Words with about the box their letters fill (from capital height to base line)."""
    found = []
    shifted = {
        text: tuple(float(part) for part in re.findall(r"[-\d.]+", group.get("transform", "")))
        for group in root.iter(f"{SVG}g")
        for text in group.iter(f"{SVG}text")
    }
    for text in root.iter(f"{SVG}text"):
        dx, dy = shifted.get(text, (0.0, 0.0))[:2]
        x, y = float(text.get("x", "0")) + dx, float(text.get("y", "0")) + dy
        size = float(text.get("font-size", "0"))
        # The estimate of a phrase's width errs on the wide side; letters really fill a little less.
        wide = text_width(text.text or "", size, bold=text.get("font-weight") == "700") * 0.96
        start = x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor", "start")]
        if text.get("transform"):
            found.append((text.text or "", (x - size * 0.7, y - wide / 2, x, y + wide / 2)))
        else:
            found.append((text.text or "", (start, y - size * 0.7, start + wide, y)))
    return found


@pytest.mark.parametrize("chart_id", CHARTS)
def test_drawing_escapes_whatever_a_person_typed(chart_id: str) -> None:
    nasty = "<script>\"&'"
    drawn = json.loads(json.dumps(CHARTS[chart_id]))
    drawn["title"] = drawn["words"] = nasty
    for key in ("level_name", "unit", "rain_unit", "level_unit", "free_text", "level_text"):
        if key in drawn:
            drawn[key] = nasty
    for key in ("marks", "thresholds", "lines", "steps"):
        for row in drawn.get(key, ()):
            row["label"] = nasty
    text = svg(drawn)
    assert "<script" not in text
    assert nasty in (ElementTree.fromstring(text).get("aria-label") or "")


@pytest.mark.parametrize("factor", [1e-9, 1e9])
@pytest.mark.parametrize("chart_id", CHARTS)
def test_drawing_of_tiny_or_huge_amounts_has_no_scientific_notation(chart_id: str, factor: float) -> None:
    def scaled(value: Any) -> Any:
        if isinstance(value, float | int) and not isinstance(value, bool):
            return value * factor
        if isinstance(value, list):
            return [scaled(item) for item in value]
        if isinstance(value, dict):
            return {key: value if key in ("years", "table") else scaled(item) for key, item in value.items()}
        return value

    drawn = scaled({key: value for key, value in CHARTS[chart_id].items() if key not in ("years", "table")})
    drawn["years"] = CHARTS[chart_id].get("years")
    assert not re.search(r"\d[eE][+-]?\d", svg(drawn))


def test_drawing_of_an_unknown_kind_is_refused_with_the_kinds_there_are() -> None:
    with pytest.raises(
        InputError, match="build, fan, glass, lookback, ribbon, season, strip, template, worth"
    ):
        svg({"id": "x", "kind": "dial", "title": "", "words": ""})


# --- nothing to draw ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "drawn",
    [
        pytest.param(chart("back-barrel.ribbon", dates=[], rain=[], low=[], high=[]), id="ribbon-no-days"),
        pytest.param(
            chart("back-barrel.ribbon", dates=["2031-05-01"], rain=[None], low=[None], high=[None]),
            id="ribbon-null",
        ),
        pytest.param(
            chart("heat.fan", dates=[], observed=[], p10=[], p25=[], p50=[], p75=[], p90=[]), id="fan-no-days"
        ),
        pytest.param(chart("season.line", lines=[]), id="season-no-lines"),
        pytest.param(chart("back-barrel.glass", height=None), id="glass-no-height"),
        pytest.param(chart("back-barrel.worth", steps=[]), id="worth-no-steps"),
        pytest.param(
            chart(
                "back-barrel.worth", steps=[{"label": "first", "dry": None, "middling": None, "wet": None}]
            ),
            id="worth-null",
        ),
    ],
)
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_drawing_without_data_says_so_in_words(drawn: Chart, width: int) -> None:
    said = " ".join(words(parsed(drawn, width)))
    assert re.search(r"[Nn]o(thing| line| section) to draw", said)


def test_glass_without_a_level_says_it_is_not_known() -> None:
    said = " ".join(words(parsed(chart("back-barrel.glass", level_low=None, level_high=None, level_text=""))))
    assert "level not known" in said


# --- gaps, today, forecast ----------------------------------------------------------------------------------

DATES = [f"2031-05-{day:02d}" for day in range(1, 21)]


def small_ribbon(rain: list[float | None], forecast_from: str | None = None) -> Chart:
    level: list[float] = [10.0] * len(DATES)
    return chart(
        "back-barrel.ribbon",
        dates=DATES,
        rain=rain,
        low=level,
        high=level,
        today=DATES[14],
        forecast_from=forecast_from,
    )


def bars(root: ElementTree.Element, fill: str, outline: str | None = None) -> list[float]:
    """Lengths of the rain bars of a ribbon, which hang from the strip's top line."""
    return [
        float(rect.get("height", "0"))
        for rect in root.iter(f"{SVG}rect")
        if rect.get("fill") == fill and rect.get("stroke") == outline and rect.get("y") == "50"
    ]


def test_ribbon_gap_in_the_record_is_named_and_a_dry_day_is_not() -> None:
    dry = small_ribbon([0.0] * 20)
    gap = small_ribbon([0.0] * 8 + [None] * 4 + [0.0] * 8)
    assert "record" not in " ".join(words(parsed(dry)))
    assert "no record" in " ".join(words(parsed(gap)))


def test_ribbon_single_missing_day_is_named_too() -> None:
    rain: list[float | None] = [0.0] * 20
    rain[3] = None
    assert "no record" in " ".join(words(parsed(small_ribbon(rain))))


def test_ribbon_days_to_come_without_a_level_are_no_gap_in_the_record() -> None:
    drawn = small_ribbon([0.0] * 20, forecast_from=DATES[14])
    drawn["low"] = drawn["high"] = [10.0] * 14 + [None] * 6
    said = words(parsed(drawn))
    assert "record" not in " ".join(said)
    assert "expected" not in said


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_ribbon_that_ends_with_yesterday_shows_today_at_its_edge(width: int) -> None:
    root = parsed({**small_ribbon([0.0] * 20), "today": "2031-05-21"}, width)
    assert "today, 21 May" in words(root)
    assert [mark for mark in root.iter(f"{SVG}line") if mark.get("x1") == mark.get("x2") == str(width)]


def test_drawing_never_names_itself_with_an_unspelled_mark() -> None:
    label = parsed(chart("heat.fan", words="Heat is [[heat.sum]] today.")).get("aria-label")
    assert label == CHARTS["heat.fan"]["title"]


def test_ribbon_twice_the_rain_hangs_twice_as_far() -> None:
    rain: list[float | None] = [0.0] * 20
    rain[2], rain[5] = 0.4, 0.8
    short, long = sorted(bars(parsed(small_ribbon(rain)), ink.INK))
    assert long == pytest.approx(2 * short, abs=0.02)


def test_ribbon_forecast_rain_is_hollow_and_measured_rain_is_solid() -> None:
    rain: list[float | None] = [0.0] * 20
    rain[2], rain[16] = 0.5, 0.5
    root = parsed(small_ribbon(rain, forecast_from=DATES[14]))
    assert len(bars(root, ink.INK)) == 1
    assert len(bars(root, ink.PAPER, ink.INK)) == 1
    assert "forecast" in words(root)


def test_glass_height_and_width_share_one_scale() -> None:
    root = parsed(CHARTS["back-barrel.glass"])
    walls = next(path for path in root.iter(f"{SVG}path") if path.get("stroke-width") == "4")
    left, top, floor, right, _ = (float(part) for part in re.findall(r"[-\d.]+", walls.get("d", "")))
    glass = CHARTS["back-barrel.glass"]
    assert (right - left) / (floor - top) == pytest.approx(glass["diameter"] / glass["height"], rel=0.003)


def test_worth_tread_heights_are_in_proportion() -> None:
    steps = [{"label": "a", "dry": 100, "middling": 200, "wet": 400}]
    root = parsed(chart("back-barrel.worth", steps=steps))
    rises = []
    for path in root.iter(f"{SVG}path"):
        if path.get("fill") not in (None, "none") and path.get("stroke"):
            ys = [float(y) for y in re.findall(r"[ML][-\d.]+ ([-\d.]+)", path.get("d", ""))]
            rises.append(max(ys) - min(ys))
    wet, middling, dry = sorted(rises, reverse=True)
    assert (wet / dry, middling / dry) == (pytest.approx(4, rel=0.01), pytest.approx(2, rel=0.01))


def test_worth_years_in_an_unusual_order_are_named_on_the_step() -> None:
    steps = [{"label": "a", "dry": 300, "middling": 200, "wet": 100}]
    assert {"dry 300", "middling 200", "wet 100"} <= set(
        words(parsed(chart("back-barrel.worth", steps=steps)))
    )


def test_season_says_every_verdict_word_and_draws_no_bar_without_a_window() -> None:
    line = {
        **dict.fromkeys(CHARTS["season.line"]["lines"][0]),
        "label": "a",
        "word": "not here",
        "sightings": [],
    }
    with_bars = {**line, "word": "soon", "earliest": "2031-05-28", "latest": "2031-06-17"}
    without = parsed(chart("season.line", lines=[line]))
    with_one = parsed(chart("season.line", lines=[with_bars]))
    assert "not here" in words(without)
    solid = [
        len([r for r in root.iter(f"{SVG}rect") if r.get("fill") == ink.INK]) for root in (without, with_one)
    ]
    assert solid[1] == solid[0] + 1


def test_season_window_open_at_its_end_runs_to_the_end_of_the_year() -> None:
    line = {
        **dict.fromkeys(CHARTS["season.line"]["lines"][0]),
        "label": "a",
        "word": "now",
        "sightings": [],
    }
    root = parsed(chart("season.line", lines=[{**line, "earliest": "2031-12-01"}]))
    bar = next(rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == ink.CLAY)
    axis = max(float(mark.get("x2", "0")) for mark in root.iter(f"{SVG}line"))
    assert float(bar.get("x", "0")) + float(bar.get("width", "0")) == pytest.approx(axis, abs=0.05)


def test_fan_gap_in_the_sum_is_named_with_its_days() -> None:
    assert "no record: 11 to 12 March" in words(parsed(CHARTS["heat.fan"]))


# --- inks ---------------------------------------------------------------------------------------------------


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2 defines it."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lightness(colour: str) -> float:
    """CIE L* of a colour: how light a photocopy shows it, 0 to 100."""
    y = luminance(colour)
    return 116 * y ** (1 / 3) - 16 if y > 0.008856 else 903.3 * y


@pytest.mark.parametrize("colour", [ink.INK, ink.CLAY])
def test_inks_of_letters_have_seven_to_one_on_paper_and_on_white(colour: str) -> None:
    assert contrast(colour, ink.PAPER) >= 7
    assert contrast(colour, "#ffffff") >= 7


@pytest.mark.parametrize("colour", [ink.WATER, ink.RULE])
def test_inks_of_lines_have_three_to_one(colour: str) -> None:
    assert contrast(colour, ink.PAPER) >= 3
    assert contrast(ink.WATER, ink.GROUND) >= 3


def test_inks_stay_apart_on_a_photocopy() -> None:
    shades = sorted(
        lightness(colour) for colour in (ink.INK, ink.CLAY, ink.WATER, ink.WATER_AHEAD, ink.PAPER)
    )
    assert min(b - a for a, b in itertools.pairwise(shades)) >= 12


@pytest.mark.parametrize("chart_id", CHARTS)
def test_words_in_a_drawing_are_written_in_ink_or_clay(chart_id: str) -> None:
    assert {text.get("fill") for text in parsed(CHARTS[chart_id]).iter(f"{SVG}text")} <= {ink.INK, ink.CLAY}


# --- the typesetter draws it too ----------------------------------------------------------------------------


def typeset(text: str) -> bytes:
    typst = pytest.importorskip("typst")
    page = b'#set page(width: 480pt, height: auto, margin: 6pt)\n#image("a.svg", alt: "drawing")'
    files = {"main.typ": page, "a.svg": text.encode()}
    image = typst.compile(files, font_paths=[FONTS], ignore_system_fonts=True, format="png", ppi=72)
    assert isinstance(image, bytes)
    return image


@pytest.mark.parametrize("chart_id", CHARTS)
def test_drawing_renders_in_the_typesetter(chart_id: str) -> None:
    assert typeset(svg(CHARTS[chart_id])).startswith(b"\x89PNG")


@pytest.mark.parametrize("chart_id", ["back-barrel.glass", "back-barrel.ribbon", "back-barrel.worth"])
def test_hatches_are_drawn_by_the_typesetter(chart_id: str) -> None:
    drawn = svg(CHARTS[chart_id])
    assert "url(#" in drawn
    assert typeset(drawn) != typeset(re.sub(r'fill="url\(#[^)]*\)"', 'fill="none"', drawn))
