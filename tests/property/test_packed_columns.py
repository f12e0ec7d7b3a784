"""The vector reading of a column against Python's own, cell by cell."""

from datetime import date, timedelta

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st

from dooryard.weather import packed
from dooryard.weather.cells import parse_cells
from dooryard.weather.dates import parse_dates
from dooryard.weather.opening import Faults

numbers = st.from_regex(r"-?(\d{1,7}|\d{0,3}\.\d{1,3}|\d{1,4}\.)", fullmatch=True)
padded = st.tuples(st.sampled_from(["", " ", "   "]), numbers, st.sampled_from(["", " "])).map("".join)
odd = st.sampled_from(
    [
        "",
        "  ",
        "T",
        "0.0T",
        "1.5S",
        "A",
        "2.25E",
        "NA",
        "-",
        "M",
        "-9999",
        "9999.9",
        "-99.99",
        "53.059055118110",
    ]
)
faulty = st.sampled_from(["1.2.3", "x", "--5", "1-2", "5 5", "1,5", ".", "-.", "1e3", "½", "+"])
cell = numbers | padded | odd
anything = cell | faulty | st.text("0123456789.- TtSsEeAa/:;é", max_size=12)


def columns_of(rows, quoted=False):
    mark = '"' if quoted else ""
    body = "".join(f"{mark}{first}{mark},{second}\n" for first, second in rows)
    return packed.split(body.encode(), ",", 2)


@given(rows=st.lists(st.tuples(cell, cell), min_size=1, max_size=30), quoted=st.booleans())
@example(rows=[("0.1", "-0.0"), ("1234567", "0.005")], quoted=False)
def test_packed_numbers_are_those_of_float_to_the_last_bit(rows, quoted):
    columns = columns_of(rows, quoted)
    for place in (0, 1):
        texts = [row[place] for row in rows]
        lines = range(1, len(rows) + 1)
        values, flags = parse_cells(columns[place], lines, Faults("a"), name="x", trace=True)
        wanted, codes = parse_cells(texts, lines, Faults("a"), name="x", trace=True)
        assert np.array_equal(values, wanted, equal_nan=True)
        assert np.array_equal(np.signbit(values), np.signbit(wanted)) or np.isnan(values).any()
        assert flags.tolist() == codes.tolist()
        for text, value, flag in zip(texts, values, flags, strict=True):
            if flag == 0:
                assert value == float(text.replace("T", "").replace("E", ""))


@given(texts=st.lists(anything, min_size=1, max_size=20))
def test_packed_faults_are_those_of_the_slow_reading(texts):
    texts = [text.replace(",", ";") for text in texts]
    body = "".join(f"{text},1\n" for text in texts).encode()
    columns = packed.split(body, ",", 2)
    quick, slow = Faults("a"), Faults("a")
    values, flags = parse_cells(columns[0], range(len(texts)), quick, name="x")
    wanted, codes = parse_cells(texts, range(len(texts)), slow, name="x")
    assert [problem.found for problem in quick.problems] == [problem.found for problem in slow.problems]
    assert [problem.line for problem in quick.problems] == [problem.line for problem in slow.problems]
    assert np.array_equal(values, wanted, equal_nan=True)
    assert flags.tolist() == codes.tolist()


@given(
    first=st.dates(date(1600, 1, 1), date(2399, 1, 1)),
    count=st.integers(1, 60),
    pattern=st.sampled_from(["{0:%Y-%m-%d}", "{0:%Y%m%d}"]),
)
def test_packed_days_are_those_of_the_calendar(first, count, pattern):
    days = [first + timedelta(days=step) for step in range(count)]
    texts = [f"{day.year:04d}-{day.month:02d}-{day.day:02d}" for day in days]
    texts = [text if "-" in pattern else text.replace("-", "") for text in texts]
    column = columns_of([(text, "1") for text in texts])[0]
    assert column.days().astype(object).tolist() == days


@given(text=st.from_regex(r"\d{4}-\d\d-\d\d|\d{8}|\d{4}[-/x]\d\d[-/x]\d\d", fullmatch=True))
@example(text="2031-02-29")
@example(text="2032-02-29")
@example(text="2031-13-01")
@example(text="2031-00-01")
@example(text="2031-01-00")
def test_packed_day_that_is_none_is_left_to_the_slow_reading(text):
    column = columns_of([(text, "1")])[0]
    faults = Faults("a")
    days, _ = parse_dates([text], [1], faults)
    quick = column.days()
    if faults.problems:
        assert quick is None
    elif quick is not None:
        assert quick.tolist() == days.tolist()


@given(
    st.lists(st.tuples(st.text("abc é", max_size=11), st.text("xyz", max_size=3)), min_size=1, max_size=30)
)
def test_packed_texts_come_back_as_they_were(rows):
    columns = columns_of(rows)
    for place in (0, 1):
        texts = [row[place] for row in rows]
        assert list(columns[place]) == texts
        assert [columns[place][row] for row in range(len(rows))] == texts
        assert columns[place].all_alike() == (len(set(texts)) == 1)
        found, index = packed.distinct(columns[place])
        assert [found[row] for row in index.tolist()] == texts
        assert len(set(found)) == len(found)


def test_packed_separator_in_quotes_is_text():
    columns = packed.split(b'"PLACE, XX","1"\n"B",\n', ",", 2)
    assert [list(column) for column in columns] == [["PLACE, XX", "B"], ["1", ""]]


def test_packed_split_refuses_what_it_cannot_be_sure_of():
    for body in (
        b"1,2\n3\n",
        b"1,2,3\n",
        b'"a""b",2\n',
        b'"a\nb",2\n',
        b'a"b,2\n',
        b'"open,2\n',
        b"1\n2,3,4\n",
    ):
        assert packed.split(body, ",", 2) is None
