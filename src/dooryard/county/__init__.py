"""Many stations at once: a county's folder read whole, and what matters this week over all of it.

One bad station never stops a county: it is told with its problem, and the others go on.
"""
