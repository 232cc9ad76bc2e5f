"""Which settings does the saw have, and how long may the solver think?"""

from fitcheck.rules.tables_site import Sited, house, nm, trade

KERF = trade(nm("1/8 in"), "nm")
END_TRIM = trade(nm("1/4 in"), "nm cut off each end of a new bar, its kerf included")
LEAST_USEFUL = house(nm("24 in"), "nm that is worth a place on the rack")
MOST_PATTERNS = house(10_000, "patterns listed before they are generated instead")
MOST_NODES = house(300_000, "nodes of one knapsack")
MOST_CELLS = house(4_000_000, "cells of a table of one knapsack")
SECONDS = house(20, "s of the solver in all")
LARGER_THAN_HALF = Sited((1, 2), "of a bar", "packing", "two such pieces share no bar", "derived")
