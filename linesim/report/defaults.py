"""What holds where the file of a line does not name a key: its default, as a file would say it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from linesim.line.model import Line, NextCall
from linesim.line.overview_words import Typed
from linesim.line.units import KINDS, with_unit

NOT_NAMED, MARK = "-", " (default)"
LIKE = {"load": "exchange", "unload": "exchange"}  # a key of a loader -> the one that stands in for it


def default_at(line: Line | None, path: Sequence[str]) -> str:
    """The default of the key at the end of this path, so marked; NOT_NAMED where the line has no such thing, or where
    the key stands for nothing if it is not named.
    """
    inside, field = _found(line, path)
    if field is None or field.default is dataclasses.MISSING or getattr(inside, field.name) != field.default:
        return NOT_NAMED
    words = _words(field.default, field.metadata.get("quantity", ""))
    if not words and path[-1] in LIKE:
        return f"as {LIKE[path[-1]]}{MARK}"
    return words + MARK if words else NOT_NAMED


def _found(line: Line | None, path: Sequence[str]) -> tuple[Any, dataclasses.Field[Any] | None]:
    """The part of the line that holds the key, and its field; None where there is none."""
    inside: Any = line
    for step in path[:-1]:
        field = _field(inside, step)
        inside = getattr(inside, field.name) if field else inside.get(step) if isinstance(inside, Mapping) else None
    return inside, _field(inside, path[-1])


def _field(inside: Any, key: str) -> dataclasses.Field[Any] | None:
    """The field of a part of the line that a file calls so."""
    if not dataclasses.is_dataclass(inside):
        return None
    fields = {field.metadata.get("key", field.name): field for field in dataclasses.fields(inside)}
    return fields.get(key)


def _words(value: Any, quantity: str) -> str:
    """A value as a file would say it; "" for nothing."""
    if value is None or value == ():
        return ""
    if quantity == "random_duration":
        return Typed().law(value)
    if isinstance(value, NextCall):
        return value.rule
    if isinstance(value, bool):
        return str(value).lower()
    return with_unit(quantity, value) if quantity in KINDS else str(value)
