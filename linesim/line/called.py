"""All that people are called for on a line: breakdowns, stops, zones, refill and emptying."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.model import STOP_KINDS, Called, Line, Loader, Station
from linesim.line.problems import KeyPath
from linesim.line.tool_life import breakage_of


def each_called(line: Line) -> Iterator[tuple[KeyPath, Called]]:
    """The key of each and what it says. What a machine has from its station, or a carriage from its loader, is told
    once, with that."""
    for kind in ("stations", "loaders"):
        for name, owner in getattr(line, kind).items():
            told = dict(_of_owner(owner))
            yield from (((kind, name, *path), called) for path, called in told.items())
            for group, field in (("machines", "unequal"), ("carriages", "carriages")):
                for part, own in getattr(owner, field, {}).items():
                    differs = [(path, called) for path, called in _of_owner(own) if told.get(path) != called]
                    yield from (((kind, name, group, part, *path), called) for path, called in differs)
    for name, infeed in line.infeed.items():
        if infeed.refill:
            yield ("infeed", name, "refill"), infeed.refill
    for name, drawer in line.drawers.items():
        yield ("drawers", name, "emptied"), drawer.emptied
    for name, outfeed in line.outfeed.items():
        if outfeed.emptied:
            yield ("outfeed", name, "emptied"), outfeed.emptied


def _of_owner(owner: Station | Loader) -> Iterator[tuple[KeyPath, Called]]:
    for name, breakdown in owner.breakdowns.items():
        yield ("breakdowns", name), breakdown
    for kind in (*STOP_KINDS, "zone"):
        for name, stop in getattr(owner, kind, {}).items():
            yield (kind, name), stop
            if kind != "zone" and stop.breakage:
                yield (kind, name, "breakage"), breakage_of(stop)
    if isinstance(owner, Station) and owner.changeover:
        yield ("changeover",), owner.changeover
    if isinstance(owner, Station) and owner.cold_start:
        yield ("cold_start",), owner.cold_start
    if isinstance(owner, Station) and owner.by_hand:
        yield ("by_hand",), owner.by_hand


def response_s(line: Line, called: Called) -> float:
    """Mean time until the preferred crew is there, if it is free [s]."""
    return line.crews[called.crew[0]].response.mean if called.crew else 0.0
