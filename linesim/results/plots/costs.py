"""What a good part costs at the simulated output, row by row."""

from __future__ import annotations

import pandas as pd
from matplotlib.figure import Figure

from linesim.results.colours import INDIGO, INK, PALE_INDIGO
from linesim.results.plots.canvas import SMALL, arms, axes, half_widths, height_for, names_on_y, title
from linesim.results.results import Results


def cost_rows(results: Results) -> Figure | None:
    """A bar a row of the conversion cost, then their sum; None for a line without money or demand."""
    table = results.averages("costs", "item", "per_good_part")
    if table.empty:
        return None
    whole = pd.DataFrame([("together", *results.estimate("cost_per_good_part"))], columns=table.columns)
    table = pd.concat([table, whole], ignore_index=True)
    figure, (axis,) = axes(height_for(len(table)))
    colours = [PALE_INDIGO] * (len(table) - 1) + [INDIGO]
    axis.barh(range(len(table)), table["mean"], height=0.68, color=colours, edgecolor=INK, linewidth=0.6)
    halves = half_widths(table)
    axis.errorbar(table["mean"], range(len(table)), xerr=arms(table), fmt="none", ecolor=INK, elinewidth=0.9)
    for row, (mean, half) in enumerate(zip(table["mean"], halves, strict=True)):
        words = f"{mean:.2f}" + (f" ± {half:.2f}" if half >= 0.005 else "")
        axis.annotate(words, (mean, row), (16, 0), textcoords="offset points", va="center", fontsize=SMALL)
    names_on_y(axis, list(table["item"]))
    axis.set_xlim(0, 1.18 * float(table["mean"].max()))
    axis.set_xlabel(f"{results.about['currency']} a good part")
    title(axis, "Cost of a good part, without its blank, at the simulated output", results)
    return figure
