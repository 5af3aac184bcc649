"""Hands of people on the floor: how long each takes at each machine, drawn anew each time."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.line.hands import Hands


def write_times_by_hand(layout: Layout, hands: int, each: Hands) -> None:
    """In place of times random streams, three a stop. They belong to the machines: whoever comes takes the next one."""
    floor = layout.floor
    floor[r.HANDS] = 1
    first = floor[hands + r.CALLS_OF]
    if hands != first:
        layout.set(hands, TIMES=floor[first + r.TIMES])
        return
    streams = []
    for at in range(floor[hands + r.N_LOADER_STOPS]):
        owner = layout.owners[floor[floor[floor[hands + r.PLACE_OF] + at] + r.NUMBER]]
        given = each.stations.get(owner.group)
        laws = [given.unloads, given.exchange, given.loads] if given else []
        for action, law in zip(("unload", "exchange", "load"), laws, strict=False):
            streams.append(layout.add_stream(owner.name, f"by_hand.{action}", law))
        streams += [-1] * (3 - len(laws))
    layout.set(hands, TIMES=layout.write(streams))
