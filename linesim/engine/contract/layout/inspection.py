"""Inspection and rework loops on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import CHANCE_SCALE, Layout
from linesim.engine.contract.layout.gauges import write_gauges
from linesim.line.model import Inspection
from linesim.line.ways import places_of_loop, way


def write_inspections(layout: Layout, steps: dict[int, int]) -> None:
    by_name = {layout.name_of(step): step for step in steps.values()}
    loops = []
    for name, step in layout.stations.items():
        inspection = layout.line.stations[name].inspection
        if inspection:
            _write_inspection(layout, step, inspection)
            if inspection.rework:
                back = by_name[inspection.rework.to]
                loader = way(layout.line, name, inspection.rework.to).loader
                layout.set(step, REWORK_TO=back, REWORKS_AT_MOST=inspection.rework.at_most)
                layout.set(step, REWORK_WAY=layout.callers[loader] if loader else r.NONE)
                if loader is None:
                    layout.set(step, MOVES_DIRECTLY=1)
                loops.append((back, step))
    layout.floor[r.N_LOOPS] = len(loops)
    layout.floor[r.LOOPS] = first = layout.room(r.LOOP_SIZE * len(loops))
    for n, (back, step) in enumerate(loops):
        names = places_of_loop(layout.line, layout.name_of(back), layout.name_of(step))
        inside = [s for s in steps.values() if back <= s <= step and layout.name_of(s) in names]
        count = sum(_free_places(layout, s) for s in inside)
        ends = {"LOOP_FROM": layout.floor[back + r.INDEX], "LOOP_TO": layout.floor[step + r.INDEX]}
        layout.set(first + n * r.LOOP_SIZE, LOOP_PLACES=count, **ends)


def _write_inspection(layout: Layout, step: int, inspection: Inspection) -> None:
    layout.set(step, INSPECTS=1, CATCHES=round(inspection.catches * CHANCE_SCALE))
    layout.set(step, FALSE_ALARMS=round(inspection.false_alarms * CHANCE_SCALE))
    if inspection.measures:
        write_gauges(layout, step, inspection)


def _free_places(layout: Layout, step: int) -> int:
    """Places of a step that a part can come to while others stand; a through-feed that stands may have its entry."""
    first = layout.floor[step + r.FIRST_PLACE]
    is_feed = layout.floor[step + r.KIND] == r.STATION and layout.floor[first + r.PITCH]
    return layout.floor[step + r.N_PLACES] if is_feed else layout.rests_at(step)
