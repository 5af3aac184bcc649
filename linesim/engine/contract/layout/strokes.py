"""Strokes on the floor."""

from __future__ import annotations

from linesim.engine.contract.layout.form import CHANCE_SCALE, Layout
from linesim.line.model import Strokes


def write_strokes(layout: Layout, step: int, name: str, strokes: Strokes) -> None:
    """Cumulative chances of 0, 1, 2, ... strokes; the machines have streams for the time of each stroke."""
    numbers = range(max(strokes.number) + 1)
    chances = [round(sum(strokes.number.get(n, 0.0) for n in range(number + 1)) * CHANCE_SCALE) for number in numbers]
    at_most = numbers[-1] if strokes.at_most is None else strokes.at_most
    layout.set(step, MAY_SPOIL=1, N_STROKES=len(chances), STROKES=layout.write(chances), STROKES_AT_MOST=at_most)
    # As with defects: the n-th part of the station keeps its fate when a machine is added.
    layout.set(step, STROKES_STREAM=layout.add_stream(name, "strokes", None), STROKES_DEFECT=len(layout.defects))
    layout.defects.append((name, strokes.defect))
    layout.most_strokes = max(layout.most_strokes, at_most)
    for machine in layout.places_of(step):
        owner = layout.machines[machine][0]
        layout.set(machine, STROKE_STREAM=layout.add_stream(owner, "stroke", strokes.takes))
