"""The picture the README shows, docs/pictures/plan.png: page one of the demo household's printed plan.

    python -m tools.pictures

Makes the demo county in a temporary folder and takes the picture with pdftoppm (of poppler) or, where that is
missing, the top of the same household's page with Chromium. Run it again when the plan or the sheet has changed.
"""

from __future__ import annotations

import shutil
import struct
import subprocess
import sys
import zlib
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import numpy.typing as npt

ROOT = Path(__file__).resolve().parent.parent
PICTURE = ROOT / "docs" / "pictures" / "plan.png"
HOUSEHOLD = "household-12"
WIDE = 900  # pixels, what a README column shows without scaling it up
HIGH = 1165  # the same shape as a sheet of letter paper
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
LARGEST = 250_000  # bytes, so that the README opens at once on a slow line


def main() -> int:
    """Take the picture; the exit code is 1 if no program for it is here or the picture is too large."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        command = [
            sys.executable,
            "-c",
            "from dooryard.cli import main; main()",
            "demo",
            "--out",
            str(folder),
        ]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        taken = folder / "plan.png"
        if not (_of_print(folder, taken) or _of_page(folder, taken)):
            print(
                "Neither pdftoppm nor Chromium is here: install poppler-utils, then try again.",
                file=sys.stderr,
            )
            return 1
        size = taken.stat().st_size
        if size > LARGEST:
            print(f"The picture has {size:,} bytes, more than {LARGEST:,}: it was not kept.", file=sys.stderr)
            return 1
        PICTURE.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(taken, PICTURE)
    print(f"Wrote {PICTURE.relative_to(ROOT)}, {size:,} bytes.")
    return 0


def _of_print(folder: Path, taken: Path) -> bool:
    """Page one of the printed plan; False if the program for it is not here."""
    program = shutil.which("pdftoppm")
    if program is None:
        return False
    size = ["-scale-to-x", str(WIDE), "-scale-to-y", "-1"]
    raw = taken.with_suffix("")
    subprocess.run(
        [program, "-singlefile", "-q", *size, str(folder / f"{HOUSEHOLD}.pdf"), str(raw)], check=True
    )
    taken.write_bytes(png(_pixels(raw.with_suffix(".ppm").read_bytes())))
    return True


def _pixels(ppm: bytes) -> npt.NDArray[np.uint8]:
    """The pixels of a plain "P6" picture, shape (rows, columns, 3)."""
    kind, width, height, most, _ = ppm.split(maxsplit=4)
    if (kind, most) != (b"P6", b"255"):
        raise ValueError("not a picture of three bytes a pixel")
    data = ppm[-int(width) * int(height) * 3 :]
    return np.frombuffer(data, dtype=np.uint8).reshape(int(height), int(width), 3)


def png(pixels: npt.NDArray[np.uint8]) -> bytes:
    """A PNG with a palette of at most 256 colours (ISO/IEC 15948): a page has few, and so is a third as large.

    pixels : (rows, columns, 3). Each channel is rounded to 16 steps, or to 6 if that still leaves too many.
    """
    for step in (17, 51):
        rounded = ((pixels.astype(np.uint16) + step // 2) // step * step).astype(np.uint32)
        codes = rounded[..., 0] << 16 | rounded[..., 1] << 8 | rounded[..., 2]
        colours, places = np.unique(codes, return_inverse=True)
        if len(colours) <= 256:
            break
    rows = places.reshape(codes.shape).astype(np.uint8)
    # Every line begins with its filter, 0 for none.
    lines = np.hstack([np.zeros((rows.shape[0], 1), np.uint8), rows]).tobytes()
    palette = b"".join(struct.pack(">I", int(colour))[1:] for colour in colours)
    head = struct.pack(">IIBBBBB", rows.shape[1], rows.shape[0], 8, 3, 0, 0, 0)
    parts = ((b"IHDR", head), (b"PLTE", palette), (b"IDAT", zlib.compress(lines, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )


def _of_page(folder: Path, taken: Path) -> bool:
    """The top of the page; False if no browser is here."""
    program = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if program is None:
        return False
    page = (folder / f"{HOUSEHOLD}.html").as_uri()
    quiet = ["--headless", "--no-sandbox", "--hide-scrollbars", "--disable-gpu"]
    shot = [f"--window-size={WIDE},{HIGH}", f"--screenshot={taken}"]
    subprocess.run([program, *quiet, *shot, page], check=True, stderr=subprocess.DEVNULL)
    return True


if __name__ == "__main__":
    sys.exit(main())
