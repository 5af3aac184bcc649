"""Values between two quantities of one unit, such as cycle times between 36 s and 44 s."""

from __future__ import annotations

import math
from typing import Any

from linesim.line.units import NUMBER_AND_UNIT, BadValue

WHOLE = ("", "parts", "part")  # what bears such a unit, or none, is counted


def between(low: Any, high: Any, share: float) -> str:
    """The quantity that lies at this share (0 to 1) of the way from low to high, in their unit.

    Counts given as whole numbers stay whole, each as likely as the others. Raises BadValue if the two have no number,
    not the same unit, or the wrong order.
    """
    (first, unit), (last, other) = _split(low), _split(high)
    if unit != other:
        raise BadValue(f"has two units, {unit or 'none'} and {other or 'none'}", "write both ends in the same unit")
    if not float(first) < float(last):
        raise BadValue("must go from the lower to the higher end", f"write low: {high}, high: {low}")
    if unit in WHOLE and float(first).is_integer() and float(last).is_integer():
        value = math.floor(float(first) + share * (float(last) - float(first) + 1))
        return f"{min(value, int(float(last)))} {unit}".rstrip()
    return f"{float(first) + share * (float(last) - float(first)):.6g} {unit}".rstrip()


def _split(given: Any) -> tuple[str, str]:
    match = NUMBER_AND_UNIT.fullmatch(str(given).strip())
    if match is None or isinstance(given, bool):
        raise BadValue("must be a number with its unit at both ends", "write for example {low: 36 s, high: 44 s}")
    return match[1], match[2]
