"""What improvements are worth, and what the assumptions can do to the output (a tornado)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from linesim.results.colours import CYAN, INDIGO, INK, PALE_INDIGO, SAND
from linesim.results.differences import NOT_SHOWN
from linesim.results.plots.canvas import axes, column_right, half_widths, heading, height_for, names_on_y
from linesim.results.sensitivity import Sensitivity


def worth(found: Sensitivity) -> Figure | None:
    """A bar a lever, those not shown to matter pale; None without levers."""
    table = found.worth()
    if table.empty:
        return None
    figure, (axis,) = axes(height_for(len(table)))
    colours = [PALE_INDIGO if shown == NOT_SHOWN else INDIGO for shown in table["shown"]]
    _bars(axis, range(len(table)), table, colours)
    names_on_y(axis, [found.about["words"][name] for name in table["lever"]])
    column_right(axis, "for", list(table["unit"]))
    axis.set_xlabel("good parts/h, each by itself (pale: no difference shown)")
    _title(axis, "Worth of each improvement by itself", found)
    return figure


def tornado(found: Sensitivity) -> Figure | None:
    """For each assumption a bar to either end of its range, the widest on top; None without ranges."""
    table = found.tornado()
    if table.empty:
        return None
    names = list(dict.fromkeys(table["assumption"]))
    figure, (axis,) = axes(height_for(len(names)))
    for end, colour in ((0, SAND), (1, CYAN)):
        rows = pd.DataFrame(table.groupby("assumption", sort=False).nth(end))
        _bars(axis, [names.index(name) for name in rows["assumption"]], rows, [colour] * len(rows))
    ranges = table.groupby("assumption", sort=False)["at"].agg(" to ".join)
    names_on_y(axis, names)
    column_right(axis, "range", [ranges[name] for name in names])
    axis.set_xlabel("good parts/h at the first (sand) and second (blue) end of the range, less the line as it is")
    _title(axis, "Output at the ends of the assumptions' ranges", found)
    return figure


def _bars(axis: Axes, rows: Sequence[int], table: pd.DataFrame, colours: list[str]) -> None:
    axis.barh(rows, table["mean"], height=0.66, color=colours, edgecolor=INK, linewidth=0.6)
    axis.errorbar(table["mean"], rows, xerr=half_widths(table), fmt="none", ecolor=INK, elinewidth=0.9)
    axis.axvline(0, color=INK, linewidth=1)


def _title(axis: Axes, what: str, found: Sensitivity) -> None:
    about = found.about
    runs = f"{len(about['replications'])} replications of {about['hours']:g} h"
    heading(axis, what, f"{about['name']}: {runs}, 95 % intervals that hold together")


SENSITIVITIES: dict[str, Callable[[Sensitivity], Figure | None]] = {"worth": worth, "tornado": tornado}
