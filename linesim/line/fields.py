"""The fields of the model as the line file gives them: by which key, of what type, and the rules each must keep."""

from __future__ import annotations

import functools
import typing
from collections.abc import Mapping
from dataclasses import MISSING, Field, field, fields, is_dataclass
from typing import Any, NamedTuple


def quantity(kind: str, default: Any = ..., **rules: Any) -> Any:
    """A dataclass field that the line file gives as a quantity of this kind, with the rules it must keep."""
    metadata = {"quantity": kind, **rules}
    return field(metadata=metadata) if default is ... else field(default=default, metadata=metadata)


class Holds(NamedTuple):
    """The type of a field, taken apart once.

    several: Mapping or tuple, if it is one. each: the type of what is in a map. structure: the dataclass that it, or
    each of several, is.
    """

    several: Any
    each: Any
    structure: type | None


class Keys(NamedTuple):
    """What a map of the line file may hold.

    fields: by key, keyword-only ones last. types: by name of the field. needed: keys that must be there.
    """

    fields: dict[str, Field[Any]]
    types: dict[str, Holds]
    needed: frozenset[str]


@functools.cache
def keys_of(cls: type) -> Keys:
    """The keys of a dataclass of the model."""
    known = {
        each.metadata.get("key", each.name): each
        for each in sorted(fields(cls), key=lambda each: bool(each.kw_only))
        if "read_from" not in each.metadata
    }
    types = {name: _taken_apart(hint) for name, hint in typing.get_type_hints(cls).items()}
    return Keys(known, types, frozenset(key for key, each in known.items() if _is_needed(each)))


def _taken_apart(hint: Any) -> Holds:
    several, inside = typing.get_origin(hint), typing.get_args(hint)
    structure = next((kind for kind in (hint, *inside) if is_dataclass(kind)), None)
    return Holds(several, inside[-1] if several is Mapping else None, typing.cast(type | None, structure))


def _is_needed(each: Field[Any]) -> bool:
    return each.default is MISSING and each.default_factory is MISSING
