"""Part types: the mix in which they come, cycles that differ by type, and how often a machine changes over.

With a list of orders the types come in batches, the list repeated; else each blank is drawn by the shares. A station
sees only the types that do not skip it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from linesim.line import units
from linesim.line.called import response_s
from linesim.line.distributions import Distribution
from linesim.line.model import Line, Station


@dataclass(frozen=True)
class ByPart:
    """A duration of its own for each part type [s]; mean and sd are those over the mix. shares: by type, sum 1.

    Types that never come have no share, and perhaps no law.
    """

    laws: Mapping[str, Distribution]
    shares: Mapping[str, float]

    @property
    def mean(self) -> float:
        return sum(self.shares.get(part, 0.0) * law.mean for part, law in self.laws.items())

    @property
    def sd(self) -> float:
        square = sum(self.shares.get(part, 0.0) * (law.sd**2 + law.mean**2) for part, law in self.laws.items())
        return float(np.sqrt(max(0.0, square - self.mean**2)))

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        raise NotImplementedError("which law counts depends on the part: each has a random stream of its own")


def mix_of(content: Mapping[str, Any], place: str = "") -> dict[str, float]:
    """Share of each part type in what enters, sum 1, from the plain map of a line; equal where it can't be told.

    place: in what comes to this place; types that skip it are left out.
    """
    parts = content.get("parts")
    names = [str(name) for name in parts] if isinstance(parts, Mapping) else []
    amounts = dict.fromkeys(names, 0.0)
    try:
        if orders := content.get("orders"):
            for order in orders:
                amounts[order["part"]] += units.parse("parts", order["size"])
        else:
            amounts = {name: units.parse("share", parts[name]["share"]) for name in names} if parts else {}
    except (units.BadValue, KeyError, TypeError):
        amounts = dict.fromkeys(names, 1.0)
    amounts = {name: amount for name, amount in amounts.items() if parts and not _skips(parts[name], place)}
    total = sum(amounts.values())
    return {name: amount / total if total else 1 / len(amounts) for name, amount in amounts.items()}


def _skips(part: Any, place: str) -> bool:
    skips = part.get("skips") if isinstance(part, Mapping) else None
    return place in skips if isinstance(skips, list) else place == skips


def mix(line: Line, place: str = "") -> dict[str, float]:
    """Share of each part type in what enters, sum 1; empty for a line without part types.

    place: in what comes to this place; types that skip it are left out.
    """
    sizes = dict.fromkeys(line.parts, 0.0)
    for order in line.orders:
        sizes[order.part] += order.size
    amounts = sizes if line.orders else {name: part.share or 0.0 for name, part in line.parts.items()}
    amounts = {name: amount for name, amount in amounts.items() if place not in line.parts[name].skips}
    total = sum(amounts.values())
    return {name: amount / total if total else 0.0 for name, amount in amounts.items()}


def changeover_s(line: Line, station: str, machine: Station) -> float:
    """A part's share of the changeovers of a machine of a station [s], its crew always free.

    With orders every machine of a station changes over once a batch; with a mix whenever two parts in a row differ.
    """
    if machine.changeover is None:
        return 0.0
    comes_s = response_s(line, machine.changeover)
    takes_s = {
        (before, after): law.mean + comes_s
        for before, row in machine.changeover.takes.items()
        for after, law in row.items()
    }
    if not line.orders:
        shares = mix(line, station)
        chances = {pair: shares.get(pair[0], 0.0) * shares.get(pair[1], 0.0) for pair in takes_s}
        return sum(chances[pair] * lasts_s for pair, lasts_s in takes_s.items())
    orders = [order for order in line.orders if station not in line.parts[order.part].skips]
    parts = [order.part for order in orders]
    pairs = zip(parts, parts[1:] + parts[:1], strict=True)
    for_one_s = sum(takes_s.get(pair, 0.0) for pair in pairs) / max(1, sum(order.size for order in orders))
    return for_one_s * machine.machines
