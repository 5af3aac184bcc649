"""What share of the parts becomes scrap at a station, worked out by hand."""

import pytest

from linesim.line import load_line
from linesim.line.scrap_shares import drawn_share, scrapped_share
from tests.unit.line.lines import cell


def share(*overrides: str) -> float:
    return scrapped_share(load_line(cell(), overrides), "grind")


def test_without_inspection_and_spoiling_nothing_becomes_scrap() -> None:
    assert share("stations.turn.defects.surface=10 %") == 0


def test_rejects_are_bad_parts_that_are_caught_and_false_alarms() -> None:
    """Bad by turn or grind: 1 - 0.9 x 0.8 = 0.28; rejected 0.28 x 0.5 + 0.72 x 0.01."""
    found = "stations.grind.inspection={catches: 50 %, false_alarms: 1 %}"
    defects = ("stations.turn.defects.surface=10 %", "stations.grind.defects.burr=20 %")
    assert share(*defects, found) == pytest.approx(0.28 * 0.5 + 0.72 * 0.01)


def test_what_an_inspection_before_has_caught_does_not_come() -> None:
    """10 % bad, of which turn catches 60 % itself: 4 % come on."""
    overrides = ("stations.turn.defects.surface=10 %", "stations.turn.inspection.catches=60 %")
    assert share(*overrides, "stations.grind.inspection={catches: 100 %}") == pytest.approx(0.04)


def test_a_part_is_scrap_once_it_is_rejected_more_often_than_it_may_go_back() -> None:
    found = "stations.grind.inspection={false_alarms: 10 %, rework: {to: turn, at_most: 2}}"
    assert share(found) == pytest.approx(0.1**3)


def test_parts_made_first_after_a_stop_are_scrap_before_they_are_measured() -> None:
    """2 of 10 parts; of the rest 5 % are false alarms."""
    stop = "stations.grind.dressing.wheel={every: 10 parts, takes: 5 s, start_up_scrap: 2 parts}"
    assert share(stop, "stations.grind.inspection.false_alarms=5 %") == pytest.approx(0.2 + 0.8 * 0.05)


def test_a_size_read_out_of_tolerance_is_scrap_where_it_is_read() -> None:
    """Without spread, always 3 um off: each part is out; of a sample of one in four, a quarter is read."""
    size = "stations.turn.characteristics.bore={tolerance: 4 um, spread: 0 um, offset: 3 um}"
    every = "stations.grind.inspection.measures.bore={sample: {every: 4 parts}}"
    assert share(size, "stations.grind.inspection.measures.bore={}") == 1
    assert share(size, every) == pytest.approx(0.25)


def drawn(which: str) -> float:
    drawer = "drawers.drawer_1={capacity: 4, emptied: {at: 4 parts, takes: 2 min}}"
    stop = "loaders.gantry.stops.drawer_1=7 m"
    samples = f"stations.grind.samples={{to: drawer_1, {which}}}"
    wheel = "stations.grind.dressing.wheel={every: 12 parts, takes: 28 s}"
    return drawn_share(load_line(cell(), [drawer, stop, wheel, samples]), "grind")


def test_one_of_so_many_parts_is_a_sample_or_one_of_those_ended_in_so_much_time() -> None:
    """grind makes a part in 50 s: the fourth is the first that ends 200 s after the last sample."""
    assert drawn("every: 20 parts") == 1 / 20
    assert drawn("every: 200 s") == 1 / 4
    assert drawn("every: 201 s") == 1 / 5


def test_the_first_after_each_stop_add_to_that() -> None:
    assert drawn("after: [wheel]") == pytest.approx(1 / 12)
    assert drawn("every: 20 parts, after: [wheel]") == pytest.approx(1 / 20 + 1 / 12)
    assert drawn("after_pause: 1 h") == 0
