"""The pilot run that found the warm-up: output and WIP from empty, and where each had settled."""

from __future__ import annotations

from matplotlib.figure import Figure

from linesim.results.colours import FAINT, GREY, INDIGO, INK, PURPLE
from linesim.results.plots.canvas import axes, heading, legend_below
from linesim.results.results import Results

UNITS = {"throughput_per_h": "good parts/h", "wip_parts": "parts on the line"}


def warm_up(results: Results) -> Figure | None:
    """Means over the pilot's replications, the cut of each series and the one that was taken; None without a pilot."""
    found, taken_h = results.about["warmup"], results.about["warmup_hours"]
    if not found:
        return None
    figure, both = axes(4.4, columns=2)
    for axis, (column, unit) in zip(both, UNITS.items(), strict=True):
        mean = results.warm_up.groupby("to_h")[column].mean()
        edges = [0.0, *mean.index]
        axis.stairs(mean, edges, baseline=None, color=INDIGO, linewidth=1.2, label="mean of the pilot's runs")
        own_h = found["cuts_h"][column]
        axis.axvspan(0, taken_h, facecolor=GREY, alpha=0.55, hatch="//", edgecolor=FAINT, linewidth=0, zorder=0.5)
        axis.axvline(own_h, color=PURPLE, linestyle=(0, (6, 3)), linewidth=1.6, label="settled by itself")
        axis.axvline(taken_h, color=INK, linewidth=1, label=f"warm-up taken, {taken_h:g} h")
        axis.annotate(f"{own_h:g} h", (own_h, 0.03), (5, 0), ("data", "axes fraction"), "offset points")
        axis.set_xlim(0, edges[-1])
        axis.set_ylim(bottom=0)
        axis.set_xlabel("time since the start, from empty [h]")
        axis.set_ylabel(unit)
        axis.grid(axis="y")
    runs = f"{found['pilot_replications']} runs of {found['pilot_hours']:g} h, cut by {found['rule']}"
    heading(both[0], "Warm-up", f"{results.about['name']}: {runs}")
    legend_below(figure, *both[0].get_legend_handles_labels())
    return figure
