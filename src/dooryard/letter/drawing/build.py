"""The build sheet: one barrel on its stand beside the wall, to scale, with every height from the ground line.

Heights stand on one ladder at the right with leader lines, outside measures lie on the thing itself, as a joiner
draws them. Black lines alone carry it: a photocopy loses nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import floor
from typing import Any, NamedTuple

from dooryard.letter.drawing.axis import spread
from dooryard.letter.drawing.ink import INK, LABEL, PAPER, RULE, SMALL, wrap
from dooryard.letter.drawing.measure import PLATE, UNITS, circle, measure_across, measure_up
from dooryard.letter.drawing.pen import drawing, line, path, rect, text

_TOP = 26.0
_LINE = 19.0
_WALL = 22.0  # from the left edge to the face of the wall


def build(chart: Mapping[str, Any], width: int, depth: float = 1.0) -> str:  # noqa: ARG001 - all drawings take it
    """The chart "build" as a drawing; on a plate in its stated scale, else as large as its column lets it be."""
    labels_wide = min(236.0, width * 0.44)
    hose = 40.0 if chart["hose"] else 18.0
    spout = chart["spout_width"] or 0.0
    across = max(chart["barrel"]["width"], chart["stand"]["width"])
    highest = max(mark["at"] for mark in chart["heights"])
    room = width - _WALL - hose - labels_wide - 14
    scale = UNITS[chart["unit"]] / chart["scale"] if width >= PLATE else room / (across + spout + 6)
    frame = _Frame(chart, scale, width, labels_wide, hose, _TOP + highest * scale + 24)
    body = [
        *frame.wall(),
        *frame.lines_to_ladder(),
        *frame.ground(),
        *frame.barrel(),
        *frame.spout(),
        *frame.overflow(),
        *frame.spigot(),
        *frame.ladder(),
        *frame.widths(),
        *frame.bar(),
    ]
    return drawing(chart, width, frame.bottom, body)


class _Step(NamedTuple):
    """One height on the ladder: where it stands, where its words do, and the words with whether they are bold."""

    part: str
    y: float
    row: float
    words: list[tuple[str, bool]]


class _Frame:
    """Where everything stands: x to the right, y down, `floor` the ground line."""

    def __init__(
        self, chart: Mapping[str, Any], scale: float, width: float, labels: float, hose: float, floor_y: float
    ) -> None:
        self.chart = chart
        self.scale = scale
        self.width = width
        self.floor = floor_y
        self.spout_wide = max(6.0, (chart["spout_width"] or 0.0) * scale)
        self.stand_wide = chart["stand"]["width"] * scale
        self.barrel_wide = chart["barrel"]["width"] * scale
        gap = _WALL + self.spout_wide + 14
        self.middle = gap + max(self.stand_wide, self.barrel_wide) / 2
        self.left = self.middle - self.barrel_wide / 2
        self.right = self.middle + self.barrel_wide / 2
        self.stand_left = self.middle - self.stand_wide / 2
        self.stand_right = self.middle + self.stand_wide / 2
        self.rail = max(self.right, self.stand_right) + hose + 10
        self.labels = min(labels, width - self.rail - 22)
        self.hose_right = self.rail
        self.at = {mark["part"]: mark for mark in chart["heights"]}
        self.steps = self._steps()
        last = self.steps[-1]
        self.foot = max(self.floor + 46, last.row + len(last.words) * _LINE / 2 + 8)
        self.notes = [wrap(words, width - 8, SMALL) for words in (chart["bar"]["text"], *chart["notes"])]
        self.bottom = self.foot + 26 + sum(len(lines) for lines in self.notes) * (_LINE - 1) + 6

    def y(self, height: float) -> float:
        """Where a height over the ground line stands."""
        return self.floor - height * self.scale

    def wall(self) -> list[str]:
        """The face of the house wall, hatched behind."""
        marks = [line(_WALL, 8, _WALL, self.floor, width=2)]
        step = 16
        marks += [
            line(_WALL, 14 + step * i, _WALL - 12, 24 + step * i, colour=RULE)
            for i in range(floor((self.floor - 24) / step))
        ]
        return marks

    def ground(self) -> list[str]:
        """The ground line, with its true fall away from the wall beyond the stand if it is known."""
        far = self.rail - 4
        fall = self.chart["fall"] or 0.0
        low = self.floor + fall * (far - self.stand_right)
        marks = [path(f"M0 {self.floor:.1f}H{self.stand_right:.1f}L{far:.1f} {low:.1f}", colour=INK, width=2)]
        for i in range(floor(far / 18)):
            x = 6.0 + 18 * i
            y = self.floor + max(0.0, x - self.stand_right) * fall
            marks.append(line(x + 8, y, x, y + 8, colour=RULE))
        return marks

    def barrel(self) -> list[str]:
        """Barrel and stand with their outside measures."""
        base = self.chart["stand"]["height"]
        top, bottom = self.y(self.at["rim"]["at"]), self.y(base)
        marks = [rect(self.left, top, self.barrel_wide, bottom - top, fill=PAPER, outline=INK, stroke=2.5)]
        if base > 0:
            marks.append(
                rect(
                    self.stand_left,
                    bottom,
                    self.stand_wide,
                    self.floor - bottom,
                    fill=PAPER,
                    outline=INK,
                    stroke=2,
                )
            )
            marks += self._courses(bottom)
        # Outside measures of the barrel, on the barrel.
        across = top + (bottom - top) * 0.42
        marks += measure_across(self.left, self.right, across, self.chart["barrel"]["width_text"])
        marks += measure_up(self.left + 26, top, bottom, self.chart["barrel"]["height_text"])
        return marks

    def _courses(self, top: float) -> list[str]:
        courses = self.chart["stand"]["courses"]
        tall = (self.floor - top) / courses
        marks: list[str] = []
        for course in range(courses):
            y = top + course * tall
            if course:
                marks.append(line(self.stand_left, y, self.stand_right, y))
            # Joints of one course lie over the blocks of the next.
            for joint in (0.5,) if course % 2 == 0 else (0.25, 0.75):
                x = self.stand_left + joint * self.stand_wide
                marks.append(line(x, y, x, y + tall, colour=RULE))
        return marks

    def spout(self) -> list[str]:
        """The downspout down to its cut, and the flexible section into the barrel."""
        cut = self.at.get("cut")
        if cut is None:
            return []
        x, end = _WALL + 4, self.y(cut["at"])
        wide = self.spout_wide
        inlet = self.left + self.barrel_wide * 0.3
        top = self.y(self.at["rim"]["at"])
        bend = (end + top) / 2
        half = min(wide, self.barrel_wide * 0.3) / 2
        centre = x + wide / 2
        sides = [
            f"M{centre + side * wide / 2:.1f} {end:.1f}C{centre + side * wide / 2:.1f} {bend:.1f} "
            f"{inlet + side * half:.1f} {bend:.1f} {inlet + side * half:.1f} {top:.1f}"
            for side in (-1, 1)
        ]
        return [
            rect(x, 8, wide, end - 8, fill=PAPER, outline=INK, stroke=1.5),
            line(x - 3, end, x + wide + 3, end, width=3),
            *(path(side, colour=INK, width=1.2, dash="5 3") for side in sides),
            text(inlet + half + 8, bend + 5, "flexible section", size=SMALL),
        ]

    def overflow(self) -> list[str]:
        """The overflow's pipe and the hose down and away."""
        mark = self.at.get("overflow")
        if mark is None:
            return []
        y = self.y(mark["at"])
        thick = max(6.0, mark["bore"] * self.scale)
        x = self.right + 20
        far = self.rail - 8
        fall = self.chart["fall"] or 0.0
        foot = self.floor - thick / 2 - 1
        end = foot + fall * (far - self.stand_right)
        run = max(x, self.stand_right + 6 + thick / 2)
        self.hose_right = run + thick / 2 + 1
        middle = f"M{self.right:.1f} {y:.1f}H{x:.1f}L{run:.1f} {y + 30:.1f}V{foot:.1f}L{far:.1f} {end:.1f}"
        return [
            path(middle, colour=INK, width=thick + 2),
            path(middle, colour=PAPER, width=max(2.0, thick - 1)),
            # Two short strokes: it goes on, not to scale.
            line(far - 3, end + 10, far + 3, end - 12, width=1.5),
            line(far + 2, end + 10, far + 8, end - 12, width=1.5),
        ]

    def spigot(self) -> list[str]:
        """The spigot's hole, seen from in front, with its crossed lines."""
        mark = self.at["spigot"]
        y = self.y(mark["at"])
        radius = max(4.0, mark["bore"] * self.scale / 2)
        ring = circle(self.middle, y, radius)
        return [
            path(ring, fill=PAPER, colour=INK, width=2),
            line(self.middle - radius - 5, y, self.middle + radius + 5, y, width=1),
            line(self.middle, y - radius - 5, self.middle, y + radius + 5, width=1),
        ]

    def lines_to_ladder(self) -> list[str]:
        """Thin lines from each height to the ladder; what is drawn later lies over them."""
        starts = {
            "rim": self.right,
            "stand": self.stand_right,
            "spigot": self.right,
            "overflow": self.right,
            "cut": _WALL + self.spout_wide,
        }
        return [
            line(starts[part], self.y(mark["at"]), self.rail + 5, self.y(mark["at"]), colour=RULE)
            for part, mark in self.at.items()
            if part in starts
        ]

    def ladder(self) -> list[str]:
        """One upright line with a tick at each height, and beside it what stands there."""
        marks = [line(self.rail, self.steps[0].y, self.rail, self.floor, width=1.2)]
        for step in self.steps:
            start = self.rail + 5
            if step.part == "hose":
                start = self.hose_right
            else:
                marks.append(line(self.rail - 5, step.y + 4, self.rail + 5, step.y - 4, width=1.6))
            marks.append(path(f"M{start:.1f} {step.y:.1f}L{self.rail + 17:.1f} {step.row:.1f}", colour=RULE))
            first = step.row - len(step.words) * _LINE / 2 + LABEL - 1
            marks += [
                text(
                    self.rail + 20,
                    first + _LINE * i,
                    part,
                    bold=bold,
                    size=LABEL if bold else SMALL,
                    halo=False,
                )
                for i, (part, bold) in enumerate(step.words)
            ]
        return marks

    def _steps(self) -> list[_Step]:
        """What the ladder says from the top down, each where it finds room."""
        found = sorted(self.chart["heights"], key=lambda mark: -mark["at"])
        if self.chart["hose"]:
            # The hose hangs between its own end and the spigot; it has no height of its own and gets no tick.
            hose = {
                "part": "hose",
                "at": self._hose_height(),
                "text": "overflow hose",
                "more": self.chart["hose"],
            }
            found = sorted([*found, hose], key=lambda mark: -mark["at"])
        blocks = [
            [
                *[(part, True) for part in wrap(mark["text"], self.labels, LABEL, bold=True)],
                *[(part, False) for part in wrap(mark["more"], self.labels, SMALL) if mark["more"]],
            ]
            for mark in found
        ]
        ys = [self.y(mark["at"]) for mark in found]
        rows = spread(ys, [len(block) * _LINE + 6 for block in blocks], 0, self.floor + 30)
        return [
            _Step(mark["part"], y, row, block)
            for mark, y, row, block in zip(found, ys, rows, blocks, strict=True)
        ]

    def _hose_height(self) -> float:
        spilling = self.at["overflow"]["at"]
        return float(spilling + self.at["spigot"]["at"]) / 2

    def widths(self) -> list[str]:
        """The width of the stand, under the ground line."""
        if self.chart["stand"]["height"] <= 0:
            return []
        y = self.floor + 20
        return [
            line(self.stand_left, self.floor + 3, self.stand_left, y + 5, colour=RULE),
            line(self.stand_right, self.floor + 3, self.stand_right, y + 5, colour=RULE),
            *measure_across(self.stand_left, self.stand_right, y, self.chart["stand"]["width_text"], 17),
        ]

    def bar(self) -> list[str]:
        """A bar of known length, and the notes."""
        half = self.chart["bar"]["length"] * self.scale / 2
        marks = [
            rect(8, self.foot, half, 8, fill=INK, outline=INK),
            rect(8 + half, self.foot, half, 8, fill=PAPER, outline=INK),
        ]
        y = self.foot + 26
        for lines in self.notes:
            for words in lines:
                marks.append(text(8, y, words, size=SMALL, halo=False))
                y += _LINE - 1
        return marks
