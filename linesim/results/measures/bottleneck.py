"""The shifting bottleneck: who holds the line up, from instant to instant.

Source: Roser, Nakano & Tanaka 2002. At any instant the owner whose running active period is the longest is the
bottleneck. Where the periods of two bottlenecks that follow each other overlap, it passes from one to the other.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.results.measures.planned import planned_before_us, planned_us, ratio


def bottleneck_spells(spells: np.ndarray) -> np.ndarray:
    """Those active periods that are the longest running one at some instant, in order; both their ends grow.

    spells: int64, shape (n, 3): owner, from, to [us], in any order; the result likewise. Of equally long ones
    that which began first wins, then the first owner.
    """
    ordered = _inside_no_other(spells)
    _, begin, end = ordered.T
    instants = np.concatenate([begin, end])  # between these nothing changes
    first = np.searchsorted(end, instants, side="right")  # of those that run at each instant, which follow each other
    last = np.searchsorted(begin, instants, side="right") - 1
    first, last = first[first <= last], last[first <= last]
    longest = first
    for further in range(1, 1 + max(last - first, default=0)):  # at most one for each owner
        other = np.minimum(first + further, last)
        longest = np.where((end - begin)[other] > (end - begin)[longest], other, longest)
    return ordered[np.unique(longest)]


def _inside_no_other(spells: np.ndarray) -> np.ndarray:
    """The spells that lie inside no other, in order: only they can ever be the longest running one."""
    ordered = spells[np.lexsort((spells[:, 0], -spells[:, 2], spells[:, 1]))]
    latest = np.maximum.accumulate(ordered[:, 2])
    return ordered[np.append(True, ordered[1:, 2] > latest[:-1])[: len(ordered)]]


def bottleneck(ledger: Ledger) -> pd.DataFrame:
    """A row a machine, carriage and crew: owner, kind, group, sole_share, shifting_share of the line's planned time.

    While the bottleneck shifts both owners have the time, so that shares may add up to more than 1.
    """
    number, begin, end = bottleneck_spells(ledger.spells).T
    from_us, to_us = np.maximum(begin, ledger.warmup_us), np.minimum(end, ledger.horizon_us)
    alone_from, alone_to = np.append(0, end[:-1])[: len(end)], np.append(begin[1:], ledger.horizon_us)[: len(end)]
    alone_us = _planned_between_us(ledger, np.maximum(from_us, alone_from), np.minimum(to_us, alone_to))
    sole_us, shifting_us = np.zeros((2, len(ledger.owners)), dtype=np.int64)
    np.add.at(sole_us, number, alone_us)
    np.add.at(shifting_us, number, _planned_between_us(ledger, from_us, to_us) - alone_us)
    whole_us = planned_us(ledger)
    rows = [
        (owner.name, owner.kind, owner.group, ratio(sole_us[n], whole_us), ratio(shifting_us[n], whole_us))
        for n, owner in enumerate(ledger.owners)
        if owner.kind in ("machine", "carriage", "crew")
    ]
    return pd.DataFrame(rows, columns=["owner", "kind", "group", "sole_share", "shifting_share"])


def _planned_between_us(ledger: Ledger, from_us: np.ndarray, to_us: np.ndarray) -> np.ndarray:
    """Planned time between two instants [us], 0 where the second comes first."""
    return np.maximum(0, planned_before_us(ledger, to_us) - planned_before_us(ledger, from_us))
