"""How much floor a place takes and on which side of a rail it stands, as people write them: `[2.4 m, 2.1 m]`, `front`.

For drawings only: nothing of it changes a simulated figure.
"""

from __future__ import annotations

from typing import Any

from linesim.line import units
from linesim.line.units import BadValue

SIDES = ("front", "rear")
LARGEST_M = 100.0
_FIX = "write [2.4 m, 2.1 m]"


def parse_floor_size(given: Any) -> tuple[float, float]:
    """Width along the rail and depth across it [m]. Raises BadValue."""
    if not isinstance(given, list) or len(given) != 2:
        raise BadValue("must be a list of two lengths, along the rail and across it", _FIX)
    along, across = (units.parse("length", length) for length in given)
    if min(along, across) <= 0 or max(along, across) > LARGEST_M:
        raise BadValue(f"must be two lengths above 0 m, at most {LARGEST_M:g} m", _FIX)
    return along, across


def parse_sides(given: Any) -> tuple[str, ...]:
    """A side for all machines of a place, or a list of sides, one for each. Raises BadValue."""
    sides = given if isinstance(given, list) else [given]
    if not sides or not all(side in SIDES for side in sides):
        raise BadValue("must be front or rear, or a list of these for several machines", "write front or rear")
    return tuple(sides)
