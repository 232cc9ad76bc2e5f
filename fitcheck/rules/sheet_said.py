"""In which words is it told that two members of a sheet contradict each other, and what is wanted instead?"""

from collections.abc import Mapping
from dataclasses import dataclass

ASK_THE_MAKER = "Ask the kit's maker: the sheet contradicts itself: {what}"


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Members of a sheet that cannot all be right: where, what kind, in words, what to write instead.

    `pointers` name the members, the one to look at first in front; `sizes` the sizes that it concerns, every
    size when it is empty.
    """

    pointers: tuple[str, ...]
    code: str
    detail: str
    hint: str
    page: str
    sizes: tuple[str, ...] = ()

    @property
    def pointer(self) -> str:
        """Return the member to look at first."""
        return self.pointers[0]

    def touches(self, rule: str) -> bool:
        """Return whether the rule at this pointer is one of those that contradict each other."""
        return any(f"{one}/".startswith(f"{rule}/") for one in self.pointers)


def contradiction(
    code: str,
    pointers: tuple[str, ...],
    page: str,
    sizes: tuple[str, ...] = (),
    **values: object,
) -> Contradiction:
    """Return a contradiction in words.

    Args:
        code: a key of `SAID` [-].
        pointers: the members that contradict each other [-].
        page: page of the sheet where the first of them stands [-].
        sizes: codes of the sizes that it concerns [-].
        values: what stands at the places of its sentence [-].

    Returns:
        The contradiction [-].

    Raises:
        KeyError: no such code, or a place of its sentence is not filled.
    """
    detail, hint = SAID[code]
    return Contradiction(pointers, code, detail.format(**values), hint, page, sizes)


_ONE_PLACE = "Write both at the height where they sit."
_BELOW = "Write a height above the sill that lies under ceiling_height, or a higher ceiling."
_FITS_IN = "Write what goes into the narrowest opening of the size."
_BACKING = 'Write must_reach "backing", or leave the load out.'
_ONCE = "Write it once for each size, and call what differs by a name of its own."
_STOCK = "Write limits within the stock, or the stock that comes in the box."
_CUT = "Write deduct, brackets_take, limits and stock so that every opening of the size can be cut for."
_HINGES = "Write the distance between the highest and the lowest hinge."
_PANE = "Write it within the panel."

SAID: Mapping[str, tuple[str, str]] = {
    "window_twice": (
        "Size {size} gives its width at {height} twice: {one} and {other}.",
        "Write one window for each height of a size.",
    ),
    "windows_apart": (
        "Size {size} asks for {least} or more at {height} and {most} or less at {other}, but for widths that"
        " differ by {difference} or less.",
        "Write windows that one opening can keep.",
    ),
    "above_the_ceiling": (
        "The {what} reaches up to {height}, but a ceiling at {ceiling} is high enough for this kit.",
        _BELOW,
    ),
    "lean_too_far": (
        "Walls may lean by {most} over {over}: that is no wall.",
        "Write a lean that is small against its height.",
    ),
    "fall_too_far": (
        "The sill may fall by {fall} across {depth}: that is no sill.",
        "Write a fall that is small against the depth of the curb.",
    ),
    "wider_than_opening": (
        "The {what} may be {length}, but an opening {width} wide is wide enough for size {size}.",
        _FITS_IN,
    ),
    "flat_past_depth": (
        "The curb is to be flat over {flat}, but only {depth} deep.",
        "Write a flat top no wider than the curb is deep.",
    ),
    "off_the_curb": (
        "The {place} is to lie {setback} from the sill's outer edge, but a curb {depth} deep is deep enough"
        " for this kit.",
        "Write setbacks on the curb, or a deeper curb.",
    ),
    "off_its_backing": (
        "The {place} has its screws {setback} from the sill's outer edge, but its backing is to lie {least}"
        " or more from it.",
        "Write setbacks of screws and backing that meet.",
    ),
    "beyond_its_backing": (
        "The {place} has its screws {setback} from the sill's outer edge, but its backing is to lie {most}"
        " or less from it.",
        "Write setbacks of screws and backing that meet.",
    ),
    "backing_twice": (
        "The {place} asks twice for its backing at {height}: from {one} and from {other}.",
        "Write one setback for a place, side and height.",
    ),
    "backing_elsewhere": (
        "The {place} sits at {height}, but its backing is to lie at {other}.",
        "Write fixing and backing of a place at the same heights.",
    ),
    "bead_too_wide": (
        "The bead of the {run} is to be {bead} wide, more than {most}.",
        "Write how wide the bead is.",
    ),
    "rail_elsewhere": ("The rail sits at {rail}, but the {what} at {height}.", _ONE_PLACE),
    "brackets_elsewhere": (
        "The {part} is cut between brackets at {height}, but the {place} sits at {other}.",
        _ONE_PLACE,
    ),
    "take_without_brackets": (
        "The {part} is cut from wall to wall, but the brackets take {take}.",
        'Write from "between_brackets", or leave brackets_take out.',
    ),
    "longer_than_stock": ("The {part} is to be cut to {length}, but comes {stock} long.", _STOCK),
    "nothing_left": (
        "The {part} is {taken} shorter than an opening {width} wide, which size {size} takes: nothing is"
        " left of it.",
        _CUT,
    ),
    "never_long_enough": (
        "The {part} is {length} long in the widest opening of size {size}, but is to be {least} or more.",
        _CUT,
    ),
    "never_short_enough": (
        "The {part} is {length} long in the narrowest opening of size {size}, but is to be {most} or less.",
        _CUT,
    ),
    "part_twice": (
        "The {part} is cut in two ways for one size: less {one} and less {other}.",
        _ONCE,
    ),
    "cover_too_wide": (
        "The end covers of the {part} are to hide {length}, more than {most}.",
        "Write how far the part may be short.",
    ),
    "kerf_too_wide": (
        "The saw for the {part} is to take {length}, more than {most}.",
        "Write what the blade takes, or leave kerf out.",
    ),
    "bears_on_finish": (
        "The {place} bears a {what}, but is to reach no farther than the finish.",
        'Write must_reach "backing": no finish and no hollow-wall anchor carries a door.',
    ),
    "load_on_finish": (
        "The {place} bears {load}, but is to reach no farther than the finish.",
        _BACKING,
    ),
    "load_of_nothing": ("The {place} bears a load, but a load of {load}.", _BACKING),
    "height_twice": ("The {place} names the height {height} twice.", "Write each height once."),
    "place_twice": ("The {place} is described twice on the {surface} at {height}.", _ONCE),
    "above_its_sill": (
        "The {place} is fixed to the sill, but at {height} above it.",
        "Write height 0 for what is fixed to the sill.",
    ),
    "rail_on_sill": (
        "The {place} bears a {what}, but is fixed to the sill.",
        "Write the wall that the rail's bracket sits on.",
    ),
    "reaches_too_far": (
        "The {place} reaches {reach} from its wall, but an opening {width} wide is wide enough for size"
        " {size}.",
        _FITS_IN,
    ),
    "bracket_too_large": (
        "The bracket of the {place} has its screws {length} apart, more than {most}.",
        "Write how far its screws are apart.",
    ),
    "rail_too_high": (
        "The section of the rail is {height} high, more than {most}.",
        "Write width and height of the rail's section.",
    ),
    "screw_too_short": (
        "The {place} takes a screw {length} long, but its bracket is {thickness} thick.",
        "Write a screw that goes through its bracket and into what is behind.",
    ),
    "hinges_elsewhere": (
        "The hinges of the {panel} are {centres} apart, but sit at {low} and {high}.",
        _HINGES,
    ),
    "hinges_past_panel": (
        "The hinges of the {panel} are {centres} apart, but it is only {height} high.",
        _HINGES,
    ),
    "hinges_above_panel": (
        "The hinges of the {panel} sit at {high}, but it is only {height} high.",
        "Write the heights of the hinges on the panel.",
    ),
    "hinge_off_panel": (
        "The hinges of the {panel} turn {offset} off its edge, but it is only {width} wide.",
        "Write how far the hinge's axis is off the panel's edge.",
    ),
    "panel_too_wide": (
        "The {panel} is {length} wide, but an opening {width} wide is wide enough for size {size}.",
        _FITS_IN,
    ),
    "panels_too_narrow": (
        "The panels of size {size} are {together} wide together: too little to close {width}.",
        "Write panels that close the widest opening of the size.",
    ),
    "panels_never_overlap": (
        "The panels of size {size} are {together} wide together: too little to close {width} and overlap by"
        " {overlap}.",
        "Write panels that close and overlap in the narrowest opening of the size.",
    ),
    "panel_past_rail": (
        "The {panel} is {height} high, but the rail that it hangs on sits at {rail}.",
        "Write panels that hang between sill and rail.",
    ),
    "panel_drags": (
        "The {panel} is {height} high and hangs {clear} above the sill, but the rail sits at {rail}.",
        "Write panels that hang between sill and rail.",
    ),
    "panel_twice": ("The {panel} is described twice for one size: {one} and {other} wide.", _ONCE),
    "panel_of_other_sizes": (
        "Size {size} and the {panel} do not say the same of whether they belong together.",
        "Name the panel in the size's panels and the size in the panel's sizes, or leave one out.",
    ),
    "panel_too_thick": (
        "The {panel} is {thickness} thick, but {size} wide or high.",
        "Write thickness, width and height of the pane.",
    ),
    "tracks_too_near": (
        "The tracks are {apart} apart, but the {panel} is {thickness} thick.",
        "Write how far the middles of the two tracks are apart.",
    ),
    "tracks_off_the_curb": (
        "The tracks are {apart} apart, but a curb {depth} deep is deep enough for this kit.",
        "Write how far the middles of the two tracks are apart.",
    ),
    "overlap_past_panel": (
        "Shut panels are to overlap by {overlap}, but the {panel} is only {width} wide.",
        "Write an overlap that is small against the panels.",
    ),
    "nothing_slides": (
        "The sheet names tracks to slide on, but the kit is a {kind}.",
        "Leave sliding out, or write another kind.",
    ),
    "anchor_twice": (
        "The {anchor} is described twice for {base}.",
        "Write each anchor once for a base.",
    ),
    "anchor_too_short": (
        "The {anchor} is {length} long, too short to go {embedment} deep behind {stack}.",
        "Write a longer anchor, or less stack_most.",
    ),
    "anchor_rims_meet": (
        "The {anchor} is {diameter} thick, but may be set {length} from another or from an edge.",
        "Write edge and spacing as the report allows them.",
    ),
    "anchor_bit": (
        "The {anchor} is {diameter} thick, but its hole {bit} wide.",
        "Write the bit that the report names.",
    ),
    "anchor_base_not_allowed": (
        "The {anchor} is for {base}, on which the kit is not allowed.",
        "Name the base in the structures that the kit allows, or leave the anchor out.",
    ),
    "glass_too_low": (
        "The glass is cut {top} high, less gaps of {head} and {foot}: nothing is left of it.",
        "Write the top of the glass over the sill.",
    ),
    "glass_too_narrow": (
        "Gaps and panels take {taken} of an opening {width} wide, which size {size} takes: nothing is left"
        " for the others.",
        "Write gaps and widths that leave room for the panels without a width.",
    ),
    "panel_never_so_wide": (
        "The {panel} gets {low} to {high} in the openings of size {size}, but is to be {limits}.",
        "Write limits that the openings of the size can keep.",
    ),
    "panel_past_its_limits": (
        "The {panel} is {width} wide, but is to be {limits}.",
        "Write a width within least and most.",
    ),
    "hole_past_edge": (
        "The hole {hole} is {diameter} wide, but its middle {length} from an edge of the {panel}.",
        _PANE,
    ),
    "hole_past_panel": (
        "The hole {hole} has its middle {length} from an edge, but the {panel} is only {size} there.",
        _PANE,
    ),
    "notch_past_panel": (
        "The notch {notch} reaches over {length}, but the {panel} is only {size} there.",
        _PANE,
    ),
    "notch_radius": (
        "The notch {notch} is {length} by {depth}: no room for corners of radius {radius}.",
        "Write a radius that goes into the notch.",
    ),
}
