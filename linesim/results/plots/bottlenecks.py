"""Who holds the line up: shares of the shifting bottleneck."""

from __future__ import annotations

from typing import Any

from matplotlib.figure import Figure
from matplotlib.patches import Patch

from linesim.results.colours import CYAN, INDIGO, INK
from linesim.results.intervals import averaged
from linesim.results.plots.canvas import arms, axes, height_for, legend_below, names_on_y, title
from linesim.results.results import Results


def bottlenecks(results: Results) -> Figure:
    """A row a machine, carriage and crew: share of time as the bottleneck, alone and while it shifts."""
    sole = results.averages("bottleneck", "owner", "sole_share")
    both = results.bottleneck.assign(share=results.bottleneck["sole_share"] + results.bottleneck["shifting_share"])
    total = averaged(both, ["owner"], "share")
    rows = range(len(sole))
    figure, (axis,) = axes(height_for(len(sole), 2.1))
    error: dict[str, Any] = {"ecolor": INK, "elinewidth": 0.9, "capsize": 1.5}
    bars: dict[str, Any] = {"height": 0.68, "edgecolor": INK, "linewidth": 0}
    axis.barh(rows, 100 * sole["mean"], color=INDIGO, **bars)
    shifting = 100 * (total["mean"] - sole["mean"])
    axis.barh(rows, shifting, left=100 * sole["mean"], color=CYAN, hatch="//", **bars)
    axis.errorbar(100 * total["mean"], rows, xerr=100 * arms(total, most=1.0), fmt="none", **error)
    names_on_y(axis, list(sole["owner"]))
    axis.set_xlim(left=0)
    axis.set_xlabel("share of time as the longest active [%]")
    title(axis, "Bottleneck, by the longest active period", results)
    patches = [Patch(facecolor=INDIGO), Patch(facecolor=CYAN, hatch="//", edgecolor=INK, linewidth=0)]
    legend_below(figure, patches, ["alone", "while it shifts from or to another one (interval: of both together)"])
    return figure
