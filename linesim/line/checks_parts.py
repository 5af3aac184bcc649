"""What must hold for part types: their mix or orders, and what stations say about them."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import Finding
from linesim.line.model import Line, Station
from linesim.line.part_types import ByPart
from linesim.line.problems import KeyPath
from linesim.line.units import with_unit
from linesim.line.ways import comes_to

NEAR = 1e-9


def check_parts(line: Line) -> Iterator[Finding]:
    yield from _come_by_mix_or_orders(line)
    for name, station in line.stations.items():
        yield from _of_machine(line, ("stations", name), station)
        for own_name, machine in station.unequal.items():
            if (machine.cycle, machine.changeover) != (station.cycle, station.changeover):
                yield from _of_machine(line, ("stations", name, "machines", own_name), machine)


def _come_by_mix_or_orders(line: Line) -> Iterator[Finding]:
    shares = {name: part.share for name, part in line.parts.items() if part.share is not None}
    if line.orders and not line.parts:
        yield Finding(("orders",), None, "need part types", "name them under parts")
    elif line.orders:
        for name in shares:
            yield Finding(("parts", name, "share"), None, "has no meaning beside orders", "remove it, or the orders")
        for name in line.parts:
            if name not in {order.part for order in line.orders}:
                yield Finding(("parts", name), None, "is in no order", "order it, or remove it", None, (("orders",),))
    elif line.parts:
        missing = [name for name in line.parts if name not in shares]
        for name in missing:
            yield Finding(("parts", name), None, "has no share of the mix", "give it a share, or the line orders")
        if not missing and abs(sum(shares.values()) - 1) > NEAR:
            total = with_unit("share", sum(shares.values()))
            yield Finding(("parts",), total, "shares must add up to 100 %", "change them")


def _of_machine(line: Line, path: KeyPath, machine: Station) -> Iterator[Finding]:
    if isinstance(machine.cycle, ByPart):
        missing = [name for name in line.parts if name not in machine.cycle.laws and comes_to(line, name, str(path[1]))]
        for name in missing:
            yield Finding((*path, "cycle"), None, f"has no time for the part {name}", f"add {name}: and its time")
        if machine.call_ahead:
            rule = "needs a cycle that is the same for all parts"
            yield Finding((*path, "call_ahead"), with_unit("duration", machine.call_ahead), rule, "remove it")
    for part, row in machine.changeover.takes.items() if machine.changeover else ():
        if part in row:
            here = (*path, "changeover", "takes", part, part)
            yield Finding(here, None, "a part needs no changeover to itself", "remove it")
    if machine.changeover and not line.parts:
        yield Finding((*path, "changeover"), None, "needs part types", "name them under parts")
