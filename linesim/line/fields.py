"""The fields of the model as the line file gives them: by which key, of what type, and the rules each must keep."""

from __future__ import annotations

import functools
import typing
from dataclasses import Field, field, fields
from typing import Any


def quantity(kind: str, default: Any = ..., **rules: Any) -> Any:
    """A dataclass field that the line file gives as a quantity of this kind, with the rules it must keep."""
    metadata = {"quantity": kind, **rules}
    return field(metadata=metadata) if default is ... else field(default=default, metadata=metadata)


@functools.cache
def keys_of(cls: type) -> tuple[dict[str, Field[Any]], dict[str, Any]]:
    """The fields of a dataclass by their keys in the line file, keyword-only ones last, and the types by field name."""
    known = {
        each.metadata.get("key", each.name): each
        for each in sorted(fields(cls), key=lambda each: bool(each.kw_only))
        if "read_from" not in each.metadata
    }
    return known, typing.get_type_hints(cls)
