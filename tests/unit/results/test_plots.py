"""The plots, as far as code can look at them: titles, units, and every number they show taken from the tables."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure

from linesim.results import Results
from linesim.results.colours import look
from linesim.results.measures.owners import STATES
from linesim.results.plots import PLOTS, png
from linesim.results.plots.canvas import height_for
from linesim.results.warm_up import Pilot
from tests.unit.results.ledgers import departures, ledger, line

PILOT = Pilot(
    pd.DataFrame(
        {"replication": 1, "from_h": range(20), "to_h": range(1, 21), "throughput_per_h": 6.0, "wip_parts": 2.0}
    ),
    whole_weeks=False,
)


@pytest.fixture(scope="module")
def results() -> Results:
    return Results(line(money={"wages": "40 /h", "blank": "3 /part"}), [ledger(), ledger(replication=2)], (), PILOT)


def drawn(results: Results, name: str) -> Figure:
    figure = PLOTS[name](results)
    assert figure is not None
    return figure


@pytest.mark.parametrize("name", PLOTS)
def test_every_plot_has_a_title_the_name_of_the_line_and_axes_with_words(results: Results, name: str) -> None:
    first = drawn(results, name).axes[0]
    assert first.get_title(loc="left")
    assert any("by hand" in text.get_text() for text in first.texts)
    assert first.get_xlabel()
    assert first.get_ylabel() or all(label.get_text() for label in first.get_yticklabels())


def test_states_of_a_machine_fill_its_bar(results: Results) -> None:
    axis = drawn(results, "states").axes[0]
    widths = [0.0, 0.0, 0.0]
    for bar in axis.patches:
        widths[round(bar.get_y() + bar.get_height() / 2)] += bar.get_width()  # type: ignore[attr-defined]
    assert widths == pytest.approx([100, 100, 100])


def test_the_bridge_goes_down_to_the_good_parts(results: Results) -> None:
    axis = drawn(results, "losses").axes[0]
    last, before = axis.patches[-1], axis.patches[-2]
    assert last.get_width() == pytest.approx(18.0)  # type: ignore[attr-defined]
    assert before.get_x() + before.get_width() == pytest.approx(18.0)  # type: ignore[attr-defined]


def test_states_that_share_a_colour_differ_in_hatching() -> None:
    machine = [look(state) for state in STATES[:16]]
    assert len(set(machine)) == len(machine)


def test_figures_grow_with_the_number_of_stations() -> None:
    assert height_for(20) - height_for(2) == pytest.approx(18 * 0.34)


def test_plots_of_a_line_that_made_nothing_and_has_no_buffer_are_left_out_or_drawn() -> None:
    owners = tuple(owner for owner in ledger().owners if owner.kind not in ("buffer", "carriage"))
    idle = Results(line(), [ledger(departures=departures([]), levels={}, owners=owners, spells=ledger().spells[:0])])
    found = {name: plot(idle) for name, plot in PLOTS.items()}
    left_out = {name for name, figure in found.items() if figure is None}
    assert left_out == {"buffers", "costs", "lead_time", "loaders", "warm_up"}


def ends_of_bars(axis: Axes, direction: int) -> list[float]:
    """Ends of all error bars along x (0) or y (1)."""
    bars = [bar for bar in axis.collections if isinstance(bar, LineCollection)]
    ends = [float(point[direction]) for bar in bars for path in bar.get_segments() for point in path]
    return [end for end in ends if not np.isnan(end)]


def shares_near_their_ends() -> Results:
    """Two replications, so that t-intervals are 6.4 times as wide as what lies between the two: all reach beyond."""
    found = Results(line(money={"wages": "40 /h", "blank": "3 /part"}), [ledger(), ledger(replication=2)])
    near = {0: 0.99, 1: 0.97}
    for table, columns in {
        "stations": ["availability", "quality", "own_availability", "effectiveness", "oee"],
        "bottleneck": ["sole_share"],
        "states": ["working"],
        "buffers": ["mean_level"],
        "wip": ["share"],
    }.items():
        shown = found.tables[table]
        for column in columns:
            places = shown["capacity_parts"] if column == "mean_level" else 1.0
            shown[column] = (shown["replication"] - 1).map(near) * places
    found.tables["bottleneck"]["shifting_share"] = 0.0
    return found


@pytest.mark.parametrize(
    ("name", "axis", "direction"), [("oee", 0, 0), ("bottleneck", 0, 0), ("buffers", 1, 0), ("wip_distribution", 0, 1)]
)
def test_intervals_of_shares_are_drawn_up_to_100_percent_and_no_further(name: str, axis: int, direction: int) -> None:
    ends = ends_of_bars(drawn(shares_near_their_ends(), name).axes[axis], direction)
    assert max(ends) == pytest.approx(100)
    assert min(ends) < 95


def test_the_share_beside_a_bar_of_states_is_told_with_an_interval_that_ends_at_100_percent() -> None:
    words = [text.get_text() for text in drawn(shares_near_their_ends(), "states").axes[0].texts]
    assert "98.0 (85.3 to 100.0)" in words  # 98 - 12.706 x 1


def test_a_figure_is_written_as_png(results: Results, tmp_path: Path) -> None:
    png(drawn(results, "wip"), tmp_path / "wip.png")
    assert (tmp_path / "wip.png").read_bytes().startswith(b"\x89PNG")
