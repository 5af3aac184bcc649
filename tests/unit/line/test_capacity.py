"""The rough-cut sheet by hand: times a part, crew response, clocks, rejects, takt and warnings."""

import math

import pytest

from linesim.line import load_line
from linesim.line.capacity import capacity_sheet, cycle_and_load_s, ideal_interval_s, pace_stage, stages
from tests.unit.line.lines import cell


def stage(*overrides, source=None):
    rows = stages(load_line(source or cell(), list(overrides)))
    return next(row for row in rows if row.station == "turn")


def test_a_station_without_stops_makes_a_part_each_cycle_and_exchange():
    assert stage().capacity_per_h == pytest.approx(3600 / (60 + 7))


def test_machines_multiply_the_capacity_and_divide_the_ideal_interval():
    row = stage("stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 3 m]")
    assert row.capacity_per_h == pytest.approx(2 * 3600 / 67)
    assert row.ideal_interval_s == 67 / 2


def test_working_breakdowns_stretch_the_cycle_by_repair_and_response():
    """60 s x (1 + (25 min + 5 min)/600 min) + 7 s = 70 s."""
    source = cell(crews={"technician": {"response": "5 min"}})
    row = stage("stations.turn.breakdowns.jam={mtbf: 600 min, mttr: 25 min, crew: technician}", source=source)
    assert row.breakdown_s == pytest.approx(3)
    assert row.capacity_per_h == pytest.approx(3600 / 70)


def test_calendar_breakdowns_take_their_share_of_all_time():
    row = stage("stations.turn.breakdowns.jam={mtbf: 90 min, mttr: 10 min, clock: calendar}")
    assert row.capacity_per_h == pytest.approx(3600 / 67 * 0.9)


def test_stops_by_count_add_to_every_part_and_stops_by_time_take_their_share():
    """180 s / 120 parts = 1.5 s a part; 6 min in every 60 min of the calendar leave 60/66."""
    overrides = ["stations.turn.tool_change.insert={every: 120 parts, takes: 180 s}"]
    assert stage(*overrides).stop_s == pytest.approx(1.5)
    overrides += ["stations.turn.measuring.master={every: 60 min, takes: 6 min}"]
    assert stage(*overrides).capacity_per_h == pytest.approx(3600 / 68.5 * 60 / 66)


def test_stops_by_working_time_stretch_the_cycle():
    row = stage("stations.turn.cleaning.chips={every: 60 min, takes: 6 min, clock: working}")
    assert row.stop_s == pytest.approx(6)


def test_samples_are_lost_cycles():
    drawer = [
        "drawers.drawer_1={capacity: 4, emptied: {at: 4 parts, takes: 20 s}}",
        "loaders.gantry.stops.drawer_1=3 m",
    ]
    row = stage(*drawer, "stations.turn.samples={to: drawer_1, every: 10 parts}")
    assert row.lost_share == pytest.approx(0.1)


def test_found_defects_are_lost_cycles_and_missed_ones_are_not():
    defects = ["stations.turn.defects.surface=10 %"]
    assert stage(*defects).lost_share == 0
    assert stage(*defects, "stations.grind.inspection.catches=90 %").lost_share == pytest.approx(0.09)
    found = stage(*defects, "stations.grind.inspection.catches=100 %")
    assert found.capacity_per_h == pytest.approx(3600 / 67 * 0.9)


def test_false_alarms_are_lost_where_they_are_raised():
    line = load_line(cell(), ["stations.grind.inspection.false_alarms=2 %"])
    assert [row.lost_share for row in stages(line)] == [0, pytest.approx(0.02)]


def test_demand_asks_more_of_a_station_the_more_is_rejected_after_it():
    """40 good parts/h; grind loses 20 %, so turn must give 50 good ones to it."""
    source = cell(demand={"volume": "40000 /year", "planned": "1000 h/year"})
    line = load_line(source, ["stations.grind.defects.size=20 %", "stations.grind.inspection.catches=100 %"])
    turn, grind = stages(line)
    assert (turn.needed_per_h, grind.needed_per_h) == (pytest.approx(50), 40)


def test_takt_is_planned_time_for_each_good_part_of_the_demand():
    """85,000 parts in 3,480 h: 147.4 s."""
    sheet = capacity_sheet(load_line("ring_cell"))
    assert sheet.takt_s == pytest.approx(3480 * 3600 / 85000)
    assert sheet.needed_per_h == pytest.approx(85000 / 3480)


def test_the_pace_stage_has_the_largest_ideal_interval():
    line = load_line(cell(), ["stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 3 m]"])
    assert cycle_and_load_s(line) == {"turn": 67, "grind": 57}
    assert ideal_interval_s(line) == {"turn": 33.5, "grind": 57}
    assert pace_stage(line) == "grind"


