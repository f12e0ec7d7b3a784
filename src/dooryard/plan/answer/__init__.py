"""The answer letter: one household's question as a file, and the ten parts of what the desk writes back.

Open ``case.py`` first (what was asked), then ``letter.py`` (the ten parts in order). ``edits.py`` lays the adviser's
own words over the computed ones. The review gate stands in the letter room, above this one.
"""
