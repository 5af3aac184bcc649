"""What the plots share: figures that grow with what they show, one look, and writing them as PNG or SVG."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import matplotlib as mpl
import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from linesim.results.colours import INK
from linesim.results.intervals import estimates, within
from linesim.results.results import Results

WIDTH_IN, ROW_IN = 9.0, 0.34
DPI, SMALL = 130, 8.5
STYLE: Any = {
    "font.size": 9.5,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "axes.axisbelow": True,
    "grid.color": "#E6E6E6",
    "hatch.linewidth": 0.6,
    "hatch.color": INK,
}
# In an SVG words stay words, which can be searched and read out; widths are reckoned for the first of these fonts.
AS_TEXT: Any = {"svg.fonttype": "none", "svg.hashsalt": "linesim", "font.sans-serif": ["DejaVu Sans", "Verdana"]}


def axes(height_in: float, columns: int = 1, **subplots: Any) -> tuple[Figure, list[Axes]]:
    """A new figure with axes side by side, all of one look. No state is kept outside of it."""
    with mpl.rc_context(STYLE):
        figure = Figure(figsize=(WIDTH_IN, height_in), layout="constrained")
        FigureCanvasAgg(figure)
        made = figure.subplots(1, columns, squeeze=False, **subplots)
    return figure, list(made[0])


def stacked(height_in: float, rows: int) -> tuple[Figure, list[Axes]]:
    """A new figure with axes one above the other that share their time."""
    with mpl.rc_context(STYLE):
        figure = Figure(figsize=(WIDTH_IN, height_in), layout="constrained")
        FigureCanvasAgg(figure)
        made = figure.subplots(rows, 1, squeeze=False, sharex=True)
    return figure, list(made[:, 0])


def height_for(rows: int, beside_in: float = 1.9) -> float:
    """Height [in] of a plot with so many rows, and room for title, axis and legend."""
    return beside_in + ROW_IN * max(rows, 2)


def title(axis: Axes, what: str, results: Results) -> None:
    """What is shown, and of which run, in a smaller second line."""
    about = results.about
    count = len(about["replications"])
    means = f"mean of {count} replications, 95 % intervals" if count > 1 else "one replication, no interval"
    heading(axis, what, f"{about['name']}: {about['hours']:g} h measured after {about['warmup_hours']:g} h, {means}")


def heading(axis: Axes, what: str, below: str) -> None:
    """A title, and a smaller second line."""
    axis.set_title(what, loc="left", pad=24, fontsize=12, fontweight="bold", color=INK)
    small: dict[str, Any] = {"textcoords": "offset points", "fontsize": SMALL}
    axis.annotate(below, (0, 1), (0, 8), xycoords="axes fraction", **small).set_in_layout(False)


def column_right(axis: Axes, heading: str, words: Sequence[str]) -> None:
    """A column of figures to the right of the plot, one for each of its rows."""
    small: dict[str, Any] = {"textcoords": "offset points", "fontsize": SMALL, "annotation_clip": False}
    axis.annotate(heading, (1, 1), (8, 8), xycoords="axes fraction", **small)
    for row, text in enumerate(words):
        axis.annotate(text, (1, row), (8, 0), xycoords=("axes fraction", "data"), va="center", **small)


def names_on_y(axis: Axes, names: Sequence[str]) -> None:
    """Rows from top to bottom, in the order given."""
    axis.set_yticks(range(len(names)), names)
    axis.set_ylim(len(names) - 0.4, -0.6)
    axis.tick_params(axis="y", length=0)
    axis.grid(axis="x")


def legend_below(figure: Figure, handles: Sequence[Any], labels: Sequence[str], columns: int = 4) -> None:
    """A legend under everything else."""
    columns = min(columns, max(1, len(labels)))
    figure.legend(handles, labels, loc="outside lower left", ncols=columns, fontsize=SMALL, frameon=False)


def half_widths(table: pd.DataFrame) -> Any:
    """Half widths of intervals for error bars; NaN, which draws no bar, where there is none."""
    return ((table["high"] - table["low"]) / 2).to_numpy()


def arms(table: pd.DataFrame, most: float = math.inf) -> Any:
    """Lengths of error bars to either side of the means, shape (2, rows), cut where the quantity ends: `within`."""
    found = [within(each, most) for each in estimates(table)]
    return np.array([[each.mean - each.low for each in found], [each.high - each.mean for each in found]])


def png(figure: Figure, file: Path) -> None:
    """Write a figure; nothing in the file depends on when it was made."""
    _take_words_as_they_are(figure)
    with mpl.rc_context(STYLE):
        figure.savefig(file, format="png", dpi=DPI, metadata={"Software": "linesim"})


def svg(figure: Figure) -> str:
    """A figure as SVG; nothing in it depends on when it was made."""
    _take_words_as_they_are(figure)
    drawn = io.StringIO()
    with mpl.rc_context({**STYLE, **AS_TEXT}):
        figure.savefig(drawn, format="svg", metadata={"Date": None, "Creator": "linesim"})
    return drawn.getvalue()


def _take_words_as_they_are(figure: Figure) -> None:
    """A name may hold two dollar signs; what stands between them is no formula."""
    for text in figure.findobj(Text):
        if isinstance(text, Text):
            text.set_parse_math(False)
