"""Dooryard: one yard, its weather record and sourced knowledge become one dated, explained plan.

Rooms, from the ground floor up (imports run downwards only): `problem`, `units`, `figure`, `knowledge`,
`yard`, `weather`, `water`, `season`, `care`, `plan`, `letter`, `cli`. Open `plan/build.py` first: it is the
one place where all rooms meet.
"""

__version__ = "0.1.0"
