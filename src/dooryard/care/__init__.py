"""What to do, how much, and when not to: amounts, mixtures, wounds, planting, and the days a treatment may fall on.

Pure: numbers in canonical units go in and come out. Words and files are made by the rooms above.
"""
