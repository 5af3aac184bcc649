"""The shifting bottleneck: who holds the line up, from instant to instant.

Source: Roser, Nakano & Tanaka 2002. At any instant the owner whose running active period is the longest is the
bottleneck. Where the periods of two bottlenecks that follow each other overlap, it passes from one to the other.
"""

from __future__ import annotations

import heapq
from typing import NamedTuple

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import Ledger


class Spell(NamedTuple):
    """An unbroken active time [us] of an owner (its number)."""

    owner: int
    from_us: int
    to_us: int


def bottleneck_spells(spells: np.ndarray) -> list[Spell]:
    """Those active periods that are the longest running one at some instant, in order; both their ends grow.

    spells: int64, shape (n, 3): owner, from, to [us]. Of equally long ones that began first wins, then the first owner.
    """
    reigns: list[tuple[int, Spell]] = []  # from when, and who
    others: list[tuple[int, int, int, Spell]] = []  # heap: the longest first
    now: Spell | None = None
    for spell in (Spell(*row) for row in spells[np.lexsort((spells[:, 0], spells[:, 1]))].tolist()):
        while now is not None and now.to_us <= spell.from_us:
            now = _follow(reigns, others, now.to_us)
        if now is None or spell.to_us - spell.from_us > now.to_us - now.from_us:
            now = spell
            _crown(reigns, spell.from_us, spell)
        else:
            heapq.heappush(others, (spell.from_us - spell.to_us, spell.from_us, spell.owner, spell))
    while now is not None:
        now = _follow(reigns, others, now.to_us)
    return [spell for _, spell in reigns]


def _crown(reigns: list[tuple[int, Spell]], at_us: int, spell: Spell) -> None:
    """Let a spell reign from now on; one that would have begun to reign just now never did."""
    if reigns and reigns[-1][0] == at_us:
        reigns.pop()
    reigns.append((at_us, spell))


def _follow(reigns: list[tuple[int, Spell]], others: list[tuple[int, int, int, Spell]], at_us: int) -> Spell | None:
    """The bottleneck ends: the longest of the others that still run follows, if any."""
    while others:
        spell = heapq.heappop(others)[-1]
        if spell.to_us > at_us:
            _crown(reigns, at_us, spell)
            return spell
    return None


def bottleneck(ledger: Ledger) -> pd.DataFrame:
    """A row a machine, carriage and crew: owner, kind, group, sole_share, shifting_share of the measured time.

    While the bottleneck shifts both owners have the time, so that shares may add up to more than 1.
    """
    sole_us, shifting_us = np.zeros((2, len(ledger.owners)), dtype=np.int64)
    chosen = bottleneck_spells(ledger.spells)
    for n, spell in enumerate(chosen):
        from_us, to_us = max(spell.from_us, ledger.warmup_us), min(spell.to_us, ledger.horizon_us)
        alone_from = chosen[n - 1].to_us if n else 0
        alone_to = chosen[n + 1].from_us if n + 1 < len(chosen) else ledger.horizon_us
        alone_us = max(0, min(to_us, alone_to) - max(from_us, alone_from))
        sole_us[spell.owner] += alone_us
        shifting_us[spell.owner] += max(0, to_us - from_us) - alone_us
    rows = [
        (owner.name, owner.kind, owner.group, sole_us[n] / ledger.measured_us, shifting_us[n] / ledger.measured_us)
        for n, owner in enumerate(ledger.owners)
        if owner.kind in ("machine", "carriage", "crew")
    ]
    return pd.DataFrame(rows, columns=["owner", "kind", "group", "sole_share", "shifting_share"])
