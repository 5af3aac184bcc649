"""Where output is lost: the loss bridge of the pace stage, and the parts of OEE station by station."""

from __future__ import annotations

from typing import Any

from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from linesim.results.colours import CYAN, INDIGO, INK, PURPLE, SAND, TEAL, look
from linesim.results.labels import label
from linesim.results.plots.canvas import SMALL, arms, axes, height_for, legend_below, names_on_y, title
from linesim.results.results import Results

LEAST_PARTS_PER_H = 0.005
OEE_PARTS = {  # column -> words, marker, colour
    "availability": ("availability (working / planned)", "o", INDIGO),
    "effectiveness": ("effectiveness", "s", CYAN),
    "quality": ("quality", "^", TEAL),
    "oee": ("OEE (product of the three)", "D", PURPLE),
    "own_availability": ("own availability (waiting left out)", "v", SAND),
}


def loss_bridge(results: Results) -> Figure:
    """From what the pace stage could make down to the good parts, a bar a loss."""
    table = results.averages("losses", "step", "parts_per_h")
    ends = table["step"].isin(["gross", "good"])
    table = table[ends | (table["mean"].abs() >= LEAST_PARTS_PER_H)].reset_index(drop=True)
    figure, (axis,) = axes(height_for(len(table)))
    level, top = 0.0, float(table["mean"].iloc[0])
    for row, (step, mean) in enumerate(zip(table["step"], table["mean"], strict=True)):
        style = look(step)
        if step in ("gross", "good"):
            start, level = 0.0, float(mean)
        else:
            start, level = level, level - float(mean)
        lines: dict[str, Any] = {"edgecolor": INK, "linewidth": 0.6}
        axis.barh(row, level - start, left=start, height=0.68, color=style.colour, hatch=style.hatch, **lines)
        if row + 1 < len(table):
            axis.plot([level, level], [row + 0.34, row + 0.66], color=INK, linewidth=0.7, zorder=0.9)
        words = f"{mean:.2f}" if step in ("gross", "good") else f"{-mean:+.2f}".replace("-", "−")
        half = (table["high"][row] - table["low"][row]) / 2
        words += f" ± {half:.2f}" if half >= LEAST_PARTS_PER_H else ""
        axis.annotate(words, (max(start, level), row), (5, 0), textcoords="offset points", va="center", fontsize=SMALL)
    names_on_y(axis, [label(step) for step in table["step"]])
    axis.set_xlim(0, 1.18 * max(top, float(table["mean"].iloc[-1])))
    axis.set_xlabel("parts/h")
    title(axis, f"Losses at {results.about['pace_stage']}, the pace stage", results)
    return figure


def oee_parts(results: Results) -> Figure:
    """A row a station, a mark a part of its OEE."""
    stations = list(dict.fromkeys(results.stations["station"]))
    figure, (axis,) = axes(height_for(len(stations), 2.3))
    for at, (column, (_, marker, colour)) in enumerate(OEE_PARTS.items()):
        table = results.averages("stations", "station", column)
        rows = [row + (at - 2) * 0.14 for row in range(len(stations))]
        axis.errorbar(
            100 * table["mean"],
            rows,
            xerr=100 * arms(table, most=1.0),
            fmt=marker,
            color=colour,
            markersize=5.5,
            markeredgecolor=INK,
            markeredgewidth=0.5,
            ecolor=INK,
            elinewidth=0.9,
        )
    for row in range(1, len(stations)):
        axis.axhline(row - 0.5, color="#EEEEEE", linewidth=0.8, zorder=0)
    names_on_y(axis, stations)
    axis.set_xlim(0, max(axis.get_xlim()[1], 103))
    axis.set_xlabel("share [%]")
    title(axis, "Parts of OEE by station, after ISO 22400-2", results)
    marks = [
        Line2D([], [], linestyle="", marker=marker, color=colour, markeredgecolor=INK, markeredgewidth=0.5)
        for _, marker, colour in OEE_PARTS.values()
    ]
    legend_below(figure, marks, [words for words, _, _ in OEE_PARTS.values()], columns=3)
    return figure
