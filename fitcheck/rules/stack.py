"""How thick is what lies between the room and the structure, and can it be so at all?"""

from fitcheck.rules.compare import words
from fitcheck.rules.drilling import MASONRY
from fitcheck.rules.length import Length
from fitcheck.rules.survey import Zone
from fitcheck.rules.tables import LAYER_MOST

NO_LAYER = {"finish": frozenset({"bare", "masonry"}), "backing": frozenset({"none"})}
_PAINT = "painted_board"


def stack_of(zone: Zone) -> int | None:
    """Return the thickness between the room and the structure.

    Source: arithmetic.

    Args:
        zone: the build-up at the hole [-].

    Returns:
        Finish and backing together; None when a part is not known, or bridges a gap [nm].
    """
    layers = [_known_nm(*layer) for layer in _layers(zone)]
    if zone.fit == "hollow" or None in layers:
        return None
    return sum(layer or 0 for layer in layers)


def least_stack_nm(zone: Zone) -> int:
    """Return what lies at least between the room and the structure: the layers whose thickness is known.

    Source: arithmetic.

    Args:
        zone: the build-up at the hole [-].

    Returns:
        The thickness [nm].
    """
    return sum(_known_nm(*layer) or 0 for layer in _layers(zone))


def stack_doubts(zone: Zone) -> tuple[str, ...]:
    """Return what cannot be so in a build-up as it was written down, each as a question.

    A layer that is there has a thickness, one that is not has none, masonry that is the face of the wall
    has nothing but masonry behind it, and no layer is thicker than the house takes for possible.

    Source: house setting for the thickest layer; the rest is what the words mean.

    Args:
        zone: the build-up at the hole [-].

    Returns:
        The questions; none when the build-up can be so [-].
    """
    asked = [one for layer in _layers(zone) if (one := _layer_doubt(zone, *layer))]
    behind = zone.backing if zone.backing not in {"none", "unknown"} else zone.structure
    if zone.finish == "masonry" and behind not in {*MASONRY, "none", "unknown"}:
        asked.append(
            f"The finish is written down as masonry, and behind it {words(behind)}: what is there?"
        )
    return tuple(asked)


def _layers(zone: Zone) -> tuple[tuple[str, str, Length | None], ...]:
    return (
        ("finish", zone.finish, zone.finish_thickness),
        ("backing", zone.backing, zone.backing_thickness),
    )


def _known_nm(layer: str, material: str, thickness: Length | None) -> int | None:
    if thickness is not None:
        return thickness.nm
    return 0 if material in NO_LAYER[layer] else None


def _layer_doubt(zone: Zone, layer: str, material: str, thickness: Length | None) -> str | None:
    if thickness is None:
        return None
    if material in NO_LAYER[layer]:
        if thickness.nm == 0:
            return None
        return (
            f"The {layer} is written down as {words(material)}, and as {thickness} thick: which of the "
            "two is true?"
        )
    if thickness.nm == 0 and not (material == _PAINT and zone.backing != "none"):
        return f"How thick is the {_named(layer, material)}? It is written down as {thickness}."
    if thickness.nm > LAYER_MOST.value:
        return f"Is the {_named(layer, material)} really {thickness} thick? Probe or measure."
    return None


def _named(layer: str, material: str) -> str:
    return layer if material == "unknown" else words(material)
