"""Each rule of the house finds a fault put there on purpose, and lets the sound line beside it pass."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tools import docstrings, layers, tree

Write = Callable[[str, str], None]


@pytest.fixture
def source(tmp_path: Path) -> Path:
    folder = tmp_path / "src" / "dooryard"
    folder.mkdir(parents=True)
    return folder


@pytest.fixture
def write(source: Path) -> Write:
    def put(name: str, text: str) -> None:
        path = source / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    return put


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("water/storage.py", "from dooryard.season import heat"),
        ("water/storage.py", "from ..season import heat"),
        ("water/storage.py", "from dooryard import season"),
        ("water/storage.py", "import dooryard.plan.build"),
        ("problem.py", "from dooryard import units"),
        ("yard/model.py", "def f():\n    from dooryard.weather import read"),
        ("cli/serve.py", "from dooryard.web import pages"),
        ("water/storage.py", "from dooryard.shed import tools"),
        ("shed/tools.py", "x = 1"),
        ("__init__.py", "from dooryard.problem import Problem"),
    ],
)
def test_layers_import_out_of_order_is_found(source: Path, write: Write, name: str, line: str) -> None:
    write(name, line)
    assert len(layers.layer_faults(source)) == 1


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("season/heat.py", "from dooryard.water.storage import simulate"),
        ("water/soil.py", "from dooryard.water import storage"),
        ("water/soil.py", "from . import storage\nfrom ..units import parse"),
        ("cli/app.py", "from dooryard import __version__"),
        ("units.py", "import numpy.typing\nfrom dooryard.problem import InputError"),
    ],
)
def test_layers_import_downwards_is_allowed(source: Path, write: Write, name: str, line: str) -> None:
    write(name, line)
    assert layers.layer_faults(source) == []


def test_heavy_import_at_load_is_found_and_inside_a_function_is_not(source: Path, write: Write) -> None:
    write("letter/sheet.py", "import typst\n")
    write("letter/page.py", "try:\n    from jinja2 import Environment\nexcept ImportError:\n    pass\n")
    write("letter/calendar.py", "def render():\n    import icalendar\n    return icalendar\n")
    write("letter/typed.py", "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import pydantic\n")
    assert [fault.split()[0] for fault in layers.heavy_import_faults(source)] == [
        "letter/page.py",
        "letter/sheet.py",
    ]


def test_pure_room_that_prints_opens_or_asks_the_time_is_found(source: Path, write: Write) -> None:
    write(
        "season/heat.py",
        "def f(path):\n    print(1)\n    open(path)\n    path.read_text()\n    date.today()\n",
    )
    write("yard/file.py", "def read(path):\n    return path.read_text()\n")
    write("cli/plan.py", "def f():\n    return date.today()\n")
    faults = layers.purity_faults(source)
    assert [fault.split(":")[0] for fault in faults] == [
        f"season/heat.py line {line}" for line in (2, 3, 4, 5)
    ]


def test_swallowed_names_are_found_and_a_paramspec_is_not(source: Path, write: Write) -> None:
    write("units.py", "def show(value, **options):\n    return value\n")
    write("cli/output.py", "def body(*args: P.args, **kwargs: P.kwargs):\n    return None\n")
    write("cli/lazy.py", "class G:\n    def __init__(self, **names):\n        super().__init__(**names)\n")
    assert [fault.split()[0] for fault in layers.swallowed_name_faults(source)] == ["units.py"]


def test_docstring_missing_is_found_for_everything_public(source: Path, write: Write) -> None:
    write("__init__.py", '"""P."""\n')
    write("water/soil.py", '"""S."""\n')
    write(
        "units.py",
        "def shown():\n    return 1\ndef _own():\n    return 1\nclass Open:\n    def method(self): ...\n",
    )
    write("figure.py", '"""F."""\nclass Shape(Protocol):\n    """S."""\n    def side(self): ...\n')
    names = [fault.split(": ")[1] for fault in docstrings.missing_docstring_faults(source)]
    assert names == [
        "no __init__.py says what lives here.",
        "the module has no docstring.",
        "shown has no docstring.",
        "Open has no docstring.",
        "Open.method has no docstring.",
    ]


DOCUMENTED = '''"""Storage."""
def simulate(inflow_l, demand_l, *, {extra}):
    """A tank.

    Parameters
    ----------
    inflow_l, demand_l : array (days,)
        Water in and out [{unit}].
    capacity_l : float
        Room in the tank.

    Returns
    -------
    other : not a parameter
    """
'''


def test_parameters_documented_as_the_signature_has_them_pass(source: Path, write: Write) -> None:
    write("water/storage.py", DOCUMENTED.format(extra="capacity_l", unit="L"))
    assert docstrings.parameter_faults(source) == []


def test_parameters_documented_under_another_name_are_found(source: Path, write: Write) -> None:
    write("water/storage.py", DOCUMENTED.format(extra="tank_l", unit="L"))
    (fault,) = docstrings.parameter_faults(source)
    assert "not in the signature: ['capacity_l']" in fault
    assert "not documented: ['tank_l']" in fault


@pytest.mark.parametrize(("unit", "count"), [("L", 0), ("m2", 2), ("0, 1", 0)])
def test_units_in_brackets_are_compared_with_the_names(
    source: Path, write: Write, unit: str, count: int
) -> None:
    write("water/storage.py", DOCUMENTED.format(extra="capacity_l", unit=unit))
    assert len(docstrings.unit_faults(source, {"l": ("L",), "m2": ("m2",)})) == count


def test_ending_of_a_name_is_the_longest_that_fits() -> None:
    endings = {"d": ("d",), "mj_m2_d": ("MJ/m2/d",), "s": ("s",), "m_s": ("m/s",)}
    assert docstrings.ending_of("net_radiation_mj_m2_d", endings) == "mj_m2_d"
    assert docstrings.ending_of("wind_2m_m_s", endings) == "m_s"
    assert docstrings.ending_of("word", endings) == ""


@pytest.mark.parametrize(
    "words",
    [
        "see the Trans" + "cript",
        "pypi" + ".org",
        "/wo" + "rk/main/x",
        "from ../sha" + "red",
        "a seed" + " document",
    ],
)
def test_forbidden_words_are_found_with_their_line(tmp_path: Path, words: str) -> None:
    (tmp_path / "note.md").write_text(f"fine\n{words}\n", encoding="utf-8")
    (tmp_path / "sound.md").write_text("the workbench, shared beds, seedlings\n", encoding="utf-8")
    (fault,) = tree.word_faults(tmp_path)
    assert fault.startswith("note.md line 2: ")


def test_file_too_large_is_found(tmp_path: Path) -> None:
    (tmp_path / "big.bin").write_bytes(b"\0" * (tree.LARGEST_BYTES + 1))
    (tmp_path / "fits.bin").write_bytes(b"\0" * tree.LARGEST_BYTES)
    assert [fault.split(":")[0] for fault in tree.size_faults(tmp_path)] == ["big.bin"]


def test_lock_with_an_address_or_no_lock_is_found(tmp_path: Path) -> None:
    assert tree.lock_faults(tmp_path) == ["requirements.lock: it is missing."]
    (tmp_path / "requirements.lock").write_text("click==8.5.1 \\\n    --hash=sha256:ab\n", encoding="utf-8")
    assert tree.lock_faults(tmp_path) == []
    (tmp_path / "requirements.lock").write_text(
        "click @ https:/" + "/somewhere/click.whl\n", encoding="utf-8"
    )
    assert len(tree.lock_faults(tmp_path)) == 1


def test_links_to_nowhere_and_unlisted_pages_are_found(tmp_path: Path) -> None:
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "index.md").write_text(
        "[a](a.md) [gone](gone.md#part) [out](mailto:x)\n", encoding="utf-8"
    )
    (tmp_path / "docs" / "a.md").write_text("[up](../README.md)\n", encoding="utf-8")
    (tmp_path / "docs" / "b.md").write_text("nothing\n", encoding="utf-8")
    (tmp_path / "README.md").write_text("[docs](docs/index.md)\n", encoding="utf-8")
    (tmp_path / "note.txt").write_text("read docs" + "/a.md, then docs" + "/c.md\n", encoding="utf-8")
    assert tree.link_faults(tmp_path) == [
        "note.txt: it names docs" + "/c.md, which is not there.",
        "docs/index.md: the link to gone.md#part leads nowhere.",
        "docs/index.md: it does not list b.md.",
    ]


def test_test_files_of_one_name_and_stopwatches_are_found(tmp_path: Path) -> None:
    for folder in ("unit", "property"):
        (tmp_path / "tests" / folder).mkdir(parents=True)
        (tmp_path / "tests" / folder / "test_tank.py").write_text("x = 1\n", encoding="utf-8")
    (tmp_path / "tests" / "test_speed.py").write_text(
        "import time\ntime.perf_" + "counter()\n", encoding="utf-8"
    )
    assert tree.test_file_faults(tmp_path) == [
        "tests/test_speed.py: it reads a stopwatch; measurements live in benchmarks/.",
        "tests/property/test_tank.py and tests/unit/test_tank.py share one name.",
    ]
