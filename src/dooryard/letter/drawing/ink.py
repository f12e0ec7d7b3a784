"""Inks, letter sizes and hatches: the one place where the look of a drawing is decided.

The three inks differ in lightness as well as in hue, so that a photocopy keeps them apart. Letters are ink or
clay, at least 7:1 on the paper (WCAG 2 formula); areas and lines that carry meaning have at least 3:1.
"""

from __future__ import annotations

from dooryard.letter.prose import hold_together

PAPER = "#fffefa"  # warm white; prints as white
INK = "#1b2620"  # near-black with a little green
CLAY = "#8a3019"  # red-brown: what needs a person today
WATER = "#5a7d99"  # slate blue
WATER_AHEAD = "#b4c3d0"  # the same, expected and not yet there; always edged with ink
RULE = "#8b948d"  # thin rules that carry meaning
HAIR = "#d6dbd5"  # thin rules that only guide the eye
GROUND = "#eef1ec"  # ground of a strip where there is a record
FAN_OUTER = "#d5dad4"
FAN_INNER = "#a9b1aa"

FACE = "'Atkinson Hyperlegible Next', 'Atkinson Hyperlegible', sans-serif"
LABEL = 15  # letters in a drawing; at 640 units on 6.5 in this prints at 11 pt
SMALL = 14  # the smallest letters used anywhere

# Widths of letters in our typeface, as shares of the letter size, by class. Good to about 5 % over a phrase.
_ADVANCE = {
    **dict.fromkeys("ijl.,:;'|!", 0.27),
    **dict.fromkeys("frtI()[]-° \N{NO-BREAK SPACE}", 0.36),
    **dict.fromkeys("csvxyzk1", 0.48),
    **dict.fromkeys("mMWw", 0.80),
    **dict.fromkeys("ABCDEFGHJKLNOPQRSTUVXYZ", 0.64),
}
_BOLD = 1.06


def text_width(words: str, size: float = LABEL, *, bold: bool = False) -> float:
    """About how wide a phrase will stand [drawing units]; errs on the wide side."""
    share = sum(_ADVANCE.get(letter, 0.58) for letter in words)
    return share * size * (_BOLD if bold else 1.0)


def wrap(words: str, width: float, size: float = LABEL, *, bold: bool = False) -> list[str]:
    """The phrase in lines no wider than `width`, broken at spaces but never between a number and its unit."""
    lines: list[str] = []
    for word in hold_together(words).split(" "):
        if lines and text_width(f"{lines[-1]} {word}", size, bold=bold) <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def hatch(pattern_id: str, colour: str = WATER, *, gap: float = 6, stroke: float = 2) -> str:
    """A pattern of slanting strokes: 'somewhere in here'."""
    # A long tile: renderers leave a faint seam where tiles meet.
    return (
        f'<pattern id="{pattern_id}" width="{gap * 16:g}" height="{gap:g}" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate(45)"><path d="M0 {gap / 2:g}H{gap * 16:g}" stroke="{colour}"'
        f' stroke-width="{stroke:g}"/></pattern>'
    )


def cross_hatch(pattern_id: str, colour: str = INK, *, gap: float = 6, stroke: float = 1) -> str:
    """A pattern of crossing strokes: 'there, but of no use'."""
    return (
        f'<pattern id="{pattern_id}" width="{gap:g}" height="{gap:g}" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate(45)"><path d="M0 {gap / 2:g}H{gap:g}M{gap / 2:g} 0V{gap:g}"'
        f' stroke="{colour}" stroke-width="{stroke:g}"/></pattern>'
    )
