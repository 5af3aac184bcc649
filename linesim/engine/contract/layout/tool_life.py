"""Tools with a life and wheels that wear, on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.line.machines import each_machine
from linesim.line.model import Stop
from linesim.line.tool_life import worn_by


def write_breakage(layout: Layout, record: int, name: str, stop: Stop) -> int:
    """What makes a stop the breakage of a tool; returns the stream of its lives. A planned change follows behind it."""
    assert stop.life is not None
    machine = layout.floor[record + r.OWNER]
    layout.set(record, BREAKS=1, TRIGGER=r.BY_COUNT if stop.life.in_parts else r.BY_WORKING_CLOCK)
    if stop.life.in_parts:
        layout.set(layout.floor[machine + r.STEP], MAY_SPOIL=1)
    return layout.add_stream(layout.machines[machine][0], f"tool_change.{name}.life", stop.life.law)


def write_wear(layout: Layout) -> None:
    """Once all stops are written: a broken tool and its planned change know each other, a wheel its dressing."""
    by_name = {(stop.owner.name, stop.kind, stop.name): stop.record for stop in layout.stoppages}
    for (owner, kind, name), record in by_name.items():
        planned = by_name.get((owner, "tool_change", name))
        if kind == "breakage" and planned:
            layout.set(record, PARTNER=planned)
            layout.set(planned, PARTNER=record)
        if layout.floor[record + r.TRIGGER] == r.BY_DRESSINGS:
            station = layout.machines[layout.floor[record + r.OWNER]][1]
            machine = each_machine(station, layout.line.stations[station])[owner]
            dressing = by_name[owner, "dressing", worn_by(machine, machine.tool_change[name])]
            layout.set(record, WORN_BY=dressing)
            layout.set(dressing, WEARS=1)
