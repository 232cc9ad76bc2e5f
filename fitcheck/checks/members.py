"""How is a member of a question or of an answer described for the schema?"""

from collections.abc import Iterable, Mapping
from typing import Any

from drf_spectacular.utils import PolymorphicProxySerializer, extend_schema_field
from rest_framework import serializers

from fitcheck.checks.shapes import STATES, ComputedSerializer, SourceSerializer

Shape = type[serializers.Serializer]
Field = serializers.Field
LENGTH = "A length with its unit: `59 3/8 in`, `1508 mm`."
MASS = "A mass with its unit: `34.4 kg`, `75 lb`."
FORCE = "A force with its unit: `45 lbf`, `200 N`."


def shape(name: str, says: str, /, **members: Field) -> Shape:
    """Describe an object by its members; the name is what the schema calls it."""
    members_of = {"__doc__": says, **members}
    return type(f"{name}Serializer", (serializers.Serializer,), members_of)


def text(says: str = "", **how: Any) -> Field:
    """A text."""
    return serializers.CharField(help_text=says, **how)


def length(says: str = "", **how: Any) -> Field:
    """A length as somebody writes it, with its unit."""
    return text(f"{says} {LENGTH}".strip(), **how)


def number(says: str, **how: Any) -> Field:
    """A plain decimal written as a text."""
    return text(f"{says} A decimal as a text: `0.2`.", **how)


def whole(says: str = "", **how: Any) -> Field:
    """A whole number."""
    return serializers.IntegerField(help_text=says, **how)


def flag(says: str = "", **how: Any) -> Field:
    """True or false."""
    return serializers.BooleanField(help_text=says, **how)


def choice(words: Iterable[str], says: str = "", **how: Any) -> Field:
    """One of some words."""
    return serializers.ChoiceField([(one, one) for one in words], help_text=says, **how)


def choices(words: Iterable[str], says: str = "", **how: Any) -> Field:
    """Some of some words."""
    return serializers.ListField(child=choice(words), help_text=says, **how)


def texts(says: str = "", **how: Any) -> Field:
    """A list of texts."""
    return serializers.ListField(child=serializers.CharField(), help_text=says, **how)


def several(child: Field, says: str = "", **how: Any) -> Field:
    """A list of one kind of thing."""
    return serializers.ListField(child=child, help_text=says, **how)


def state(**how: Any) -> Field:
    """How it stands: fits, tight, fails or unknown."""
    return serializers.ChoiceField(choices=STATES, **how)


def computed(says: str = "", **how: Any) -> Field:
    """A computed length."""
    return ComputedSerializer(help_text=says, **how)


def source() -> Field:
    """Where a figure comes from."""
    return SourceSerializer()


def anything(says: str, **how: Any) -> Field:
    """A member whose shape is told elsewhere."""
    return serializers.JSONField(help_text=says, **how)


def one_of(name: str, says: str, kinds: Mapping[str, Shape], **how: Any) -> Field:
    """An object whose member `kind` says which of several shapes it has."""
    union = PolymorphicProxySerializer(
        component_name=name, serializers=dict(kinds), resource_type_field_name="kind"
    )
    field = type(f"{name}Field", (serializers.JSONField,), {})
    described: Any = extend_schema_field(union)(field)
    made: Field = described(help_text=says, **how)
    return made
