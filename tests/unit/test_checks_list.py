"""The list of checks is read out of the tests whole, in order, and with every fault told."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import checks

MARKED = '''
import pytest

@pytest.mark.check("W-02-10", source="Markov chain", status="computed")
@pytest.mark.check("W-02-3", source="A. Author, \\"Tanks\\"", status="seen")
def test_tank_in_the_rain_fills():
    """A tank that gets rain fills.

    More words that are not listed.
    """

@pytest.mark.parametrize(("a", "b"), [
    pytest.param(1, 2, marks=pytest.mark.check("S-01-1", source="by hand", status="computed")),
    pytest.param(1, 2, marks=[pytest.mark.check("S-01-2", source="hand", status="computed")]),
])
def test_heat_on_a_warm_day_is_counted(a, b): ...

CASES = [pytest.param(1, marks=pytest.mark.check("W-01-1", source="x|y", status="from memory"))]

class TestRoof:
    @pytest.mark.parametrize("n", CASES)
    def test_roof_sheds(self, n): ...
'''


def collected(tmp_path: Path, text: str) -> tuple[list[checks.Check], list[str]]:
    folder = tmp_path / "tests" / "unit"
    folder.mkdir(parents=True)
    (folder / "test_tank.py").write_text(text, encoding="utf-8")
    return checks.collect(tmp_path / "tests")


def test_checks_marked_in_every_way_are_all_found_in_natural_order(tmp_path: Path) -> None:
    found, faults = collected(tmp_path, MARKED)
    assert faults == []
    assert [check.id for check in found] == ["S-01-1", "S-01-2", "W-01-1", "W-02-3", "W-02-10"]
    tank = found[3]
    assert tank.says == "A tank that gets rain fills."
    assert tank.source == 'A. Author, "Tanks"'
    assert tank.test == "tests/unit/test_tank.py::test_tank_in_the_rain_fills"
    assert found[0].says == "heat on a warm day is counted"
    assert found[2].test == "tests/unit/test_tank.py::TestRoof::test_roof_sheds"


def test_checks_page_counts_and_escapes(tmp_path: Path) -> None:
    page = checks.render(collected(tmp_path, MARKED)[0])
    assert "5 checks in 5 rows: 1 seen, 1 from memory, 3 computed." in page
    assert "x\\|y" in page
    assert page.endswith("|\n")


@pytest.mark.parametrize(
    ("mark", "what"),
    [
        ('check("W-1", source="s", status="certain")', "is none of"),
        ('check("W-1", source="s")', "write check("),
        ('check("W-1", "s", "seen")', "write check("),
        ('check(f"W-{1}", source="s", status="seen")', "written out"),
        ('check("W-1", source="", status="seen")', "written out"),
    ],
)
def test_checks_mark_that_cannot_be_listed_is_told(tmp_path: Path, mark: str, what: str) -> None:
    found, (fault,) = collected(tmp_path, f"@pytest.mark.{mark}\ndef test_a(): ...\n")
    assert found == []
    assert fault.startswith("tests/unit/test_tank.py line 1: ")
    assert what in fault


def test_checks_mark_outside_any_test_is_told(tmp_path: Path) -> None:
    text = 'LOST = pytest.mark.check("W-1", source="s", status="seen")\ndef test_a(): ...\n'
    assert collected(tmp_path, text) == (
        [],
        ["tests/unit/test_tank.py line 1: the check mark belongs to no test."],
    )
