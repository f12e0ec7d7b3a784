"""The command line: one module per command, each a thin call of the library. Open `app.py` first.

Nothing heavy is imported here, so that `dooryard --help` answers in a blink.
"""

from __future__ import annotations


def main() -> None:
    """Entry point of the console command ``dooryard``."""
    from dooryard.cli.app import dooryard

    dooryard(prog_name="dooryard")
