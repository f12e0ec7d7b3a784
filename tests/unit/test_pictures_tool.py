"""The README's picture: a palette PNG that any viewer can open, with the colours it was given."""

from __future__ import annotations

import struct
import zlib

import numpy as np

from tools.pictures import PICTURE, png


def chunks(data: bytes) -> dict[bytes, bytes]:
    """The parts of a PNG by name; fails if a length or a check sum is wrong."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = {}, 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length])[0] == zlib.crc32(name + body)
        found[name] = body
        at += 12 + length
    return found


def decoded(data: bytes) -> np.ndarray:
    """Pixels of an unfiltered palette PNG, shape (rows, columns, 3)."""
    parts = chunks(data)
    width, height, depth, kind = struct.unpack(">IIBB", parts[b"IHDR"][:10])
    assert (depth, kind) == (8, 3)
    lines = np.frombuffer(zlib.decompress(parts[b"IDAT"]), np.uint8).reshape(height, width + 1)
    assert not lines[:, 0].any()
    return np.frombuffer(parts[b"PLTE"], np.uint8).reshape(-1, 3)[lines[:, 1:]]


def test_png_keeps_colours_to_half_a_step_of_sixteen() -> None:
    pixels = np.array([[[255, 255, 255], [27, 38, 32]], [[138, 48, 25], [0, 0, 0]]], np.uint8)
    apart = np.abs(decoded(png(pixels)).astype(int) - pixels.astype(int))
    assert apart.max() <= 8
    assert (decoded(png(pixels))[0, 0] == 255).all()


def test_png_of_every_colour_still_has_a_palette() -> None:
    """4,096 colours 17 apart do not fit in 256; in steps of 51 they do, half a step off at most."""
    levels = np.arange(0, 256, 17, dtype=np.uint8)
    pixels = np.stack(np.meshgrid(levels, levels, levels), axis=-1).reshape(64, 64, 3)
    apart = np.abs(decoded(png(pixels)).astype(int) - pixels.astype(int))
    assert apart.max() <= 26


def test_readme_picture_is_a_png_of_the_width_a_readme_shows() -> None:
    head = chunks(PICTURE.read_bytes())[b"IHDR"]
    assert struct.unpack(">I", head[:4]) == (900,)
    assert PICTURE.stat().st_size < 250_000
