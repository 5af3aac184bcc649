"""How machines and carriages spent their time: stacked bars of states."""

from __future__ import annotations

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch

from linesim.results.colours import INK, look
from linesim.results.intervals import estimates, within
from linesim.results.labels import label
from linesim.results.measures.owners import CARRIAGE_STATES, MACHINE_STATES
from linesim.results.plots.canvas import axes, column_right, height_for, legend_below, names_on_y, title
from linesim.results.results import Results

# From the left: work, then what waits for others, then own stops.
MACHINE_ORDER = ["working", "loading", "waiting_loader", "waiting_operator", "blocked", "starved"]
CARRIAGE_ORDER = ["moving_loaded", "moving_empty", "handling"]
UNPLANNED = ("off_shift", "planned_stop")  # they are no part of planned time
LEAST_SHARE = 0.0005  # thinner than that nobody sees


def machine_states(results: Results) -> Figure:
    """States by machine."""
    table = results.states[results.states["kind"] == "machine"]
    return _stacked(results, table, [*MACHINE_ORDER, *MACHINE_STATES], "Time of the machines by state", "working")


def loader_use(results: Results) -> Figure | None:
    """States by carriage; None without loaders."""
    table = results.states[results.states["kind"] == "carriage"]
    if table.empty:
        return None
    return _stacked(results, table, [*CARRIAGE_ORDER, *CARRIAGE_STATES], "Time of the loaders by state", "idle")


def _stacked(results: Results, table: pd.DataFrame, order: list[str], what: str, noted: str) -> Figure:
    """A bar an owner, with the share of the state `noted` and its interval in figures beside it."""
    owners = list(dict.fromkeys(table["owner"]))
    means = table.groupby("owner", sort=False)[list(dict.fromkeys(order))].mean().loc[owners]
    shown = [state for state in means.columns if state not in UNPLANNED and means[state].max() >= LEAST_SHARE]
    figure, (axis,) = axes(height_for(len(owners), 2.3))
    left = pd.Series(0.0, index=owners)
    for state in shown:
        style = look(state)
        axis.barh(
            range(len(owners)),
            100 * means[state],
            left=100 * left,
            height=0.72,
            color=style.colour,
            hatch=style.hatch,
            edgecolor=INK if style.hatch else style.colour,
            linewidth=0,
        )
        left = left + means[state]
    names_on_y(axis, owners)
    axis.set_xlim(0, 100)
    axis.set_xlabel("share of planned time [%]")
    title(axis, what, results)
    _note_shares(results, axis, owners, noted)
    patches = [Patch(facecolor=look(s).colour, hatch=look(s).hatch, edgecolor=INK, linewidth=0) for s in shown]
    legend_below(figure, patches, [label(state) for state in shown])
    return figure


def _note_shares(results: Results, axis: Axes, owners: list[str], state: str) -> None:
    told = results.averages("states", "owner", state).set_index("owner").loc[owners]
    found = [within(each, most=1.0) for each in estimates(told)]
    words = [
        f"{100 * mean:.1f}" + ("" if pd.isna(low) else f" ({100 * low:.1f} to {100 * high:.1f})")
        for mean, low, high, _ in found
    ]
    column_right(axis, f"{label(state)} [%]", words)
