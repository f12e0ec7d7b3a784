"""What time of year it really is: heat sums, the dates they point to, verdicts on organisms, frost dates.

What lives here: pure functions of a weather record, an outlook, the knowledge tables and a date. What does
not: reading files, today's date, what to spray or how much of it, and anything about water.

- ``heat.py``: degree-days of a day, one function per published method.
- ``timing.py``: the day a heat sum was or will be reached, as earliest, likely and latest.
- ``verdicts.py``: too early, soon, now, closing, over, not here or cannot tell, with the reason.
- ``frost.py``: last and first cold days, and the dates of given chances.
- ``freeze_levels.py``, ``night_odds.py``: those dates at several limits, and the odds of one coming night.
- ``chill.py``, ``daily_curve.py``, ``soil_temperature.py``, ``germination.py``: winter, hours, soil, seed.
- ``wetness.py`` and ``infection/``: hours of wet leaves, and what they mean for diseases.
- ``winter_chill.py``: a winter's cold so far, beside other winters.
- ``bloom.py``: bloom from chill and heat, tried on years that were not used to fit it.

Open first: ``heat.py``, then ``timing.crossing``, then ``verdicts.judge``.
"""
