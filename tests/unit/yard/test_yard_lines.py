"""Which line a key stands on, in every way TOML lets it be written."""

from dooryard.yard.lines import line_of, spans

TEXT = """\
name = "é"
place.latitude = 40.0
place."longi tude" = 1

[[roofs]]  # first
name = "a"
metals = [
  "copper",
  # a remark
  "zinc",
]
[[beds]]
name = "b"
[[roofs]]
'name' = "c"
[roofs.more]
x = {y = 1, z.q = 2}
[[plants]]
"""


def test_lines_of_keys_lists_and_nested_tables() -> None:
    found = spans(TEXT)
    expected = {
        ("name",): 1,
        ("place",): 2,
        ("place", "latitude"): 2,
        ("place", "longi tude"): 3,
        ("roofs",): 5,
        ("roofs", 0): 5,
        ("roofs", 0, "metals"): 7,
        ("roofs", 0, "metals", 0): 8,
        ("roofs", 0, "metals", 1): 10,
        ("beds", 0, "name"): 13,
        ("roofs", 1): 14,
        ("roofs", 1, "name"): 15,
        ("roofs", 1, "more"): 16,
        ("roofs", 1, "more", "x", "z", "q"): 17,
        ("plants", 0): 18,
    }
    assert {path: line_of(path, found) for path in expected} == expected


def test_line_of_what_is_not_there_is_that_of_its_table_or_none() -> None:
    found = spans(TEXT)
    assert line_of(("roofs", 1, "area"), found) == 14
    assert line_of(("levels", 0), found) is None
    assert line_of((), found) is None


def test_spans_cut_out_exactly_the_value() -> None:
    data = TEXT.encode()
    span = spans(TEXT)[("roofs", 0, "name")]
    assert data[span.value_start : span.value_end] == b'"a"'
    assert data[span.start : span.end] == b'name = "a"'
