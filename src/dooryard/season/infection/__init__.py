"""What wet leaves and warmth mean for a disease: one module for each way of counting, all pure.

What lives here: functions of hours or days of weather and of rows of the infection and severity tables. What does
not: reading files, spray amounts (the label in hand decides), and which leaves are wet (``wetness.py``).

- ``wet_hours.py``: hours a leaf must be wet at a temperature (apple scab, grape black rot, cedar-apple rust).
- ``severity.py``: daily severity values of tomato early blight, their sums and what a spray resets.
- ``daily.py``, ``days.py``: wet hours from days alone, and the days before a day from hours or days.
- ``fortnight.py``: what the last two weeks meant, in words.
- ``blossoms.py``: what the days of bloom meant for fire blight, in words.
- ``p_days.py``, ``turf.py``, ``fire_blight.py``: three counts that need no table.

Open first: ``wet_hours.py``, then ``severity.py``.
"""
