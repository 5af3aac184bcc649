"""What must hold within a station that does more than work on one part at a time for its cycle."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import Finding
from linesim.line.model import Line, Strokes
from linesim.line.problems import KeyPath
from linesim.line.units import with_unit


def check_stations(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        if station.strokes:
            yield from strokes_make_sense(("stations", name, "strokes"), station.strokes, list(station.defects))


def strokes_make_sense(path: KeyPath, strokes: Strokes, defects: list[str]) -> Iterator[Finding]:
    total = sum(strokes.number.values())
    if abs(total - 1) > 1e-9:
        number = (*path, "number")
        rule = "must add up to 100 %: every part needs some number of strokes"
        yield Finding(number, with_unit("share", total), rule, "write {0: 30 %, 1: 40 %, 2: 30 %}", None, (number,))
    if strokes.defect in defects:
        rule = f"the name {strokes.defect} is taken by a defect of this station"
        yield Finding((*path, "defect"), strokes.defect, rule, "give it another name")
