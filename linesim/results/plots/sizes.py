"""Sizes over time: how the setting of a machine wanders, is renewed and corrected, and what it makes of it."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from linesim.results.colours import CYAN, FAINT, GREY, INDIGO, INK, PURPLE
from linesim.results.plots.canvas import heading, legend_below, stacked
from linesim.results.results import Results

MOST_SHOWN = 6
PANEL_IN = 2.2


def sizes_over_time(results: Results) -> Figure | None:
    """Of the first replication, the first machine of each characteristic; None without any size."""
    sizes = results.sizes
    if sizes.empty:
        return None
    first = sizes["replication"].iloc[0]
    sizes = sizes[sizes["replication"] == first]
    kinds = list(sizes[["station", "characteristic"]].drop_duplicates().itertuples(index=False, name=None))
    shown = kinds[:MOST_SHOWN]
    figure, panels = stacked(1.4 + PANEL_IN * len(shown), len(shown))
    for axis, (station, name) in zip(panels, shown, strict=True):
        rows = sizes[(sizes["station"] == station) & (sizes["characteristic"] == name)]
        machine = rows["machine"].iloc[0]
        axis.fill_between(rows["to_h"], rows["lowest_um"], rows["highest_um"], color=CYAN, linewidth=0,
                          step="pre", label="least to largest size")  # fmt: skip
        axis.plot(rows["to_h"], rows["set_to_um"], color=INDIGO, linewidth=1.1, drawstyle="steps-pre",
                  label="setting: offset, wear and corrections")  # fmt: skip
        _limits(results, axis, station, name)
        axis.set_ylabel(f"{name} of {machine} [um]")
        axis.grid(axis="y")
    panels[-1].set_xlabel("time since the start, from empty [h]")
    left_out = len(kinds) - len(shown)
    beside = f"; {left_out} more in the table" if left_out else ""
    heading(panels[0], "Sizes over time", f"{results.about['name']}: replication {first}, one machine each{beside}")
    legend_below(figure, *panels[0].get_legend_handles_labels(), columns=2)
    return figure


def _limits(results: Results, axis: Axes, station: str, name: str) -> None:
    of = results.characteristics
    limits = of[(of["station"] == station) & (of["characteristic"] == name)].iloc[0]
    for limit, words in ((limits["low_um"], "limits of the tolerance"), (limits["high_um"], None)):
        axis.axhline(limit, color=PURPLE, linestyle=(0, (6, 3)), linewidth=1.3, label=words)
    warmup_h = results.about["warmup_hours"]
    if warmup_h > 0:
        axis.axvspan(0, warmup_h, facecolor=GREY, alpha=0.55, hatch="//", edgecolor=FAINT, linewidth=0, zorder=0.5)
        axis.axvline(warmup_h, color=INK, linewidth=1, label=f"warm-up cut at {warmup_h:g} h")
