"""A dataclass field that the line file gives as a quantity: what kind it is, and the rules it must keep."""

from __future__ import annotations

from dataclasses import field
from typing import Any


def quantity(kind: str, default: Any = ..., **rules: Any) -> Any:
    """A dataclass field that the line file gives as a quantity of this kind, with the rules it must keep."""
    metadata = {"quantity": kind, **rules}
    return field(metadata=metadata) if default is ... else field(default=default, metadata=metadata)
