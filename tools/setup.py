"""Set the project up and run one of its jobs, alike on Linux, macOS and Windows (Python 3.11 or later).

    python tools/setup.py demo      set up, then write and print the demonstration plan
    python tools/setup.py test      set up, then run every test (more words go to pytest)
    python tools/setup.py check     set up, then style, types and the rules of the house
    python tools/setup.py bench     set up, then the measurements
    python tools/setup.py install   only set up
    python tools/setup.py checks    write docs/checks.md anew from the tests
    python tools/setup.py manual    write docs/commands.md anew from the commands' help
    python tools/setup.py lock      write requirements.lock anew from pyproject.toml
    python tools/setup.py clean     remove caches and things made; the environment stays

Setting up puts a private environment into `.venv`: the locked dependencies, each checked against its hash,
then this package as it stands in the tree. A second run sees that nothing changed and needs no network.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
EXE = ".exe" if os.name == "nt" else ""
PYTHON = BIN / f"python{EXE}"
LOCK = ROOT / "requirements.lock"
STAMP = VENV / "set-up.txt"
MADE = (
    "dooryard-demo",
    "out",
    "build",
    "dist",
    "test-results",
    ".pytest_cache",
    ".mypy_cache",
    ".ruff_cache",
    ".hypothesis",
)
NO_TESTS_COLLECTED = 5  # pytest's own exit code


def main(words: Sequence[str]) -> int:
    """Run the job named by the first word; the rest goes to it. Returns the exit code."""
    if sys.version_info < (3, 11):  # noqa: UP036  (an older Python must be told, not left to a traceback)
        print(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}.", file=sys.stderr)
        return 2
    job = JOBS.get(words[0]) if words else None
    if job is None:
        print(__doc__, file=sys.stderr)
        return 2
    try:
        return job(list(words[1:]))
    except subprocess.CalledProcessError as failure:
        print(f"This step failed: {' '.join(map(str, failure.cmd))}", file=sys.stderr)
        return failure.returncode or 1


def install(_words: list[str]) -> int:
    """Bring `.venv` in step with the lock and the package, doing nothing that is done already."""
    wanted = _state()
    if not (PYTHON.exists() and STAMP.exists() and STAMP.read_text(encoding="utf-8") == wanted):
        STAMP.unlink(missing_ok=True)
        uv = _environment()
        print("Setting up .venv from requirements.lock ...", flush=True)
        _run(uv, "pip", "sync", "-q", "--require-hashes", "--compile-bytecode", "--python", PYTHON, LOCK)
        # Without isolation the build uses the locked, hash-checked hatchling and nothing from outside.
        _run(uv, "pip", "install", "-q", "--no-deps", "--no-build-isolation", "--python", PYTHON, "-e", ROOT)
        STAMP.write_text(wanted, encoding="utf-8")
    # Sources change without the lock changing, and some machines forbid Python to write byte-code on import.
    _run(PYTHON, "-m", "compileall", "-q", ROOT / "src" / "dooryard")
    return 0


def demo(words: list[str]) -> int:
    """The demonstration: one yard's plan on the screen, and its page, sheet, calendar and data on disk."""
    install([])
    return _exit_code(BIN / f"dooryard{EXE}", "demo", *words)


def test(words: list[str]) -> int:
    """Every test, spread over the cores; with words of your own, exactly what you ask pytest for."""
    install([])
    code = _exit_code(PYTHON, "-m", "pytest", *(words or ["-n", "auto"]))
    if code == NO_TESTS_COLLECTED:
        print("No test was collected: the tests did not run, which counts as a failure.", file=sys.stderr)
    return code


def check(_words: list[str]) -> int:
    """Style, format, types and the rules of the house; all are run, so that one run shows everything."""
    install([])
    codes = [
        _exit_code(PYTHON, "-m", "ruff", "check", "--quiet", "."),
        _exit_code(PYTHON, "-m", "ruff", "format", "--check", "--quiet", "."),
        _exit_code(PYTHON, "-m", "mypy"),
        _exit_code(PYTHON, "-m", "tools.house"),
    ]
    return 1 if any(codes) else 0


def bench(words: list[str]) -> int:
    """The measurements, as medians and ratios of one run."""
    install([])
    return _exit_code(PYTHON, "-m", "benchmarks.bench", *words)


def checks(_words: list[str]) -> int:
    """`docs/checks.md` from the markers in the tests."""
    install([])
    return _exit_code(PYTHON, "-m", "tools.checks")


def manual(_words: list[str]) -> int:
    """`docs/commands.md` from the help of each command."""
    install([])
    return _exit_code(PYTHON, "-m", "tools.manual")


def lock(_words: list[str]) -> int:
    """`requirements.lock` from `pyproject.toml`; needs the network."""
    uv = _environment()
    how = ["--universal", "--generate-hashes", "--no-header", "--no-annotate", "--no-emit-index-url"]
    ask = ["--group", "dev", "--all-extras", "--python", PYTHON, "-q", "-o", LOCK.name]
    _run(uv, "pip", "compile", "pyproject.toml", *ask, *how)
    return 0


def clean(_words: list[str]) -> int:
    """Remove caches and things made. Delete `.venv` by hand to start from nothing."""
    for name in MADE:
        shutil.rmtree(ROOT / name, ignore_errors=True)
    for top in ("src", "tests", "tools", "benchmarks"):
        for cache in (ROOT / top).rglob("__pycache__"):
            shutil.rmtree(cache, ignore_errors=True)
    return 0


def _environment() -> str | Path:
    """Make `.venv` if there is none that runs, and return the installer to use with it."""
    uv = shutil.which("uv")
    if not PYTHON.exists() or _exit_code(PYTHON, "-c", "") != 0:
        shutil.rmtree(VENV, ignore_errors=True)
        make = (uv, "venv", "-q", "--python", sys.executable) if uv else (sys.executable, "-m", "venv")
        _run(*make, VENV)
    if uv:
        return uv
    own = BIN / f"uv{EXE}"
    if not own.exists():
        with tempfile.TemporaryDirectory() as folder:
            wanted = Path(folder) / "uv.txt"
            wanted.write_text(_locked("uv"), encoding="utf-8")
            _run(PYTHON, "-m", "pip", "install", "-q", "--require-hashes", "-r", wanted)
    return own


def _locked(name: str) -> str:
    """The lines of one package in the lock: its version and the hashes it may have."""
    lines = LOCK.read_text(encoding="utf-8").splitlines()
    first = next(at for at, line in enumerate(lines) if line.startswith(f"{name}=="))
    last = next((at for at in range(first + 1, len(lines)) if not lines[at].startswith(" ")), len(lines))
    return "\n".join(lines[first:last]) + "\n"


def _state() -> str:
    """What the environment was made from: a changed dependency or a moved folder changes it."""
    parts = [str(ROOT).encode(), LOCK.read_bytes(), (ROOT / "pyproject.toml").read_bytes()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def _run(*command: str | Path) -> None:
    subprocess.run([str(word) for word in command], cwd=ROOT, check=True)


def _exit_code(*command: str | Path) -> int:
    return subprocess.run([str(word) for word in command], cwd=ROOT, check=False).returncode


JOBS: dict[str, Callable[[list[str]], int]] = {
    job.__name__: job for job in (install, demo, test, check, bench, checks, manual, lock, clean)
}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
