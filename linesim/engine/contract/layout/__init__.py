"""From a line to its shop floor: every record written into the row of numbers that the rules work on.

The only room that knows both forms. Lengths and names are settled here, once; a replication starts from a copy.
"""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.crews import write_crews, write_stoppages
from linesim.engine.contract.layout.ends import write_ends
from linesim.engine.contract.layout.form import ROWS_KEPT, Layout, Stoppage, Stream
from linesim.engine.contract.layout.inspection import write_inspections
from linesim.engine.contract.layout.loaders import write_carriages, write_ways
from linesim.engine.contract.layout.neighbours import write_neighbours
from linesim.engine.contract.layout.part_types import write_mix
from linesim.engine.contract.layout.places import names_of_steps, write_places
from linesim.engine.contract.layout.shifts import write_calendar
from linesim.engine.contract.layout.sizes import write_sizes
from linesim.engine.contract.layout.skips import write_skips
from linesim.engine.contract.layout.timers import write_timers
from linesim.engine.contract.log import DEPARTURE_WIDTH, READING_WIDTH, SIZE_WIDTH, TRACE_WIDTH
from linesim.engine.contract.spells import SPELL_WIDTH
from linesim.engine.contract.windows import WINDOW_WIDTH
from linesim.line.model import Line

MOST_MOVES = 300_000  # at one instant that a trace can hold; only filling huge buffers takes more

__all__ = ["ROWS_KEPT", "Layout", "Stoppage", "Stream", "laid_out", "lay_out"]


_latest: list[Layout] = []


def laid_out(line: Line) -> Layout:
    """The shop floor of a sound line. That of the last line is kept, since its next replication mostly follows."""
    layout = next((kept for kept in _latest if kept.line is line), None)
    if layout is None:
        layout = lay_out(line)
        _latest[:] = [layout]
    return layout


def lay_out(line: Line) -> Layout:
    """Write the shop floor of a sound line."""
    layout = Layout(line)
    names = names_of_steps(line)
    steps = write_places(layout, names)
    write_ways(layout, steps)
    write_skips(layout, steps)
    write_crews(layout)
    write_carriages(layout, steps)
    write_ends(layout)
    write_stoppages(layout)
    write_sizes(layout)
    write_calendar(layout)
    write_inspections(layout, steps)
    write_neighbours(layout.floor, list(steps.values()))
    for machine, pairs in layout.drawn.items():
        layout.set(machine, DRAWN=layout.write(pairs), N_DRAWN=len(pairs) // 2)
    _write_lists(layout)
    write_timers(layout)
    _leave_room_for_rows(layout)
    return layout


def _write_lists(layout: Layout) -> None:
    """Room for the lists of the header and for the parts."""
    floor = layout.floor
    steps, stoppages = floor[r.N_STEPS], floor[r.N_STOPPAGES]
    for name in ("MOVES", "STALE", "CHANGED", "IN_VIEW"):
        floor[getattr(r, name)] = layout.room(steps + len(layout.aside))
    floor[r.READY] = layout.room(2 * stoppages)
    owners = len(layout.owners) + stoppages
    floor[r.SETTLES] = layout.room(2 * owners)
    floor[r.WAKES] = layout.room(2 * 4 * owners)
    parts = sum(layout.rests_at(floor[r.STEPS] + n * r.STEP_SIZE) for n in range(steps)) + 2 * len(layout.carriages) + 2
    part_size = r.PART_SIZE + floor[r.N_CHARACTERISTICS] * r.SIZE_SIZE
    slots = layout.room(parts * part_size)
    floor[r.SLOTS], floor[r.N_SLOTS] = layout.write(slots + n * part_size for n in reversed(range(parts))), parts
    floor[r.NEXT_PART] = 1
    write_mix(layout, parts + 2)


def _leave_room_for_rows(layout: Layout) -> None:
    """Room behind all else, with the tally of WIP right before it."""
    floor, steps, parts = layout.floor, layout.floor[r.N_STEPS], layout.floor[r.N_SLOTS]
    floor[r.WIP_TIME] = layout.room(parts + 1)
    owners = len(layout.owners) + floor[r.N_STOPPAGES]
    # Rows are taken away after each decision. In one, a part moves through every step at the most, and leaves once.
    floor[r.TRACE_ROOM] = ROWS_KEPT + 64 * owners + 4 * layout.most_together + min(2 * steps * parts, MOST_MOVES)
    floor[r.TRACE_AT] = layout.room_behind(TRACE_WIDTH * floor[r.TRACE_ROOM])
    floor[r.DEPARTURES_AT] = layout.room_behind(DEPARTURE_WIDTH * (ROWS_KEPT + parts))
    sizes_at_once = sum(floor[machine + r.N_MAKINGS] for machine in layout.machines)
    floor[r.SIZES_AT] = layout.room_behind(SIZE_WIDTH * (ROWS_KEPT + sizes_at_once) if sizes_at_once else 0)
    readings_at_once = sum(floor[floor[machine + r.STEP] + r.N_GAUGES] for machine in layout.machines)
    floor[r.READINGS_AT] = layout.room_behind(READING_WIDTH * (ROWS_KEPT + readings_at_once) if readings_at_once else 0)
    floor[r.WINDOWS_AT] = layout.room_behind(WINDOW_WIDTH * (ROWS_KEPT + 2))
    floor[r.SPELLS_AT] = layout.room_behind(SPELL_WIDTH * (ROWS_KEPT + 4 * owners))
