"""Lead time as a distribution, with its quantiles."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from linesim.results.colours import CYAN, INDIGO, INK, PURPLE, TEAL
from linesim.results.labels import decimals, in_unit, time_unit
from linesim.results.labels import figure as number
from linesim.results.plots.canvas import SMALL, axes, legend_below, title
from linesim.results.results import Results

SHOWN_PERCENT = 99.0
MARKS = {  # measure -> words, line style, colour
    "lead_time_p05_s": ("5 % below", (0, (1, 1.5)), TEAL),
    "lead_time_p50_s": ("50 % below", (0, (5, 2)), INDIGO),
    "lead_time_mean_s": ("mean", "-", INK),
    "lead_time_p95_s": ("95 % below", (0, (6, 2, 1, 2)), PURPLE),
}


def lead_times(results: Results) -> Figure | None:
    """Share of good parts by lead time; None if none left."""
    if results.lead_times.empty:
        return None
    length, unit = time_unit(results.estimate("lead_time_mean_s").mean)
    table = results.lead_times.copy()
    table["share"] = (
        100 * table["good_parts"] / table.groupby("replication")["good_parts"].transform("sum").clip(lower=1)
    )
    means = table.groupby(["from_s", "to_s"], sort=True)["share"].mean().reset_index()
    edges = [*(means["from_s"] / length), means["to_s"].iloc[-1] / length]
    figure, (axis,) = axes(4.4)
    axis.stairs(means["share"], edges, fill=True, color=CYAN)
    axis.stairs(means["share"], edges, color=INDIGO, linewidth=0.8)
    for measure, (words, style, colour) in MARKS.items():
        found = in_unit(results.estimate(measure), length)
        half = "" if math.isnan(found.half_width) else f" ± {found.half_width:.{decimals([found.mean])}f}"
        axis.axvline(
            found.mean,
            color=colour,
            linestyle=style,
            linewidth=1.5,
            label=f"{words}: {number(found.mean)}{half} {unit}",
        )
    least = results.about["least_lead_time_s"] / length
    axis.axvline(
        least, color=INK, linewidth=0.8, linestyle=(0, (1, 3)), label=f"least possible: {number(least)} {unit}"
    )
    _cut_tail(axis, means, length, unit)
    axis.set_ylim(bottom=0)
    axis.set_xlabel(f"lead time from infeed to outfeed [{unit}]")
    axis.set_ylabel(f"good parts [% in each {edges[1] - edges[0]:.3g} {unit}]")
    axis.grid(axis="y")
    title(axis, "Lead time of good parts", results)
    legend_below(figure, *axis.get_legend_handles_labels(), columns=3)
    return figure


def _cut_tail(axis: Axes, means: pd.DataFrame, length: float, unit: str) -> None:
    """A few parts that waited for a long repair would press the others into a corner: end before and say so."""
    inside = means["share"].cumsum() < SHOWN_PERCENT
    end_s = means["to_s"][inside.sum()] if inside.sum() < len(means) else means["to_s"].iloc[-1]
    axis.set_xlim(0, 1.02 * end_s / length)
    beyond = means["share"][means["from_s"] >= end_s].sum()
    if beyond > 0:
        words = f"{beyond:.1f} % took longer,\nup to {number(means['to_s'].iloc[-1] / length)} {unit}"
        corner: dict[str, Any] = {"xycoords": "axes fraction", "textcoords": "offset points", "fontsize": SMALL}
        axis.annotate(words, (1, 1), (-4, -4), ha="right", va="top", **corner)
