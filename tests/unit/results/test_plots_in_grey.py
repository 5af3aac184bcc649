"""Plots can be read without their colours, and say no more than they show."""

from __future__ import annotations

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from linesim.results import Comparison
from linesim.results.plots import PLOTS
from linesim.results.plots.acceptance import passing
from linesim.results.plots.compared import investment
from linesim.results.plots.sensitivity import tornado, worth
from linesim.results.plots.swept import SWEPT
from tests.unit.report.pages import results_of
from tests.unit.report.studies import acceptance, sensitivity
from tests.unit.report.sweeps import sweep
from tests.unit.results.ledgers import line

WHITE = to_rgba("white")


def words_of_legend(figure: Figure) -> list[str]:
    return [text.get_text() for legend in figure.legends for text in legend.get_texts()]


def bars(figure: Figure) -> list[Rectangle]:
    return [bar for bar in figure.axes[0].patches if isinstance(bar, Rectangle)]


def test_an_improvement_that_is_not_shown_to_matter_is_hollow() -> None:
    """Outputs by hand: the cycle of turn brings 2 an hour, that of grind nothing that would show."""
    figure = worth(sensitivity())
    assert figure is not None
    assert [bar.get_facecolor() == WHITE for bar in bars(figure)] == [False, True]
    assert words_of_legend(figure) == ["shown to matter", "no difference shown"]


def test_the_ends_of_a_range_differ_in_hatching_and_are_named() -> None:
    figure = tornado(sensitivity())
    assert figure is not None
    first, second = bars(figure)
    assert first.get_hatch() != second.get_hatch()
    assert words_of_legend(figure) == ["at the first end of the range", "at the second end"]


def test_a_line_that_another_one_beats_has_a_mark_of_its_own() -> None:
    both = Comparison({name: results_of(line()) for name in ("cheap", "dear")})
    for name, price in (("cheap", 100e3), ("dear", 200e3)):
        both.results[name].about["investment"] = price
    figure = investment(both)
    assert figure is not None
    cheap, dear = (each[0] for each in figure.axes[0].containers)
    assert (cheap.get_marker(), dear.get_marker()) == ("o", "s")
    assert len(words_of_legend(figure)) == 2


@pytest.mark.parametrize("name", SWEPT)
def test_a_plot_of_a_sweep_speaks_of_intervals_only_where_it_draws_some(name: str) -> None:
    figure = SWEPT[name](sweep())
    assert figure is not None
    told = " ".join(text.get_text() for text in figure.axes[0].texts)
    assert ("interval" in told) == bool(figure.axes[0].containers)


def test_all_words_of_a_map_have_one_size() -> None:
    figure = SWEPT["two_factors"](sweep())
    assert figure is not None
    sizes = {label.get_fontsize() for axis in figure.axes for label in axis.get_yticklabels()}
    assert len(sizes) == 1
    assert sizes != {mpl.rcParamsDefault["font.size"]}


def test_every_line_passes_a_mark_that_is_low_enough_and_none_one_that_is_too_high() -> None:
    """Tests by hand: 101 to 200 good parts, and 51 to 150."""
    figure = passing(acceptance())
    promised, other = (np.array(each.get_data()) for each in figure.axes[0].lines[:2])
    for marks, shares in (promised, other):
        assert (shares[0], shares[-1]) == (100, 0)
        assert marks[0] < 51
        assert marks[-1] > 200
    at_120 = promised[1][np.searchsorted(promised[0], 120)]  # each step holds up to its mark
    assert at_120 == pytest.approx(81)
    assert "highest mark for a risk of 5 %, to be sure" in words_of_legend(figure)


def test_half_widths_of_lead_times_have_the_decimals_of_their_means() -> None:
    results = results_of(line())
    results.replications["lead_time_mean_s"] = [199.5, 200.0]
    figure = PLOTS["lead_time"](results)
    assert figure is not None
    assert "mean: 199.8 ± 3.2 s" in words_of_legend(figure)  # 12.706 x 0.25
