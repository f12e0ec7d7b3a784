"""Straight lines of a PDF page as the page itself draws them, in points: for tests that measure a print."""

from __future__ import annotations

from collections.abc import Iterator

from pypdf import PageObject
from pypdf.generic import ContentStream

Matrix = tuple[float, float, float, float, float, float]
Line = tuple[float, float, float, float]
UNMOVED: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def lines(page: PageObject) -> list[Line]:
    """Every straight stroke (x1, y1, x2, y2) of a page [pt], those inside its forms too."""
    content = page.get_contents()
    assert content is not None
    return list(_lines(content, page["/Resources"], page.pdf, UNMOVED))


def _times(inner: Matrix, outer: Matrix) -> Matrix:
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def _at(x: float, y: float, m: Matrix) -> tuple[float, float]:
    return x * m[0] + y * m[2] + m[4], x * m[1] + y * m[3] + m[5]


def _lines(content: object, resources: object, pdf: object, matrix: Matrix) -> Iterator[Line]:
    kept: list[Matrix] = []
    here = (0.0, 0.0)
    forms = resources.get("/XObject", {})  # type: ignore[attr-defined]
    for operands, operator in ContentStream(content, pdf).operations:
        numbers = [float(value) for value in operands] if operator in (b"cm", b"m", b"l") else []
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = _times((*numbers,), matrix)  # type: ignore[arg-type]
        elif operator == b"m":
            here = (numbers[0], numbers[1])
        elif operator == b"l":
            yield (*_at(*here, matrix), *_at(numbers[0], numbers[1], matrix))
            here = (numbers[0], numbers[1])
        elif operator == b"Do":
            form = forms[operands[0]].get_object()
            if form.get("/Subtype") == "/Form":
                own = tuple(float(value) for value in form.get("/Matrix", UNMOVED))
                inner = form.get("/Resources", resources)
                yield from _lines(form, inner, pdf, _times(own, matrix))  # type: ignore[arg-type]
