"""Plots of a sweep: output by factor, a map of two factors, output against investment, the best points."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import matplotlib as mpl
import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from linesim.results.colours import CYAN, FAINT, INDIGO, INK, PURPLE
from linesim.results.effects import numbers
from linesim.results.labels import figure as number
from linesim.results.labels import shortened, thousands
from linesim.results.plots.canvas import STYLE, axes, heading, legend_below
from linesim.results.sweep import OUTPUT, Sweep

MOST_FACTORS, MOST_LEVELS, BEST = 5, 14, 8
AS_TEXT: Any = {"fontsize": 8.5}
OVER_LINES: Any = AS_TEXT | {"zorder": 5, "va": "center", "bbox": {"facecolor": "white", "edgecolor": "none", "pad": 1}}


def effects(sweep: Sweep) -> Figure | None:
    """Output at each level of each factor, the others alike; a point cloud for ranges and what can't be told apart."""
    factors = _varied(sweep)[:MOST_FACTORS]
    points = sweep.by_point(OUTPUT).dropna(subset=[OUTPUT])
    if not factors or points.empty:
        return None
    figure, made = axes(4.2, columns=len(factors), sharey=True)
    table = sweep.main_effects()
    for axis, factor in zip(made, factors, strict=True):
        part = table.loc[table["factor"] == factor]
        if factor in sweep.ranges:
            axis.plot(numbers(points[factor]), points[OUTPUT], "o", color=INDIGO, markersize=4, alpha=0.7)
        elif part["mean"].isna().all():  # not told apart from others
            axis.plot(points[factor].astype(str), points[OUTPUT], "o", color=INDIGO, markersize=4, alpha=0.7)
            axis.margins(x=0.15)
        else:
            at = np.arange(len(part))
            half = ((part["high"] - part["low"]) / 2).fillna(0.0)
            axis.errorbar(at, part["mean"], yerr=half, fmt="o-", color=INDIGO, ecolor=INK, capsize=3, linewidth=1)
            slant = len(part) > 5 or max(map(len, part["level"])) > 8
            names = [shortened(level or "-", 16) for level in part["level"]]
            axis.set_xticks(at, names, rotation=35 if slant else 0, ha="right" if slant else "center")
            axis.margins(x=0.15)
        axis.set_xlabel(factor)
        axis.grid(axis="y")
    made[0].set_ylabel("good parts/h")
    apart = table["factor"].isin(set(factors) - set(sweep.ranges)) & table["mean"].notna()
    what = "Output by factor, the other factors alike" if apart.any() else "Output of each point by factor"
    bars = "bars: 95 % interval of the difference from the first level; " if apart.any() else ""
    dots = "small dots: single points; " if apart.any() and set(factors) & set(sweep.ranges) else ""
    heading(made[0], what, f"{bars}{dots}{_told(sweep)}")
    return figure


def ink_on(colour: Sequence[float]) -> str:
    """Black or white, whichever stands out more on a colour (red, green, blue from 0 to 1): at least 4.5 to 1.

    By relative luminance, as the W3C's guidelines for accessible content reckon it (WCAG 2, from memory).
    """
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour[:3])
    luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    return "black" if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else "white"


def two_factors(sweep: Sweep) -> Figure | None:
    """Mean output at each pair of levels of the two factors that move it most."""
    table = sweep.main_effects()
    spans = table.groupby("factor")["mean"].agg(lambda mean: mean.max() - mean.min())
    few = [
        factor
        for factor in _varied(sweep)
        if factor not in sweep.ranges and (table["factor"] == factor).sum() <= MOST_LEVELS
    ]
    points = sweep.by_point(OUTPUT).dropna(subset=[OUTPUT])
    if len(few) < 2 or points.empty:
        return None
    across, up = sorted(few, key=lambda factor: -spans.fillna(0.0)[factor])[:2]
    means = points.pivot_table(index=up, columns=across, values=OUTPUT, aggfunc="mean")
    grid = means.reindex(index=list(dict.fromkeys(points[up])), columns=list(dict.fromkeys(points[across])))
    values = grid.to_numpy(dtype=float)
    figure, (axis,) = axes(1.8 + 0.5 * max(len(grid), 3))
    image = axis.imshow(values, cmap="Blues", aspect="auto", origin="lower")
    for (row, column), value in np.ndenumerate(values):
        ink = ink_on([float(part) for part in image.cmap(image.norm(value))])
        axis.text(column, row, number(value), ha="center", va="center", color=ink, **AS_TEXT)
    axis.set_xticks(range(grid.shape[1]), [shortened(str(each) or "-", 18) for each in grid.columns])
    axis.set_yticks(range(grid.shape[0]), [shortened(str(each) or "-", 18) for each in grid.index])
    axis.set_xlabel(across)
    axis.set_ylabel(up)
    with mpl.rc_context(STYLE):
        figure.colorbar(image, ax=axis, label="good parts/h")
    others = ", mean over the others" if len(_varied(sweep)) > 2 else ""
    heading(axis, f"Output by two factors{others}", _told(sweep))
    return figure


