"""Part types on the floor: the mix or the orders, cycles by type, and changeovers from type to type."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import CHANCE_SCALE, Layout
from linesim.line.distributions import Distribution
from linesim.line.model import Changeover
from linesim.line.part_types import ByPart, mix


def write_mix(layout: Layout, most_ahead: int) -> None:
    """What comes next, with room for so many types drawn ahead; nothing where all parts are alike."""
    line = layout.line
    names = list(line.parts)
    if not names:
        return
    layout.part_types = names
    layout.types_ahead = most_ahead
    layout.floor[r.MIX] = record = layout.room(r.MIX_SIZE)
    layout.set(record, N_PART_TYPES=len(names), AHEAD=layout.room(most_ahead), MOST_AHEAD=most_ahead, MIX_STREAM=-1)
    if line.orders:
        pairs = [number for order in line.orders for number in (names.index(order.part), order.size)]
        layout.set(record, ORDERS=layout.write(pairs), N_ORDERS=len(line.orders))
    else:
        shares = list(mix(line).values())
        chances = [round(sum(shares[: n + 1]) * CHANCE_SCALE) for n in range(len(shares))]
        layout.set(record, SHARES=layout.write(chances), MIX_STREAM=layout.add_stream("parts", "mix", None))


def write_cycle(layout: Layout, machine: int, owner: str, cycle: Distribution) -> None:
    """The stream of a machine's cycles, or one for each part type, so that a type's cycles do not depend on the mix."""
    if not isinstance(cycle, ByPart):
        layout.set(machine, CYCLE_STREAM=layout.add_stream(owner, "cycle", cycle))
        return
    laws = [(name, cycle.laws.get(name)) for name in layout.line.parts]  # none for a type that skips the station
    streams = [layout.add_stream(owner, f"cycle.{name}", law) if law else -1 for name, law in laws]
    layout.set(machine, CYCLES=layout.write(streams))


def write_takes(layout: Layout, owner: str, changeover: Changeover) -> int:
    """The address of a square table of streams from part type to part type."""
    streams = []
    for before in layout.line.parts:
        for after in layout.line.parts:
            law = changeover.takes.get(before, {}).get(after)
            streams.append(layout.add_stream(owner, f"changeover.{before}.{after}", law) if law else -1)
    return layout.write(streams)