def test_of_equal_stations_the_first_on_the_route_sets_the_pace():
    assert pace_stage(load_line(cell(), ["stations.grind.cycle=60 s"])) == "turn"


def test_a_line_stopped_as_one_makes_the_published_figure():
    """Buzacott 1967: 20 stations, MTTF 200 and MTTR 10.5 cycles: 1/(1 + 20 x 10.5/200) = 0.4878 of a part a minute."""
    assert capacity_sheet(load_line("twenty_stations")).stopped_as_one_per_h == pytest.approx(60 / 2.05)


def test_the_bound_is_not_defined_with_a_loader_or_unequal_cycles():
    assert capacity_sheet(load_line(cell())).stopped_as_one_per_h is None
    assert capacity_sheet(load_line(cell(loaders={}))).stopped_as_one_per_h is None
    equal = load_line(cell(loaders={}), ["stations.grind.cycle=60 s"])
    assert capacity_sheet(equal).stopped_as_one_per_h == pytest.approx(60)
    two = load_line(cell(loaders={}), ["stations.grind.cycle=60 s", "stations.grind.machines=2"])
    assert capacity_sheet(two).stopped_as_one_per_h is None


def test_a_dwell_buffer_slower_than_the_pace_is_warned_of():
    """Turn makes 3600/67 = 53.7 parts/h; two places with 4 min dwell let 30 through."""
    warnings = capacity_sheet(load_line(cell(), ["buffers.park.dwell=4 min"])).warnings
    assert warnings == ("park lets 30.0 parts/h through (2 places, 240 s dwell); the pace stage could make 53.7",)
    assert capacity_sheet(load_line(cell(), ["buffers.park.dwell=2 min"])).warnings == ()


@pytest.mark.parametrize(("volume", "warned"), [("53000 /year", False), ("54000 /year", True)])
def test_a_station_below_the_demand_is_warned_of(volume, warned):
    source = cell(demand={"volume": volume, "planned": "1000 h/year"}, loaders={})
    warnings = capacity_sheet(load_line(source, ["stations.turn.cycle=67 s"])).warnings
    assert [warning.startswith("turn alone makes 53.7") for warning in warnings] == [True] * warned


def test_a_line_without_a_demand_has_no_takt_and_no_need():
    sheet = capacity_sheet(load_line(cell()))
    assert (sheet.takt_s, sheet.needed_per_h, sheet.stages[0].needed_per_h) == (None, None, None)


def test_a_station_without_any_time_has_no_ceiling():
    assert stage("stations.turn.cycle=0 s", source=cell(loaders={})).capacity_per_h == math.inf


@pytest.mark.parametrize(
    ("overrides", "told"),
    [
        (
            ["buffers.park.capacity=0"],
            "has 2 places, machines included; one of them must stay free, so at most 1 part ",
        ),
        (
            ["buffers.park.capacity=1"],
            "has 3 places, machines included; one of them must stay free, so at most 2 parts ",
        ),
        (["buffers.park.capacity=2"], None),
        (["stations.turn.machines=2", "buffers.park.capacity=0"], "has 3 places"),
        (["stations.turn.machines=2", "buffers.park.capacity=1"], None),
    ],
)
def test_a_rework_loop_of_few_places_is_warned_of(overrides, told):
    """From turn to grind: the machines of both and the places of park between them."""
    line = load_line(cell(loaders={}), ["stations.grind.inspection.rework.to=turn", *overrides])
    warnings = capacity_sheet(line).warnings
    assert len(warnings) == (told is not None)
    assert told is None or f"the rework loop from turn to grind {told}" in warnings[0]


def test_parts_scrapped_after_a_stop_are_lost_cycles() -> None:
    """2 of 20 parts of each tool."""
    tip = "stations.turn.tool_change.tip={every: 20 parts, takes: 0 s, start_up_scrap: 2 parts}"
    assert stages(load_line(cell(), [tip]))[0].lost_share == pytest.approx(0.1)


def test_a_cold_start_takes_its_share_of_planned_time() -> None:
    """Mon to fri 6:00 to 14:00, 40 h; once a weekend 20 min, 10 min until the setter is there, 3 lost parts of 60 s."""
    start = {"after": "24 h", "takes": "20 min", "crew": "setter", "scrap": "3 parts"}
    shifts = {"day": {"days": "mon to fri", "from": "6:00", "to": "14:00"}}
    crews = {"setter": {"response": "10 min"}}
    turn = {"cycle": "60 s", "cold_start": start}
    given = {"stations": cell()["stations"] | {"turn": turn}, "loaders": {}, "shifts": shifts, "crews": crews}
    assert stage(source=cell(**given)).capacity_per_h == pytest.approx(60 * (1 - 33 / 2400))
    turn["cold_start"] = start | {"after": "16 h"}
    assert stage(source=cell(**given)).capacity_per_h == pytest.approx(60 * (1 - 5 * 33 / 2400))
