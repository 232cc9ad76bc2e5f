"""Which numbers say whether people can lift a panel and get it in, and who says so?"""

from fractions import Fraction

from fitcheck.rules.tables_site import Sited, house, nm, trade

HORIZONTAL_FROM_BOX = Sited(
    {"metric": (20.0, 25.0, 25.0), "us": (8.0, 10.0, 10.0)},
    "cm, in: added to half the depth of the load when lifted high, low; high from this height",
    "niosh",
    "estimating H",
    "published",
)
SHORT_WORK = Sited((60, 1.0), "min, rest over work", "niosh", "duration, short", "published")
MODERATE_WORK = Sited(
    (120, 0.3), "min, rest over work", "niosh", "duration, moderate", "from memory"
)
LONGEST_WORK = Sited(480, "min", "niosh", "duration, long", "published")
INDEX_FOR_NEARLY_ALL = Sited(1, "load over limit", "niosh", "lifting index", "published")
OUTSIDE_THE_METHOD = Sited(
    {
        "one_hand": "lifting with one hand",
        "kneeling": "lifting seated or kneeling",
        "restricted_space": "lifting in a space that forces the posture",
        "unstable_load": "lifting an unstable load",
        "carrying": "carrying, pushing or pulling",
        "stairs": "climbing with the load",
        "slippery_floor": "a slippery floor",
    },
    "-",
    "niosh",
    "limitations",
    "published",
)

LEAST_OF_GLASS_MASS = Sited(
    Fraction(9, 10),
    "of density x width x height x thickness: the least thickness of 10 mm glass is 9.02 mm",
    "c1036",
    "minimum thickness",
    "derived",
)

ROOM_FOR_HANDS = house(nm("50 mm"), "nm kept clear at every place")
PACKING_EACH_SIDE = house(nm("25 mm"), "nm of packing on every side of a panel as it is carried")
CARRY_BETWEEN_RESTS = house(nm("15 m"), "nm of level carrying between two rests")
SMALLEST_STEP = house(nm("0.1 mm"), "nm to which a margin is worked out")
WIDEST_SEARCH = house(nm("3 m"), "nm by which a place may be too small and still be measured")
PROTECTION = trade(
    {
        "always": (
            "Keep the corner guards on until the sheet says otherwise.",
            "Lay two soft rests (foam or carpet on timber) at every place where it is set down; "
            "never stand glass on a hard floor or on a corner.",
            "Wear cut-resistant grip gloves, eye protection and closed shoes; keep out of its "
            "fall path.",
        ),
        "doorway": ("Pad both jambs; take the door off its hinges if it does not swing clear.",),
        "corner": ("Pad the inner corner of the wall at the height of the glass edge.",),
        "stairs": ("Clear and cover the treads; one person calls every step.",),
        "stair_turn": ("Pad the newel post or the wall corner; rest before the turn.",),
        "lift_car": ("Pad the walls of the car and hold its door; nobody rides under the glass.",),
    },
    "-",
)
USUAL_LIFT = house(
    {"horizontal": 30.0, "from": 50.0, "to": 100.0, "per_minute": 0.2, "hours": 1.0},
    "cm from the ankles, cm from the floor, per minute, h: a panel from its rest to its rail",
)
