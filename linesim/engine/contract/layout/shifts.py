"""The week on the floor: a row for each edge, with everybody's duty from then on."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.line.calendar import OFF_SHIFT, ON, PLANNED_STOP, duty, edges_us, has_calendar, people_on_duty
from linesim.line.model import Loader, Station
from linesim.line.ways import carriers_and_hands

DUTIES = {ON: r.ON_DUTY, PLANNED_STOP: r.IN_BREAK, OFF_SHIFT: r.OFF_SHIFT}


def write_calendar(layout: Layout) -> None:
    """Nothing for a line that runs through. The first edge is Monday 0:00, when the run starts, so all are told."""
    line = layout.line
    for machine, (_, name) in layout.machines.items():
        layout.set(machine, PAUSES=line.stations[name].at_shift_end == "pause")
    if not has_calendar(line):
        return
    owners: list[Station | Loader] = [line.stations[name] for _, name in layout.machines.values()]
    known = carriers_and_hands(line)
    owners += [known[name] for name in layout.carriages.values()]
    rows: list[int] = []
    times_us = edges_us(line)
    for time_us in times_us:
        rows.append(time_us)
        rows += [DUTIES[duty(line, owner, time_us)] for owner in owners]
        rows += [people_on_duty(line, crew, time_us) for crew in line.crews.values()]
    layout.floor[r.CALENDAR] = calendar = layout.room(r.CALENDAR_SIZE)
    layout.set(calendar, EDGES=layout.write(rows), N_EDGES=len(times_us))
