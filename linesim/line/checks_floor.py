"""What must hold of where places stand: each machine has one side."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import PLACES, Finding
from linesim.line.model import Line


def check_floor(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for kind in (*PLACES, "drawers"):
        for name, place in getattr(line, kind).items():
            machines = place.machines if kind == "stations" else 1
            if len(place.side) not in (0, 1, machines):
                rule = f"names {len(place.side)} sides, but {name} has {machines} machines"
                fix = "write one side for all, or one for each machine"
                if machines == 1:
                    rule, fix = f"names {len(place.side)} sides, but {name} stands on one", "write front or rear"
                yield Finding((kind, name, "side"), f"[{', '.join(place.side)}]", rule, fix)
