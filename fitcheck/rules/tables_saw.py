"""Which settings decide whether a saw mark may be released?"""

from fitcheck.rules.tables_structure import house, nm, trade

COARSEST_GRADUATION = house(nm("1/16 in"), "nm")
WIDEST_BAND = house(nm("1/2 in"), "nm, survey against as fixed")
FAR_SHORT = house(nm("1/2 in"), "nm that no end cover hides, where a sheet does not say")
WIDEST_KERF = house(nm("1/2 in"), "nm, the widest blade that is believed")
LEAST_PART = house(nm("1 in"), "nm, the shortest part that is sawn at a mark")
METRIC_STEP = house(nm("1 mm"), "nm")
READERS = trade(2, "people")
KERF_WHEN_NOT_SAID = trade(nm("1/8 in"), "nm")
