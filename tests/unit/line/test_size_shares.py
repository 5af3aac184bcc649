"""The share out of tolerance before any run, against tables of the normal distribution and by hand."""

from __future__ import annotations

import pytest

from linesim.line import load_line
from linesim.line.capacity import stages
from linesim.line.model import Tolerance
from linesim.line.size_shares import out_of_tolerance_share, share_outside
from tests.unit.line.lines import cell

BORE = "stations.turn.characteristics.bore"
TIP = "stations.turn.tool_change.tip={every: 3 parts, takes: 0 s}"


@pytest.mark.parametrize(("cp", "ppm"), [(2 / 3, 45_500), (1, 2_700), (4 / 3, 63.3), (5 / 3, 0.573)])
def test_a_centred_normal_process_has_the_well_known_shares_outside(cp: float, ppm: float) -> None:
    """Twice the tail beyond 2, 3, 4 and 5 sd, from tables of the normal distribution."""
    assert 1e6 * share_outside(Tolerance(-3 * cp, 3 * cp), 0, 1) == pytest.approx(ppm, rel=2e-3)


def test_without_spread_a_size_on_the_limit_is_good() -> None:
    assert [share_outside(Tolerance(-1, 1), mean, 0) for mean in (-1, 1, 1.001)] == [0, 0, 1]


def share(bore: str, *overrides: str) -> float:
    line = load_line(cell(), [f"{BORE}={bore}", *overrides])
    return out_of_tolerance_share(line.stations["turn"], "bore")


def test_a_worn_tool_counts_over_its_whole_life() -> None:
    """Life 3 parts: sizes 0, 1, 2 um of at most 1.5: a third is out. A step of 1 um: 1, 2, 3: two thirds."""
    assert share("{tolerance: 3 um, spread: 0 um, drift: 1 um/part, after: {tip: 0 um}}", TIP) == pytest.approx(1 / 3)
    assert share("{tolerance: 3 um, spread: 0 um, drift: 1 um/part, after: {tip: 1 um}}", TIP) == pytest.approx(2 / 3)


def test_a_stop_by_time_renews_after_as_many_parts_as_fit_in() -> None:
    """Cycle 60 s, every 3 min: 3 parts."""
    tip = "stations.turn.tool_change.tip={every: 3 min, takes: 0 s}"
    assert share("{tolerance: 3 um, spread: 0 um, drift: 1 um/part, after: {tip: 0 um}}", tip) == pytest.approx(1 / 3)


def test_a_drift_that_nothing_ends_is_left_out() -> None:
    assert share("{tolerance: 3 um, spread: 0 um, drift: 1 um/part}") == 0


def test_what_is_measured_counts_on_the_sheet_as_the_gauge_reads_it() -> None:
    """Spread 0.8 um and a gauge of 60 % of 6 um, 0.6 um: together 1 um, so +-3 um is 3 sd: 2,700 ppm."""
    bore = f"{BORE}={{tolerance: 6 um, spread: 0.8 um}}"
    read = load_line(cell(), [bore, "stations.grind.inspection={catches: 0 %, measures: {bore: {grr: 60 %}}}"])
    assert stages(read)[0].lost_share == pytest.approx(2_700e-6, rel=2e-3)
    mixed = load_line(cell(), [bore, "stations.grind.inspection={catches: 50 %, measures: {bore: {grr: 60 %}}}",
                               "stations.turn.defects={burr: 10 %}"])  # fmt: skip
    assert stages(mixed)[0].lost_share == pytest.approx(1 - 0.9973 * 0.95, rel=1e-3)


def test_what_is_not_sampled_is_not_lost() -> None:
    """2,700 ppm out, of one in 10; cycle 60 s: of one in 10 min; tools of 8 parts: 2 in 8, and together 35 %."""
    size = f"{BORE}={{tolerance: 6 um, spread: 1 um, after: {{tip: 0 um}}}}"
    tip = "stations.turn.tool_change.tip={every: 8 parts, takes: 0 s}"

    def lost(sample: str) -> float:
        gauge = f"stations.grind.inspection.measures.bore.sample={sample}"
        return stages(load_line(cell(), [size, tip, gauge]))[0].lost_share

    assert lost("{every: 10 parts}") == lost("{every: 10 min}") == pytest.approx(270e-6, rel=1e-3)
    assert lost("{first_and_last: true}") == pytest.approx(675e-6, rel=1e-3)
    assert lost("{every: 10 parts, first_and_last: true}") == pytest.approx(945e-6, rel=1e-3)
    assert lost("{every: 1 parts, first_and_last: true}") == pytest.approx(2_700e-6, rel=1e-3)


def test_bad_sizes_that_are_found_are_lost_cycles_on_the_sheet() -> None:
    bore = f"{BORE}={{tolerance: 3 um, spread: 0 um, drift: 1 um/part, after: {{tip: 0 um}}}}"
    caught = load_line(cell(), [bore, TIP, "stations.grind.inspection.catches=90 %"])
    assert stages(caught)[0].lost_share == pytest.approx(0.3)
    assert stages(load_line(cell(), [bore, TIP]))[0].lost_share == 0
