"""How far may members of one sheet lie apart before they contradict each other?"""

from fitcheck.rules.tables_structure import house, nm

RAIL_PLACED_WITHIN = house(nm("4 in"), "nm between rail, its parts, its brackets and its panels")
SIDES_TAKE = house(nm("4 in"), "nm of the width that strips and posts beside panels may fill")
TALLEST_BRACKET = house(nm("12 in"), "nm that a rail, its bracket or a hinge leaf is high or wide")
WIDEST_BEAD = house(nm("1 in"), "nm of a bead of sealant")
HINGES_WITHIN = house(nm("1/4 in"), "nm between hinge centres and the heights of the hinges")
WIDEST_COVER = house(nm("2 in"), "nm the end covers of a part may hide")
