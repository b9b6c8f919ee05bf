"""A design's answers as data and as words, for every door: command line, browser and paper.

Data is in SI with the unit in each name; words are in the reader's units. A check's number comes
up from `design` to here once, and each door shows what it is given.
"""
