"""Which places can a site's way in have, and by which of the site's fields is each told?"""

STRAIGHT_IN = "straight_in"
PASSES: dict[str, str] = {
    STRAIGHT_IN: "straight in on one level: nothing but the door",
    "corridor": "a straight corridor",
    "corner": "a corner of a corridor",
    "lift": "a lift",
    "stairs": "a straight flight of stairs",
    "quarter_turn": "stairs with a quarter turn",
    "half_turn": "stairs with a half turn",
}
SIZES: dict[str, str] = {
    "door_width": "door width",
    "door_height": "door height",
    "corridor_width": "corridor width",
    "corridor_beyond": "corridor width beyond the corner",
    "corridor_height": "corridor height",
    "lift_width": "lift width",
    "lift_depth": "lift depth",
    "lift_height": "lift height",
    "lift_door_width": "lift door width",
    "lift_door_height": "lift door height",
    "stair_width": "stair width",
    "stair_headroom": "headroom over the stair",
    "stair_rise": "rise of a step",
    "stair_going": "going of a step",
    "landing_depth": "landing depth",
    "landing_width": "landing width across both flights",
    "landing_height": "height over the landing",
}
DOOR = ("door_width", "door_height")
_STEP = {"rise": "stair_rise", "going": "stair_going"}
_TURN = {"flight": "stair_width", "landing": "landing_depth", "height": "landing_height"}
_CORRIDOR = {"width": "corridor_width", "height": "corridor_height"}
DOORWAY = ("doorway", "Door", {"width": "door_width", "height": "door_height"})
_STAIR = ("stairs", "Stair", {"width": "stair_width", "headroom": "stair_headroom", **_STEP})
PLACES_OF: dict[str, tuple[tuple[str, str, dict[str, str]], ...]] = {
    STRAIGHT_IN: (),
    "corridor": (("doorway", "Corridor", _CORRIDOR),),
    "corner": (
        (
            "corner",
            "Corner of the corridor",
            {"from": "corridor_width", "to": "corridor_beyond", "height": "corridor_height"},
        ),
    ),
    "lift": (
        (
            "lift_car",
            "Lift car",
            {
                name: f"lift_{name}"
                for name in ("width", "depth", "height", "door_width", "door_height")
            },
        ),
    ),
    "stairs": (_STAIR,),
    "quarter_turn": (_STAIR, ("stair_turn", "Turn of the stair", {**_TURN, **_STEP})),
    "half_turn": (
        _STAIR,
        ("stair_turn", "Turn of the stair", {**_TURN, **_STEP, "across": "landing_width"}),
    ),
}
# Where sizes are told and no kind is, the harder one is reckoned with.
FAMILIES = (
    ("corridor_", ("corner", "corridor")),
    ("lift_", ("lift",)),
    ("stair_", ("quarter_turn", "half_turn", "stairs")),
    ("landing_", ("quarter_turn", "half_turn")),
)
