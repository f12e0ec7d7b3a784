"""The review gate: what stands between a drafted answer and the mail.

`review` reads a text against what is known (verdicts, figures, a label card, the county's policy) and gives its
reasons, each with its place in the text. Nothing here changes a text. Open ``review.py`` first; each rule has a
module of its own, its words lie in ``knowledge/gate_words.csv``, and ``release.py`` keeps who overrode what, and why.
"""

from dooryard.letter.gate.context import Context, Stage, stage_of
from dooryard.letter.gate.finding import RULES, Finding, Place
from dooryard.letter.gate.policy import Policy
from dooryard.letter.gate.review import review

__all__ = ["RULES", "Context", "Finding", "Place", "Policy", "Stage", "review", "stage_of"]
