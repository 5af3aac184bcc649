"""Active spells: for how long an owner was active without a break. The raw material of the shifting bottleneck."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from linesim.engine.contract.ledger import SPELL_COLUMNS
from linesim.engine.contract.records import N_SPELLS, NOW, SPELLS_AT, Floor

SPELL_WIDTH = len(SPELL_COLUMNS)


def note_spell(floor: Floor, owner: int, since: int) -> None:
    """Write down that an owner was active without a break from `since` until now.

    The last ones that lie inside it and ended earlier give way to it: see `Spells`.
    """
    if floor[NOW] > since:
        count = floor[N_SPELLS]
        row = floor[SPELLS_AT] + SPELL_WIDTH * count
        while count and floor[row - 2] >= since and floor[row - 1] < floor[NOW]:
            row -= SPELL_WIDTH
            count -= 1
        floor[row] = owner
        floor[row + 1] = since
        floor[row + 2] = floor[NOW]
        floor[N_SPELLS] = count + 1


def active_since(floor: Floor, owner: int) -> int:
    """Since when an owner that becomes active now is so: a spell that ended at this very instant goes on."""
    last = floor[SPELLS_AT] + SPELL_WIDTH * (floor[N_SPELLS] - 1)
    row = last
    while row >= floor[SPELLS_AT] and floor[row + 2] == floor[NOW]:
        if floor[row] == owner:
            since = floor[row + 1]
            floor[row] = floor[last]
            floor[row + 1] = floor[last + 1]
            floor[N_SPELLS] -= 1
            return since
        row -= SPELL_WIDTH
    return floor[NOW]


class Spells:
    """The spells of a run as they leave the floor.

    A spell that lies inside a longer one can never be the longest running one, so it is forgotten: mostly as the longer
    one ends, at the latest at the end. So few are kept that memory hardly grows with the length of a run.
    """

    def __init__(self) -> None:
        self._blocks: list[np.ndarray] = []

    def take(self, floor: Floor, running_since: int) -> None:
        """Take the rows off the floor, but for spells that ended now: those may go on.

        running_since: when the first spell that still runs began [us].
        """
        first, count = floor[SPELLS_AT], floor[N_SPELLS]
        rows = _rows(floor[first : first + SPELL_WIDTH * count])
        ended = int(np.searchsorted(rows[:, 2], floor[NOW]))
        self._blocks.append(outlasting(rows[:ended], running_since))
        for n in range(SPELL_WIDTH * (count - ended)):
            floor[first + n] = floor[first + SPELL_WIDTH * ended + n]
        floor[N_SPELLS] = count - ended

    def all(self, floor: Floor, running: Sequence[tuple[int, int]]) -> np.ndarray:
        """Those that lie inside no other, in order of their ends: int64, columns SPELL_COLUMNS.

        running: owner's number and beginning [us] of the spells that still run; they are cut now.
        """
        cut = [(owner, since, floor[NOW]) for owner, since in running if since < floor[NOW]]
        first, count = floor[SPELLS_AT], floor[N_SPELLS]
        together = np.concatenate([*self._blocks, _rows(floor[first : first + SPELL_WIDTH * count]), _rows(cut)])
        return outlasting(together, floor[NOW])


def _rows(numbers: object) -> np.ndarray:
    return np.array(numbers, dtype=np.int64).reshape(-1, SPELL_WIDTH)


def outlasting(spells: np.ndarray, running_since: int) -> np.ndarray:
    """The spells, given in order of their ends, that do not lie inside another one that ends later.

    running_since: when the first spell that still runs began [us].
    """
    begin, end = spells[:, 1], spells[:, 2]
    first_begin = np.minimum.accumulate(np.append(begin, running_since)[::-1])[::-1]  # of this spell and all behind it
    last_of_its_end = np.append(end[1:] != end[:-1], True)[: len(end)]
    groups = np.flatnonzero(last_of_its_end) + 1
    ending_later = np.repeat(groups, np.diff(groups, prepend=0))
    return spells[begin < first_begin[ending_later]]
