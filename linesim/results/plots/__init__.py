"""The plots of a run, each made from its tables alone. matplotlib is loaded when this room is entered, not before."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TypeVar

from matplotlib.figure import Figure

from linesim.results.files import write
from linesim.results.plots.bottlenecks import bottlenecks
from linesim.results.plots.by_window import throughput, wip_over_time
from linesim.results.plots.canvas import png, svg
from linesim.results.plots.costs import cost_rows
from linesim.results.plots.lead_time import lead_times
from linesim.results.plots.losses import loss_bridge, oee_parts
from linesim.results.plots.sizes import sizes_over_time
from linesim.results.plots.stock import buffer_levels, wip_distribution
from linesim.results.plots.time_shares import loader_use, machine_states
from linesim.results.plots.warm_up import warm_up
from linesim.results.results import Results

T = TypeVar("T")  # a run or a comparison

PLOTS: dict[str, Callable[[Results], Figure | None]] = {
    "throughput": throughput,
    "states": machine_states,
    "losses": loss_bridge,
    "oee": oee_parts,
    "wip": wip_over_time,
    "wip_distribution": wip_distribution,
    "buffers": buffer_levels,
    "lead_time": lead_times,
    "loaders": loader_use,
    "bottleneck": bottlenecks,
    "costs": cost_rows,
    "sizes": sizes_over_time,
    "warm_up": warm_up,
}

__all__ = ["PLOTS", "png", "save", "svg"]


def save(plots: Mapping[str, Callable[[T], Figure | None]], shown: T, folder: Path) -> None:
    """Draw the plots of a run or comparison into a folder; none of an earlier one stays beside them."""
    folder.mkdir(exist_ok=True)
    for name in plots:
        (folder / f"{name}.png").unlink(missing_ok=True)
    for name, plot in plots.items():
        figure = plot(shown)
        if figure is not None:
            write(folder / f"{name}.png", partial(png, figure))
