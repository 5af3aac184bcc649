"""The least lead time: cycles, dwells and loaded moves of a part that is alone on the line."""

import pytest

from linesim.line import load_line
from linesim.line.lead_time import least_lead_time_s
from tests.unit.line.lines import cell


def test_a_serial_line_takes_its_cycles_and_dwells():
    assert least_lead_time_s(load_line(cell(loaders={}), ["buffers.park.dwell=20 s"])) == 60 + 20 + 50


def test_a_loader_adds_its_moves_and_handling_after_the_first_pick():
    """2 m (2 s), load 5, cycle 60, unload 6, 4 m (3 s), load 5, cycle 50, unload 6, 2 m (2 s), place 4."""
    assert least_lead_time_s(load_line(cell())) == pytest.approx(2 + 5 + 60 + 6 + 3 + 5 + 50 + 6 + 2 + 4)


def test_a_part_rests_in_a_buffer_with_dwell():
    """Instead of 3 s past the park: 2 m (2 s), place 4, dwell 10, pick 3, 2 m (2 s)."""
    plain, dwelling = load_line(cell()), load_line(cell(), ["buffers.park.dwell=10 s"])
    assert least_lead_time_s(dwelling) - least_lead_time_s(plain) == pytest.approx(2 + 4 + 10 + 3 + 2 - 3)


def test_the_machines_nearest_to_each_other_count():
    overrides = ["stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 40 m]"]
    assert least_lead_time_s(load_line(cell(), overrides)) == least_lead_time_s(load_line(cell()))


def test_a_swap_shorter_than_a_load_counts_with_two_grippers_only():
    quick = ["loaders.gantry.exchange=1 s"]
    assert least_lead_time_s(load_line(cell(), quick)) == least_lead_time_s(load_line(cell())) - 4 - 5 - 4 - 5
    one = ["loaders.gantry.grippers=1"]
    assert least_lead_time_s(load_line(cell(), [*quick, *one])) == least_lead_time_s(load_line(cell(), one))
