"""Run what the README tells a newcomer to type.

    python -m tools.readme             run every ```sh block of README.md, in order, in one shell
    python -m tools.readme --list      only print the commands

A block must end with exit code 0; where another is right (a file with mistakes in it), the line above the
block says so, out of the reader's sight: ``<!-- exit: 2 -->``. `make test` is left to whoever calls this.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

ROOT = Path(__file__).resolve().parent.parent
LEFT_OUT = ("make test",)

_BLOCK = re.compile(r"(?:<!-- exit: (\d+) -->\s*\n)?^ *```sh\n(.*?)^ *```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Block:
    """Commands of one block and the exit code the last of them must have."""

    commands: str
    exit_code: int


def blocks(text: str) -> Iterator[Block]:
    """The ```sh blocks of a page, without the commands left to the caller."""
    for code, body in _BLOCK.findall(text):
        kept = [line for line in dedent(body).splitlines() if line.split("#")[0].strip() not in LEFT_OUT]
        if any(line.strip() and not line.lstrip().startswith("#") for line in kept):
            yield Block("\n".join(kept), int(code or 0))


def script(found: Sequence[Block]) -> str:
    """One bash script: a block that ends otherwise than it should stops it and is named."""
    parts = ["set -uo pipefail"]
    for block in found:
        told = shlex.quote(block.commands)
        # Every line but the last must succeed, the last must end as the page says.
        parts.append(
            f"printf '+ %s\\n' {told} >&2\n"
            f"set +e\n{_guarded(block)}\ncode=$?\n"
            f"if [ $code -ne {block.exit_code} ]; then\n"
            f"  printf 'README: exit code %s instead of {block.exit_code}: %s\\n' $code {told} >&2\n"
            f"  exit 1\nfi"
        )
    return "\n".join(parts) + "\n"


def main(words: Sequence[str]) -> int:
    """Run or list the blocks of README.md."""
    found = list(blocks((ROOT / "README.md").read_text(encoding="utf-8")))
    if not found:
        print("README.md holds no ```sh block.", file=sys.stderr)
        return 1
    if "--list" in words:
        print("\n".join(block.commands for block in found))
        return 0
    # A newcomer's shell does not know our environment: only what the README itself does may bring it in.
    environment = {name: value for name, value in os.environ.items() if name != "VIRTUAL_ENV"}
    return subprocess.run(["bash", "-c", script(found)], cwd=ROOT, env=environment, check=False).returncode


def _guarded(block: Block) -> str:
    """The block's lines joined so that the first failure decides, without leaving the shell they run in."""
    lines = block.commands.replace("\\\n", " ").splitlines()
    commands = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
    return " &&\n".join(line.split(" #")[0].rstrip() for line in commands)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
