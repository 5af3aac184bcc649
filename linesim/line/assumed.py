"""Which values of a line file are told to be assumptions, with their ranges, and which are not."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping
from typing import Any

from linesim.line.loading import build
from linesim.line.model import Line
from linesim.line.problems import LineError, Problem

ROOMS = ("infeed", "outfeed", "stations", "buffers", "loaders", "crews")
# Units of what is estimated or measured; prices, positions and power are known when a line is planned.
UNITS = r"(ms|s|min|h|parts?|%|ppm|m/s|m/min|cm/s|mm/s|m/s2|cm/s2|mm/s2|um|nm|um/part|nm/part)"
ESTIMATED = re.compile(rf"\s*[-+]?[\d.]+(e[-+]?\d+)?\s*{UNITS}\s*")
NO_ESTIMATES = ("at", "age", "paid", "from", "to", "planned_cycle", "call_ahead", "power")


def estimated_values(content: Mapping[str, Any]) -> list[str]:
    """Keys of all values of a line's plain map that someone has measured, estimated or been told."""
    return [".".join(path) for room in ROOMS for path in _estimates(content.get(room), (room,))]


def without_entry(content: Mapping[str, Any]) -> list[str]:
    """Those of them that no entry under `assumptions` covers; an entry covers all below its key."""
    entries = content.get("assumptions") or {}
    return [key for key in estimated_values(content) if not any(f"{key}.".startswith(f"{entry}.") for entry in entries)]


def at_the_ends(content: Mapping[str, Any], line: Line) -> Iterator[tuple[str, str, Line]]:
    """For each assumption with a range: its key, a value at an end of the range, and the line with that value.

    content: the plain map of the line. Raises LineError if a value is not possible there.
    """
    problems: list[Problem] = []
    for key, assumption in line.assumptions.items():
        for value in assumption.range:
            try:
                yield key, value, build(_with_value(content, key, value))
            except LineError as error:
                told = error.problems[0]
                rule = f"is not possible for {told.key}: {told.rule}"
                problems.append(Problem(f"assumptions.{key}.range", value, rule, told.fix))
    if problems:
        raise LineError(problems, line.name)


def _with_value(content: Mapping[str, Any], key: str, value: Any) -> dict[str, Any]:
    changed: dict[str, Any] = copy.deepcopy(dict(content))
    inside: Any = changed
    *steps, last = key.split(".")
    for step in steps:
        inside = inside[step]
    inside[last] = value
    return changed


def _estimates(content: Any, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    if isinstance(content, Mapping):
        for key, inner in content.items():
            if key not in NO_ESTIMATES:
                yield from _estimates(inner, (*path, str(key)))
    elif isinstance(content, str) and ESTIMATED.fullmatch(content) and "price" not in path:
        yield path
