"""What happened over time: output and WIP by window, the warm-up marked and cut off from what was measured."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from linesim.results.colours import CYAN, FAINT, GREY, INDIGO, INK, PURPLE
from linesim.results.intervals import averaged
from linesim.results.labels import figure as number
from linesim.results.plots.canvas import axes, legend_below, title
from linesim.results.results import Results

MOST_WINDOWS = 150


def throughput(results: Results) -> Figure:
    """Good parts an hour by window, with demand and the mean of the measured time."""
    figure, (axis,) = axes(4.4)
    width_h = _line(results, axis, "throughput_per_h")
    made = results.estimate("throughput_per_h")
    about = results.about
    ends = (about["warmup_hours"], about["warmup_hours"] + about["hours"])
    axis.hlines(
        made.mean, *ends, colors=INK, linewidth=1.4, label=f"mean of the measured time, {number(made.mean)} parts/h"
    )
    if about["demand_per_h"] is not None:
        words = f"demand, {number(about['demand_per_h'])} parts/h: {results.demand_verdict()}"
        axis.axhline(about["demand_per_h"], color=PURPLE, linestyle=(0, (6, 3)), linewidth=1.6, label=words)
    axis.set_ylabel(f"good parts/h, in windows of {width_h:g} h")
    title(axis, "Output over time", results)
    legend_below(figure, *axis.get_legend_handles_labels(), columns=2)
    return figure


def wip_over_time(results: Results) -> Figure:
    """Mean WIP by window."""
    figure, (axis,) = axes(4.0)
    width_h = _line(results, axis, "wip_parts")
    axis.set_ylabel(f"parts on the line, mean of {width_h:g} h")
    title(axis, "WIP over time", results)
    legend_below(figure, *axis.get_legend_handles_labels(), columns=2)
    return figure


def _line(results: Results, axis: Axes, value: str) -> float:
    """The mean over replications as steps, its interval as a band, the warm-up shaded; returns the steps' width [h]."""
    windows, width_h = _wide_enough(results.windows[["replication", "from_h", "to_h", "measured", value]], value)
    table = averaged(windows, ["from_h", "to_h"], value)
    edges = [*table["from_h"], table["to_h"].iloc[-1]]
    words = "the only replication"
    if len(results.about["replications"]) > 1:
        words = "mean over the replications"
        band: dict[str, Any] = {"color": CYAN, "alpha": 0.6, "linewidth": 0}
        low = table["low"].clip(lower=0)
        axis.stairs(table["high"], edges, baseline=low, fill=True, label="95 % interval of each step", **band)
    axis.stairs(table["mean"], edges, baseline=None, color=INDIGO, linewidth=1.2, label=words)
    warmup_h = results.about["warmup_hours"]
    if warmup_h > 0:
        axis.axvspan(0, warmup_h, facecolor=GREY, alpha=0.55, hatch="//", edgecolor=FAINT, linewidth=0, zorder=0.5)
        axis.axvline(warmup_h, color=INK, linewidth=1, label=f"warm-up cut at {warmup_h:g} h")
    axis.set_xlim(0, edges[-1])
    axis.set_ylim(bottom=0)
    axis.set_xlabel("time since the start, from empty [h]")
    axis.grid(axis="y")
    return width_h * results.about["window_h"]


def _wide_enough(windows: pd.DataFrame, value: str) -> tuple[pd.DataFrame, int]:
    """Neighbouring windows put together until there are few enough to see; how many went into one."""
    ends = windows["to_h"].nunique()
    many = math.ceil(ends / MOST_WINDOWS)
    if many == 1:
        return windows, 1
    number = windows.groupby(["replication", "measured"]).cumcount() // many
    weighed = windows.assign(number=number, length=windows["to_h"] - windows["from_h"])
    weighed[value] *= weighed["length"]
    groups = weighed.groupby(["replication", "measured", "number"])
    wide = groups.agg({"from_h": "min", "to_h": "max", value: "sum", "length": "sum"}).reset_index()
    wide[value] /= wide["length"]
    return wide, many
