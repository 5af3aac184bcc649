"""Reading what differs by part type: a duration for each type, and a table of durations from type to type."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from linesim.line.distributions import Distribution
from linesim.line.part_types import ByPart
from linesim.line.problems import KeyPath
from linesim.line.units import BadValue

ReadOne = Callable[[Any, KeyPath], Distribution]
KnowPart = Callable[[str, KeyPath], bool]  # whether it is a part type; notes a problem if not


def by_part(
    given: Mapping[str, Any], path: KeyPath, mix: Mapping[str, float], read: ReadOne, know: KnowPart
) -> Distribution:
    """A duration for each part type, from a map of their names."""
    laws = {}
    for name, value in given.items():
        here = (*path, name)
        if know(name, here):
            laws[name] = read(value, here)
    return ByPart(laws, mix)


def from_to(given: Any, path: KeyPath, read: ReadOne, know: KnowPart) -> dict[str, dict[str, Distribution]]:
    """A table of durations from one part type to another. Raises BadValue if it is no table."""
    if not isinstance(given, Mapping) or not all(isinstance(row, Mapping) for row in given.values()):
        raise BadValue("must be a table from part to part", "write {small: {large: 20 min}, large: {small: 15 min}}")
    table: dict[str, dict[str, Distribution]] = {}
    for before, row in given.items():
        known = know(before, (*path, before))
        for after, value in row.items():
            here = (*path, before, after)
            if know(after, here) and known:
                table.setdefault(before, {})[after] = read(value, here)
    return table
