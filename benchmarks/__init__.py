"""Measurements, run by hand with `make bench`; open `bench.py` first."""
