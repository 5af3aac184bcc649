"""How likely a test gives so many good parts or more, for each line."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from matplotlib.figure import Figure

from linesim.results.acceptance import Acceptance
from linesim.results.colours import CYAN, INDIGO, INK, OLIVE, PURPLE, ROSE, TEAL
from linesim.results.labels import shortened
from linesim.results.plots.canvas import axes, heading, legend_below

COLOURS = (INDIGO, ROSE, TEAL, OLIVE, CYAN, PURPLE)
STROKES = ("-", "--", "-.", ":")


def passing(found: Acceptance) -> Figure:
    """Share of tests that pass, by mark; the given mark and the one for the risk stand out."""
    figure, (axis,) = axes(4.4)
    lines = found.about["lines"]
    most = max(found.of(line).max() for line in lines)
    least = min(found.of(line).min() for line in lines)
    beside = max(1, round((most - least) / 20))  # room to either side, where all or none pass
    for number, line in enumerate(lines):
        made = np.sort(found.of(line))
        share = 100 * np.append(1 - np.arange(len(made)) / len(made), [0, 0])
        made = np.append(made, [made[-1], most + beside])
        look: dict[str, Any] = {"color": COLOURS[number % len(COLOURS)], "linestyle": STROKES[number % len(STROKES)]}
        axis.step([least - beside, *made], [100, *share], where="pre", label=shortened(line), **look)
    risk = found.about["risk"]
    highest, sure = found.mark_for(risk)
    mark = found.about["mark"]
    if mark is not None:
        axis.axvline(mark, color=PURPLE, linestyle=(0, (6, 3)), label=f"mark of {mark:g}")
    words = f"highest mark for a risk of {100 * risk:g} %{', by these tests' if sure is None else ', to be sure'}"
    axis.axvline(highest if sure is None else sure, color=INK, label=words)
    axis.set_xlabel(f"pass mark, good parts in {found.about['hours']:g} h")
    axis.set_ylabel("tests that pass [%]")
    axis.grid(axis="both")
    tests = len(found.of(lines[0]))
    heading(axis, "Tests that pass, by mark", f"{tests} tests of {found.about['hours']:g} h of each line")
    legend_below(figure, *axis.get_legend_handles_labels())
    return figure


ACCEPTANCES: dict[str, Callable[[Acceptance], Figure | None]] = {"passing": passing}
