"""Loader work a part, as in a loader time diagram drawn by hand."""

import pytest

from linesim.line import load_line
from linesim.line.capacity import capacity_sheet
from linesim.line.loader_work import load_s, loader_works
from tests.unit.line.lines import cell, two_carriages


def work(line):
    (row,) = loader_works(line, {})
    return row


def test_two_grippers_sweep_once_with_an_exchange_at_each_machine():
    """2 m at 2 m/s and 2 m/s2 take 2/2 + 2/2 = 2 s, 4 m 3 s, 8 m back 5 s. Pick 3, two exchanges of 7, place 4."""
    row = work(load_line(cell()))
    assert row.handling_s == 3 + 7 + 7 + 4
    assert row.travel_s == pytest.approx((2 + 3 + 2) + 5)
    assert row.ceiling_per_h == pytest.approx(3600 / 33)


def test_a_buffer_with_dwell_costs_a_place_and_a_pick():
    row = work(load_line(cell(), ["buffers.park.dwell=10 s"]))
    assert row.handling_s == 3 + 7 + 4 + 3 + 7 + 4
    assert row.travel_s == pytest.approx(4 * 2 + 5)


def test_one_gripper_makes_a_trip_for_each_step():
    """Loaded 2, 4, 2 m (2, 3, 2 s); empty tray to turn 6 m (4 s), grind to blanks 6 m (4 s), turn to grind 4 m (3)."""
    row = work(load_line(cell(), ["loaders.gantry.grippers=1"]))
    assert row.handling_s == 3 + (5 + 6) + (5 + 6) + 4
    assert row.travel_s == pytest.approx((2 + 3 + 2) + (4 + 4 + 3))


def test_trips_to_a_chute_add_the_way_there_and_back_and_the_placing_for_their_share():
    """Each tenth part goes from grind at 6 m to 8 m: 2 s there, 2 s back, 4 s to place."""
    chute = ["stations.grind.chute=chute_1", "loaders.gantry.stops.chute_1=8 m"]
    row = work(load_line(cell(), [*chute, "stations.grind.inspection.false_alarms=10 %"]))
    plain = work(load_line(cell()))
    assert row.handling_s - plain.handling_s == pytest.approx(0.4)
    assert row.travel_s - plain.travel_s == pytest.approx(0.4)
    assert row.aside_s == pytest.approx(0.8)


def test_samples_add_their_trips_and_the_time_for_which_the_drawer_is_open():
    """Each tenth part goes from grind at 6 m to 8 m: 2 s there, 2 s back, 4 s to place; each fourth opens it: 20 s."""
    stop = ["loaders.gantry.stops.drawer_1=8 m", "stations.grind.samples={to: drawer_1, every: 10 parts}"]
    row = work(load_line(cell(), ["drawers.drawer_1={capacity: 4, emptied: {at: 4 parts, takes: 20 s}}", *stop]))
    plain = work(load_line(cell()))
    assert row.work_s - plain.work_s == pytest.approx(0.1 * (4 + 4 + 5))
    hourly = work(load_line(cell(), ["drawers.drawer_1={capacity: 4, emptied: {every: 80 s, takes: 20 s}}", *stop]))
    assert hourly.work_s - plain.work_s == pytest.approx(0.1 * (4 + 4))
    assert hourly.open_share == pytest.approx(0.2)


def test_stops_that_hold_the_loader_take_its_time():
    """40 s every 20 parts are 2 s a part; 100 s in each 1000 s are 10 % of all. One that does not hold it is none."""
    master = "stations.grind.measuring.master={every: %s, takes: %s, holds: loader}"
    plain = work(load_line(cell()))
    by_count = work(load_line(cell(), [master % ("20 parts", "40 s")]))
    assert by_count.handling_s - plain.handling_s == pytest.approx(2)
    assert work(load_line(cell(), [master % ("900 s", "100 s")])).open_share == pytest.approx(0.1)
    assert work(load_line(cell(), ["stations.grind.measuring.master={every: 20 parts, takes: 40 s}"])) == plain


def test_each_carriage_of_a_rail_has_work_of_its_own():
    """Pick 3, exchange 7, place 4; 2 m twice at 2 s each and 4 m back in 3 s. Together they carry twice as much."""
    left, right = loader_works(load_line(two_carriages()), {"turn": 60.0, "grind": 60.0})
    assert (left.loader, right.loader) == ("gantry.left", "gantry.right")
    assert left.handling_s == right.handling_s == 3 + 7 + 4
    assert left.travel_s == right.travel_s == pytest.approx(2 + 2 + 3)
    assert left.share == right.share == pytest.approx(60 * 21 / 3600)


