"""The invented county: its stations, its weather and its yards, to try every command on.

`county.py` makes the weather from `stations.toml` with the generator; nothing here describes a real place.
"""
