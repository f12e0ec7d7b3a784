"""Single sums of plant care in words: mulch, plugs, torn bark, a mixture, days to treat, water for a tree.

Each module asks a kernel of `care` and says the answer on a `Sheet`, which becomes a document like any other.
"""
