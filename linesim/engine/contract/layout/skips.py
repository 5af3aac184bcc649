"""Part types that skip places, on the floor: where the parts of each type go to from each step, and who takes them."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.line.ways import apart, comes_to, way, ways


def write_skips(layout: Layout, steps: dict[int, int]) -> None:
    """Tables for the steps from which not all parts go to the next one. Ways must stand there already."""
    kinds = [part for part in apart(layout.line) if part is not None]
    layout.floor[r.SKIPS] = bool(kinds)
    by_name = {layout.name_of(step): step for step in steps.values()}
    onward = [{each.start: by_name[each.end] for each in ways(layout.line, part)} for part in kinds]
    for name, step in by_name.items():
        visits = [comes_to(layout.line, part, name) for part in kinds]
        goes_to = [ways_on.get(name, step + r.STEP_SIZE) for ways_on in onward]
        if any(comes and to != step + r.STEP_SIZE for comes, to in zip(visits, goes_to, strict=True)):
            table = [to if comes else r.NONE for comes, to in zip(visits, goes_to, strict=True)]
            _write_table(layout, steps, step, table)


def _write_table(layout: Layout, steps: dict[int, int], step: int, goes_to: list[int]) -> None:
    takes = {to: _loader(layout, step, to) for to in goes_to if to}
    layout.set(step, NEXT_BY_TYPE=layout.write(goes_to))
    layout.set(step, WAYS_PAST=layout.write(layout.callers.get(takes.get(to) or "", r.NONE) for to in steps.values()))
    layout.set(step, MOVES_DIRECTLY=None in takes.values())


def _loader(layout: Layout, step: int, to: int) -> str | None:
    return way(layout.line, layout.name_of(step), layout.name_of(to)).loader