def investment(sweep: Sweep) -> Figure | None:
    """Output of each point against its investment; those that no other beats in both stand out."""
    table = sweep.by_point(OUTPUT).dropna(subset=["investment", OUTPUT])
    if table["investment"].nunique() < 2:
        return None
    figure, (axis,) = axes(4.8)
    front = sweep.not_dominated()
    half = ((table[f"{OUTPUT}_high"] - table[f"{OUTPUT}_low"]) / 2).fillna(0.0)
    axis.errorbar(
        table["investment"] / 1000,
        table[OUTPUT],
        yerr=half,
        fmt="o",
        color=INK,
        markerfacecolor=FAINT,
        ecolor="#BBBBBB",
    )
    best: Any = {"color": INDIGO, "markerfacecolor": CYAN, "zorder": 4, "label": "no other makes more for less"}
    axis.plot(front["investment"] / 1000, front[OUTPUT], "o-", **best)
    for row in front.to_dict("records"):
        place = (row["investment"] / 1000, row[OUTPUT])
        axis.annotate(str(row["point"]), place, (5, 6), textcoords="offset points", **AS_TEXT)
    axis.set_xlabel(f"investment [{thousands(sweep.currency)}]")
    axis.set_ylabel("good parts/h")
    axis.grid(axis="both")
    legend_below(figure, *axis.get_legend_handles_labels())
    _title(axis, "Output of each point by its investment", sweep)
    return figure


def best_points(sweep: Sweep) -> Figure | None:
    """The best points as lines across the factors, each axis with its own levels; the others pale behind them."""
    factors = _varied(sweep)
    table = sweep.by_point(OUTPUT).dropna(subset=[OUTPUT])
    if len(factors) < 2 or len(table) < 3:
        return None
    figure, (axis,) = axes(4.6)
    heights = pd.DataFrame({factor: _height(table[factor]) for factor in factors}, index=table.index)
    span = table[OUTPUT].max() - table[OUTPUT].min()
    heights[OUTPUT] = (table[OUTPUT] - table[OUTPUT].min()) / (span or 1)
    best = table[OUTPUT].nlargest(BEST).index
    for at in heights.index.difference(best):
        axis.plot(heights.loc[at].to_numpy(), color="#DDDDDD", linewidth=0.7, zorder=1)
    first: dict[Any, Any] = table.loc[best].to_dict("records")[0]
    for at in best[:0:-1]:
        axis.plot(heights.loc[at].to_numpy(), color=INDIGO, linewidth=1, zorder=3)
    words = f"best: point {first['point']}, {number(first[OUTPUT])} good parts/h"
    axis.plot(heights.loc[best[0]].to_numpy(), color=PURPLE, linewidth=2.4, zorder=4, label=words)
    for place, factor in enumerate(factors):
        levels = dict(zip(heights[factor], table[factor], strict=True))
        for height, level in levels.items() if len(levels) <= MOST_LEVELS else ():
            axis.annotate(
                shortened(level or "-", 16), (place, height), (6, 0), textcoords="offset points", **OVER_LINES
            )
    for height, value in ((0, table[OUTPUT].min()), (1, table[OUTPUT].max())):
        axis.annotate(number(value), (len(factors), height), (6, 0), textcoords="offset points", **OVER_LINES)
    axis.set_xticks(range(len(factors) + 1), [*factors, "good parts/h"])
    axis.set_yticks([])
    axis.margins(x=0.12)
    axis.grid(axis="x")
    legend_below(figure, *axis.get_legend_handles_labels())
    heading(axis, f"The best {min(BEST, len(table))} points across the factors", _told(sweep))
    return figure


def _varied(sweep: Sweep) -> list[str]:
    return [factor for factor in sweep.factors if sweep.points[factor].nunique() > 1]


def _height(levels: pd.Series[str]) -> pd.Series[float]:
    """Where on its axis each level stands, 0 to 1: numbers by size, words in the order in which they appear."""
    values = numbers(levels)
    places = values if values.notna().all() else pd.Series(pd.factorize(levels)[0], index=levels.index)
    if values.notna().all() and values.nunique() <= MOST_LEVELS:
        places = values.rank(method="dense")
    return (places - places.min()) / ((places.max() - places.min()) or 1)


def _title(axis: Axes, what: str, sweep: Sweep) -> None:
    heading(axis, what, f"{_told(sweep)}, 95 % intervals")


def _told(sweep: Sweep) -> str:
    about = sweep.about
    times = f"{about['hours']:g} h measured after {about['warmup_hours']:g} h"
    return f"{len(sweep.points)} points, {times}, {sweep.replications_told()}"


SWEPT: dict[str, Callable[[Sweep], Figure | None]] = {
    "effects": effects,
    "two_factors": two_factors,
    "investment": investment,
    "best_points": best_points,
}
