"""What a person installs holds everything the program reads: tables, fonts, templates, schema."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

from tools import tree

ROOT = Path(__file__).resolve().parents[2]


def test_wheel_built_from_the_tree_holds_every_file_of_the_package(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    source = ROOT / "src"
    wanted = {path.relative_to(source).as_posix() for path in tree.files(ROOT) if path.is_relative_to(source)}
    held = set(zipfile.ZipFile(wheel).namelist())
    assert "dooryard/problem.py" in wanted
    assert wanted - held == set()
    assert any(name.endswith("licenses/LICENSE") for name in held)
