"""Which settings decide whether a saw mark may be released?"""

from fitcheck.rules.tables_structure import house, nm, trade

COARSEST_GRADUATION = house(nm("1/16 in"), "nm")
WIDEST_BAND = house(nm("1/2 in"), "nm, survey against as fixed")
METRIC_STEP = house(nm("1 mm"), "nm")
READERS = trade(2, "people")
KERF_WHEN_NOT_SAID = trade(nm("1/8 in"), "nm")
