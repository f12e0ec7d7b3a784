"""The pictures of the generator's report: every panel and mark is there, and nothing lies outside."""

import xml.etree.ElementTree as ET

import numpy as np

from tools.generator_pictures import WIDTH, Axis, Panel, months_axis, picture

SVG = "{http://www.w3.org/2000/svg}"


def panel(name, values, extra=None):
    values = np.array(values, dtype=float)
    x = np.arange(float(len(values)))
    return Panel(name, x, values, x, values * 1.1, values * 0.9, values * 1.3, extra)


def drawn(axis, panels, extra=""):
    return ET.fromstring(picture("Rain", "Rain of two places.", axis, panels, extra=extra))


def words_of(tree):
    return [node.text for node in tree.iter(f"{SVG}text")]


def test_picture_has_a_panel_for_each_station_and_a_dot_for_each_value():
    tree = drawn(
        months_axis("mm"),
        [panel("Here", range(1, 13)), panel("There", range(20, 32)), panel("Third", [5] * 12)],
    )
    assert [word for word in words_of(tree) if word in ("Here", "There", "Third")] == [
        "Here",
        "There",
        "Third",
    ]
    # One more dot stands in the key.
    assert len(list(tree.iter(f"{SVG}circle"))) == 3 * 12 + 1
    assert tree.attrib["aria-label"].startswith("Rain. Rain of two places")


def test_picture_keeps_its_dots_inside():
    tree = drawn(months_axis("mm"), [panel("Here", range(1, 13)), panel("There", range(20, 32))])
    height = float(tree.attrib["height"])
    for dot in tree.iter(f"{SVG}circle"):
        assert 0 < float(dot.attrib["cx"]) < WIDTH
        assert 0 < float(dot.attrib["cy"]) < height


def test_picture_on_a_logarithmic_axis_leaves_out_what_is_rarer_than_its_bottom():
    axis = Axis([(0.0, "1"), (5.0, "6")], 0, 5, "days", logarithmic=True)
    tree = drawn(axis, [panel("Here", [1.0, 0.3, 0.05, 0.01, 0.0001, 0.0])])
    assert len(list(tree.iter(f"{SVG}circle"))) == 4 + 1
    shown = {(word or "").replace("\u00a0", " ") for word in words_of(tree)}
    assert {"100 %", "10 %", "1 %", "0.1 %"} <= shown


def test_picture_says_what_its_dashed_line_is():
    first = panel("Here", range(1, 13), extra=np.full(12, 6.0))
    tree = drawn(months_axis("mm"), [first], extra="without them")
    assert any("without" in (word or "") for word in words_of(tree))
    assert sum("stroke-dasharray" in node.attrib for node in tree.iter()) == 2
