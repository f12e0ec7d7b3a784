"""Tiny weather files, written where the test can see them."""

import gzip

import pytest

from dooryard.problem import InputError


@pytest.fixture
def put(tmp_path):
    """Write a file (text or bytes; gzip if the name ends in .gz) and give its path."""

    def write(content, name="record.csv"):
        data = content if isinstance(content, bytes) else content.encode("utf-8")
        path = tmp_path / name
        path.write_bytes(gzip.compress(data) if name.endswith(".gz") else data)
        return path

    return write


@pytest.fixture
def faults_of(put):
    """The problems a reader finds in a file."""
    from dooryard import weather

    def find(content, name="record.csv", **options):
        with pytest.raises(InputError) as caught:
            weather.read(put(content, name), **options)
        return caught.value.problems

    return find
