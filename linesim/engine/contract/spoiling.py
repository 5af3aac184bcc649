"""Parts that the end of their operation spoils: too many strokes, a tool that breaks, too long inside, after a stop."""

from __future__ import annotations

from linesim.engine.contract.aside import goes_on
from linesim.engine.contract.leaving import scrap_part
from linesim.engine.contract.overstay import reject_if_late
from linesim.engine.contract.records import N_STROKES, PART, STEP, TO_SCRAP, TOO_MANY, Floor
from linesim.engine.contract.strokes import reject_after_too_many
from linesim.engine.contract.tool_life import breaks_with_this_part


def spoil(floor: Floor, machine: int) -> None:
    """Scrap the part that an operation has just ended, if that spoiled it. For steps where it may."""
    step = floor[machine + STEP]
    part = floor[machine + PART]
    if floor[step + N_STROKES] and floor[machine + TOO_MANY]:
        reject_after_too_many(floor, machine)
    if goes_on(floor, machine, part) and breaks_with_this_part(floor, machine):
        scrap_part(floor, machine, step)
    if goes_on(floor, machine, part):
        reject_if_late(floor, machine)
    if floor[machine + TO_SCRAP]:
        floor[machine + TO_SCRAP] -= 1
        if goes_on(floor, machine, part):
            scrap_part(floor, machine, step)
