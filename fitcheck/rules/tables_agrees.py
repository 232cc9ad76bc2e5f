"""How far may members of one sheet lie apart before they contradict each other?"""

from fitcheck.rules.tables_structure import house, nm, trade

RAIL_PLACED_WITHIN = house(nm("4 in"), "nm between rail, its parts, its brackets and its panels")
SIDES_TAKE = house(nm("4 in"), "nm of the width that strips and posts beside panels may fill")
HINGES_WITHIN = house(nm("1/4 in"), "nm between hinge centres and the heights of the hinges")
WIDEST_KERF = trade(nm("1/4 in"), "nm a saw blade takes")
WIDEST_COVER = house(nm("2 in"), "nm the end covers of a part may hide")
