"""What improvements are worth, and what the assumptions can do to the output (a tornado)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch

from linesim.results.colours import CYAN, INK, SAND, WHITE
from linesim.results.differences import NOT_SHOWN
from linesim.results.plots.canvas import axes, column_right, half_widths, heading, height_for, legend_below, names_on_y
from linesim.results.sensitivity import Sensitivity

ENDS = ((SAND, "//"), (CYAN, ""))  # colour and hatching of the first and the second end of a range


def worth(found: Sensitivity) -> Figure | None:
    """A bar a lever, those not shown to matter hollow; None without levers."""
    table = found.worth()
    if table.empty:
        return None
    figure, (axis,) = axes(height_for(len(table)))
    colours = [WHITE if shown == NOT_SHOWN else CYAN for shown in table["shown"]]
    _bars(axis, range(len(table)), table, colours)
    names_on_y(axis, [found.about["words"][name] for name in table["lever"]])
    column_right(axis, "for", list(table["unit"]))
    axis.set_xlabel("change of output [good parts/h]")
    _title(axis, "Worth of each improvement by itself", found)
    legend_below(figure, [_patch(CYAN), _patch(WHITE)], ["shown to matter", NOT_SHOWN])
    return figure


def tornado(found: Sensitivity) -> Figure | None:
    """For each assumption a bar to either end of its range, the widest on top; None without ranges."""
    table = found.tornado()
    if table.empty:
        return None
    names = list(dict.fromkeys(table["assumption"]))
    figure, (axis,) = axes(height_for(len(names)))
    for end, (colour, hatch) in enumerate(ENDS):
        rows = pd.DataFrame(table.groupby("assumption", sort=False).nth(end))
        _bars(axis, [names.index(name) for name in rows["assumption"]], rows, [colour] * len(rows), hatch)
    ranges = table.groupby("assumption", sort=False)["at"].agg(" to ".join)
    names_on_y(axis, names)
    column_right(axis, "range", [ranges[name] for name in names])
    axis.set_xlabel("change of output [good parts/h]")
    _title(axis, "Output at the ends of the assumptions' ranges", found)
    legend_below(figure, [_patch(*look) for look in ENDS], ["at the first end of the range", "at the second end"])
    return figure


def _patch(colour: str, hatch: str = "") -> Patch:
    return Patch(facecolor=colour, hatch=hatch, edgecolor=INK, linewidth=0.6)


def _bars(axis: Axes, rows: Sequence[int], table: pd.DataFrame, colours: list[str], hatch: str = "") -> None:
    axis.barh(rows, table["mean"], height=0.66, color=colours, hatch=hatch, edgecolor=INK, linewidth=0.6)
    axis.errorbar(table["mean"], rows, xerr=half_widths(table), fmt="none", ecolor=INK, elinewidth=0.9)
    axis.axvline(0, color=INK, linewidth=1)


def _title(axis: Axes, what: str, found: Sensitivity) -> None:
    about = found.about
    runs = f"{len(about['replications'])} replications of {about['hours']:g} h"
    heading(axis, what, f"{about['name']}: {runs}, 95 % intervals that hold together")


SENSITIVITIES: dict[str, Callable[[Sensitivity], Figure | None]] = {"worth": worth, "tornado": tornado}