def test_several_machines_count_by_their_mean_position():
    overrides = ["stations.turn.machines=2", "loaders.gantry.stops.turn=[1 m, 3 m]"]
    assert work(load_line(cell(), overrides)).travel_s == work(load_line(cell())).travel_s


@pytest.mark.parametrize(
    ("name", "loader", "expected_s"), [("ring_cell", 0, 80.7), ("ring_divided", 0, 35.9), ("ring_divided", 1, 26.8)]
)
def test_the_demo_lines_agree_with_their_diagrams(name, loader, expected_s):
    """Drawn by hand. Ring cell: 3.4 + 6 x 7.2 + 2 x 3.4 + 3.4 handling, 14.84 s there and 9.03 s back."""
    assert capacity_sheet(load_line(name)).loaders[loader].work_s == pytest.approx(expected_s, abs=0.05)


def test_the_share_at_demand_counts_parts_that_are_rejected_later():
    source = cell(demand={"volume": "40000 /year", "planned": "1000 h/year"})
    overrides = ["stations.grind.defects.size=20 %", "stations.grind.inspection.catches=100 %"]
    sheet = capacity_sheet(load_line(source, overrides))
    assert sheet.loaders[0].share == pytest.approx(50 * 33 / 3600)


@pytest.mark.parametrize(
    ("volume", "words"), [("80000 /year", None), ("85000 /year", "75-80 %"), ("110000 /year", "can't carry")]
)
def test_a_loader_with_little_time_left_is_warned_of(volume, words):
    """33 s a part: 80 parts/h are 73 %, 85 are 78 %, 110 are 101 %."""
    source = cell(demand={"volume": volume, "planned": "1000 h/year"})
    warnings = [text for text in capacity_sheet(load_line(source)).warnings if text.startswith("gantry")]
    assert (words is None) == (not warnings)
    assert words is None or words in warnings[0]


@pytest.mark.parametrize(
    ("forgotten", "words"),
    [
        (["drill"], "from park_1 to park_2 by direct hand-over, since drill is no stop of gantry"),
        (
            ["drill", "park_2"],
            "from park_1 to harden by direct hand-over, since drill and park_2 are no stops of gantry",
        ),
        (["stocker"], None),
    ],
)
def test_a_stop_that_seems_forgotten_is_warned_of(forgotten, words):
    """Parts pass by the gantry between two of its stops; before its first one and behind its last that says nothing."""
    line = load_line("ring_cell", [f"loaders.gantry.stops.{name}=null" for name in forgotten])
    warnings = capacity_sheet(line).warnings
    assert len(warnings) == (words is not None)
    assert words is None or words in warnings[0]


def test_a_station_that_people_or_another_carriage_serve_has_no_forgotten_stop():
    forgotten = ["loaders.gantry.stops.drill=null"]
    assert "since drill is no stop of gantry" in capacity_sheet(load_line("ring_cell", forgotten)).warnings[0]
    by_hand = "stations.drill.by_hand={crew: operator, exchange: 9 s}"
    assert not any("no stop" in told for told in capacity_sheet(load_line("ring_cell", [*forgotten, by_hand])).warnings)
    assert not any("no stop" in told for told in capacity_sheet(load_line(two_carriages())).warnings)


@pytest.mark.parametrize(
    ("stops", "grippers", "expected_s"),
    [
        ({"blanks": "0 m", "turn": "1 m", "park": "2 m"}, 2, 7),
        ({"blanks": "0 m", "turn": "1 m", "park": "2 m"}, 1, 5 + 6),
        ({"blanks": "0 m", "turn": "1 m"}, 2, 5),
        ({"turn": "1 m", "park": "2 m"}, 2, 6),
        ({"grind": "1 m", "tray": "2 m"}, 2, 0),
    ],
)
def test_load_time_is_what_loaders_do_at_the_machine(stops, grippers, expected_s):
    source = cell()
    source["loaders"]["gantry"] |= {"stops": stops, "grippers": grippers}
    assert load_s(load_line(source), "turn") == expected_s


def test_two_loaders_at_a_machine_load_and_unload():
    gantry = cell()["loaders"]["gantry"]
    loaders = {
        "first": {**gantry, "stops": {"blanks": "0 m", "turn": "2 m"}},
        "second": {**gantry, "stops": {"turn": "2 m", "park": "4 m"}, "unload": "9 s"},
    }
    assert load_s(load_line(cell(loaders=loaders)), "turn") == 5 + 9
