"""Lines side by side: output against demand, what differs from the base, and output against investment."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from linesim.results.colours import CYAN, INDIGO, INK, PURPLE, WHITE
from linesim.results.comparison import Comparison
from linesim.results.differences import NOT_SHOWN
from linesim.results.labels import figure as number
from linesim.results.labels import shortened
from linesim.results.plots.canvas import SMALL, axes, column_right, heading, height_for, legend_below, names_on_y

OUTPUT = "throughput_per_h"
MARK = ("marker", "markersize", "markeredgecolor", "markerfacecolor")
BEATEN: dict[str, Any] = {"linestyle": "", "marker": "s", "markersize": 7, "markeredgecolor": INK}
BEATEN |= {"markerfacecolor": WHITE, "ecolor": INK, "capsize": 3}
STANDING: dict[str, Any] = {**BEATEN, "marker": "o", "markersize": 8, "markerfacecolor": CYAN}


def output(comparison: Comparison) -> Figure:
    """Output of each line with its interval, demand beside it, and the paired difference from the base."""
    names = [shortened(name, 28) for name in comparison.names]
    figure, (left, right) = axes(height_for(len(names), 2.3), columns=2, sharey=True)
    made = [each.estimate(OUTPUT) for each in comparison.results.values()]
    for row, found in enumerate(made):
        left.errorbar(found.mean, row, xerr=found.half_width, fmt="o", color=INDIGO, ecolor=INK, capsize=3)
    demands = {each.about["demand_per_h"] for each in comparison.results.values()} - {None}
    for demand in demands if len(demands) == 1 else ():
        words = f"demand, {number(demand)} parts/h"
        left.axvline(demand, color=PURPLE, linestyle=(0, (6, 3)), linewidth=1.6, label=words)
    left.set_xlabel("good parts/h")
    table = comparison.differences(OUTPUT)
    right.axvline(0, color=INK, linewidth=1)
    for row, each in enumerate(table.to_dict("records"), 1):
        face = INDIGO if each["shown"] != NOT_SHOWN else "none"
        half = (each["high"] - each["low"]) / 2
        right.errorbar(each["mean"], row, xerr=half, fmt="D", color=INDIGO, markerfacecolor=face, ecolor=INK, capsize=3)
    column_right(right, "", ["base", *table["shown"]])
    right.set_xlabel(f"good parts/h, less “{names[0]}”")
    for axis in (left, right):
        names_on_y(axis, names)
    _title(left, "Output of the lines, and difference from the base", comparison)
    legend_below(figure, *left.get_legend_handles_labels())
    return figure


def investment(comparison: Comparison) -> Figure | None:
    """Output against investment; those that no other line beats in both stand out. None without prices."""
    points = {name: price for name, price in comparison.investments().items() if price}
    if len(points) < 2:
        return None
    figure, (axis,) = axes(4.6)
    made = {name: comparison.results[name].estimate(OUTPUT) for name in points}
    for name, price in points.items():
        beaten = any(
            other != name and points[other] <= price and made[other].mean >= made[name].mean
            and (points[other], -made[other].mean) != (price, -made[name].mean)
            for other in points
        )  # fmt: skip
        look: Any = BEATEN if beaten else STANDING
        axis.errorbar(price / 1000, made[name].mean, yerr=made[name].half_width, **look)
        place = (price / 1000, made[name].mean)
        axis.annotate(shortened(name, 28), place, (7, 6), textcoords="offset points", fontsize=SMALL)
    marks = [Line2D([], [], linestyle="", **{key: look[key] for key in MARK}) for look in (STANDING, BEATEN)]
    legend_below(figure, marks, ["no other makes more for less", "another makes as much or more for less"])
    axis.margins(x=0.2)
    axis.set_xlabel(f"investment [k {comparison.about['currency']}]")
    axis.set_ylabel("good parts/h")
    axis.grid(axis="both")
    _title(axis, "Output against investment", comparison)
    return figure


def _title(axis: Axes, what: str, comparison: Comparison) -> None:
    about = comparison.about
    count = len(about["replications"])
    times = f"{about['hours']:g} h measured after {about['warmup_hours']:g} h"
    heading(axis, what, f"{times}, {count} replications on the same random numbers, 95 % intervals")


COMPARED: dict[str, Callable[[Comparison], Figure | None]] = {"output": output, "investment": investment}
