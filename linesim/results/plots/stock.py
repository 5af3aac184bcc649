"""Parts on the line and in its buffers, as distributions."""

from __future__ import annotations

from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch
from matplotlib.ticker import MaxNLocator

from linesim.results.colours import CYAN, GREY, INDIGO, INK, PURPLE, SAND
from linesim.results.intervals import averaged
from linesim.results.labels import figure as number
from linesim.results.plots.canvas import arms, axes, column_right, height_for, legend_below, names_on_y, title
from linesim.results.results import Results

MOST_BARS = 50
CLASS_SIZES = [digit * 10**power for power in range(10) for digit in (1, 2, 5)]  # [parts]


def wip_distribution(results: Results) -> Figure:
    """Share of time with so many parts inside."""
    levels = int(results.wip["parts"].max()) + 1
    width = next(size for size in CLASS_SIZES if size * MOST_BARS >= levels)
    classes = results.wip.assign(parts=results.wip["parts"] // width * width)
    shares = classes.groupby(["replication", "parts"], sort=True)["share"].sum().reset_index()
    table = averaged(shares, ["parts"], "share")
    figure, (axis,) = axes(4.0)
    error = {"ecolor": INK, "elinewidth": 0.8, "capsize": 1.5}
    bars: dict[str, Any] = {"width": 0.8 * width, "color": CYAN, "error_kw": error}
    axis.bar(table["parts"] + (width - 1) / 2, 100 * table["mean"], yerr=100 * arms(table, most=1.0), **bars)
    wip = results.estimate("wip_parts")
    axis.axvline(wip.mean, color=INDIGO, linewidth=1.6, label=f"mean {number(wip.mean)} parts")
    little = results.estimate("wip_by_little_parts")
    words = f"rate of leaving x mean time inside: {number(little.mean)} parts"
    axis.axvline(little.mean, color=PURPLE, linestyle=(0, (4, 3)), linewidth=1.4, label=words)
    axis.set_ylim(bottom=0)
    axis.xaxis.set_major_locator(MaxNLocator(integer=True))
    axis.set_xlabel("parts on the line" + (f", in classes of {width}" if width > 1 else ""))
    axis.set_ylabel("share of time [%]")
    axis.grid(axis="y")
    title(axis, "WIP as a distribution", results)
    legend_below(figure, *axis.get_legend_handles_labels(), columns=2)
    return figure


def buffer_levels(results: Results) -> Figure | None:
    """For each buffer the share of time empty, between and full, and its mean level; None without buffers."""
    if results.buffers.empty:
        return None
    buffers = results.buffers.drop_duplicates("buffer").set_index("buffer")["capacity_parts"]
    empty, full = (_means(results, column) for column in ("share_empty", "share_full"))
    level = results.averages("buffers", "buffer", "mean_level").set_index("buffer")
    figure, (shares, means) = axes(height_for(len(buffers), 2.2), 2, sharey=True, width_ratios=[3, 2])
    rows = range(len(buffers))
    parts = [(empty, GREY, "..", "empty"), (1 - empty - full, CYAN, "", "in between"), (full, SAND, "\\\\", "full")]
    left = 0 * empty
    for share, colour, hatch, _ in parts:
        shares.barh(
            rows, 100 * share, left=100 * left, height=0.7, color=colour, hatch=hatch, edgecolor=INK, linewidth=0
        )
        left = left + share
    names_on_y(shares, list(buffers.index))
    shares.set_xlim(0, 100)
    shares.set_xlabel("share of time [%]")
    _mean_levels(means, level, buffers)
    title(shares, "Buffer levels", results)
    patches = [Patch(facecolor=c, hatch=h, edgecolor=INK, linewidth=0) for _, c, h, _ in parts]
    legend_below(figure, patches, [words for *_, words in parts])
    return figure


def _mean_levels(axis: Axes, level: pd.DataFrame, capacity: pd.Series[int]) -> None:
    shares = level[["mean", "low", "high"]].mul(100 / capacity, axis=0).assign(replications=level["replications"])
    bars: dict[str, Any] = {"fmt": "D", "color": INDIGO, "markersize": 5, "ecolor": INK, "elinewidth": 1}
    axis.errorbar(shares["mean"], range(len(level)), xerr=arms(shares, most=100.0), **bars)
    column_right(
        axis, "mean", [f"{number(mean)} of {places}" for mean, places in zip(level["mean"], capacity, strict=True)]
    )
    axis.set_xlim(-2, 102)
    axis.tick_params(axis="y", length=0)
    axis.grid(axis="x")
    axis.set_xlabel("mean level [% of capacity]")


def _means(results: Results, column: str) -> pd.Series[float]:
    return results.averages("buffers", "buffer", column).set_index("buffer")["mean"]
