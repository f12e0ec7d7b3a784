"""From roof to root: how much water comes, how much is kept, what it can do, and what it weighs.

What lives here: pure functions on arrays. ``catchment`` (rain to litres), ``storage`` (one tank day by day)
and ``yield_curve`` (every size of tank at once), ``worth`` (what the next barrel adds, year by year),
``roof`` (the survey: areas, their spread, which section drains where), ``gutters`` (gutters and downspouts by
named codes), ``design_rain`` and ``idf`` (how hard it can rain: gauge, design table, curve, pattern),
``outlet`` (head, flow, time to empty), ``storm`` (bursts, filling, overflow, drawing down), ``rain_garden``, ``stand``
(weight, ground, tipping), ``evapotranspiration``, ``roots`` and ``soil`` (what leaves a bed, and how deep it
is drawn from), ``network`` (a yard's roofs, storages and beds run together).

What does not: files, clocks, printing, units of any yard. Figures of the trade (coefficients, losses,
soils) come from ``knowledge`` as arguments; only coefficients inside a published equation stand in its
code.

Open ``storage`` first.
"""
