"""One yard's dated plan. What lives here: putting what the rooms below work out into sentences, tasks, figures,
refusals and drawings, and the one JSON document that holds them (`document.py`, its schema beside it).

What does not: any arithmetic of the trade (rooms `water`, `season`), and how it looks on paper or screen (`letter`).

Open first: `build.py`, then `draft.py`; each other file is one part of the plan.
"""
