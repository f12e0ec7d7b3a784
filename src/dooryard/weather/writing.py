"""Writing a file whole or not at all: nothing half-written ever stands under the final name."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from dooryard.problem import InputError, Problem


def replace_file(path: Path, content: bytes) -> None:
    """Put content under `path` in one step, making its folder; InputError if it cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, waiting = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                # Without this a power cut may leave the new name with an empty file behind it.
                os.fsync(file.fileno())
            Path(waiting).chmod(0o644)
            Path(waiting).replace(path)
        except BaseException:
            Path(waiting).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise InputError(
            Problem(
                f"Cannot write there: {error.strerror or error}.",
                "Name a folder you may write to.",
                str(path),
            )
        ) from error
