"""Parts that stay in a machine for longer than their operation, since it stood: beyond a limit they are spoilt."""

from __future__ import annotations

from linesim.engine.contract.leaving import reject_part
from linesim.engine.contract.records import LEAVE_BY, NOW, OVERSTAY, OVERSTAY_DEFECT, OVERSTAYS, PART, STEP, Floor


def set_limit(floor: Floor, machine: int, part: int, duration: int) -> None:
    """An operation starts on a part that will take so long if nothing stops it."""
    step = floor[machine + STEP]
    if floor[step + OVERSTAYS]:
        floor[part + LEAVE_BY] = floor[NOW] + duration + floor[step + OVERSTAY]


def reject_if_late(floor: Floor, machine: int) -> None:
    """The operation on the part at hand has ended: it is scrapped here if that is too late, and charged here."""
    step = floor[machine + STEP]
    if floor[step + OVERSTAYS] and floor[NOW] > floor[floor[machine + PART] + LEAVE_BY]:
        reject_part(floor, machine, floor[step + OVERSTAY_DEFECT])
