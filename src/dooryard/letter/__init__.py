"""What leaves the house: the plan document drawn, paged, printed and put in a calendar; the letter, and its review.

Every form here reads one plan document (``plan/plan.schema.json``) and nothing else, so screen, page, sheet
and calendar cannot disagree; only ``answer.py`` and the review in ``gate/`` read more. No arithmetic about water or
seasons lives here. Open ``prose.py`` first (how text marks become words), then ``page.py`` and ``drawing/``.
"""
