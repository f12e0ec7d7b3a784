"""JSON from outside: one plain sentence for whatever is wrong with it."""

from __future__ import annotations

import pytest

from dooryard.weather.plain_json import DEEPEST, JsonError, read_object


def nested(levels: int) -> str:
    """An object that is so many levels deep, itself counted."""
    return '{"a": ' + "[" * (levels - 1) + "]" * (levels - 1) + "}"


def test_json_as_deep_as_allowed_is_read() -> None:
    assert set(read_object(nested(DEEPEST))) == {"a"}


@pytest.mark.parametrize("levels", [DEEPEST + 1, 1_000, 200_000])
def test_json_deeper_than_allowed_is_refused(levels: int) -> None:
    with pytest.raises(JsonError, match="nested more than 64 levels"):
        read_object(nested(levels))


@pytest.mark.parametrize(
    ("text", "said", "line"),
    [
        ("", "damaged or was cut short", 1),
        ('{"a": 1,\n "b"', "damaged or was cut short", 2),
        (b'{"a": "\xff"}', "no text", None),
        ("[1]", "no object", None),
        ("null", "no object", None),
        ('{"a": ' + "1" * 5000 + "}", "too long", None),
    ],
)
def test_json_that_is_none_is_told_in_a_sentence(text: str | bytes, said: str, line: int | None) -> None:
    with pytest.raises(JsonError, match=said) as caught:
        read_object(text)
    assert caught.value.line == line
