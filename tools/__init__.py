"""What keeps the house in order: set-up, the list of checks, and the rules a machine can hold us to.

`setup.py` is the way in for a person, `house.py` runs every rule. Nothing here is needed to run Dooryard.
"""
