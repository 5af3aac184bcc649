"""Loaders must reach what they serve, alone, with the times they need."""

from linesim.line import load_line
from tests.unit.line.lines import cell, problems, two_carriages


def found(source, *overrides):
    return {problem.key: problem for problem in problems(source, *overrides)}


def second_loader(*stops):
    gantry = cell()["loaders"]["gantry"]
    return {"gantry": gantry, "crane": {**gantry, "stops": {stop: f"{at} m" for at, stop in enumerate(stops)}}}


def test_neighbours_that_two_loaders_serve_are_ambiguous():
    problem = found(cell(loaders=second_loader("park", "grind")))["loaders.crane.stops.grind"]
    assert "gantry and crane serve both" in problem.rule


def test_two_loaders_may_meet_at_a_buffer():
    loaders = second_loader("park", "grind", "tray")
    loaders["gantry"] = {**loaders["gantry"], "stops": {"blanks": "0 m", "turn": "2 m", "park": "4 m"}}
    assert found(cell(loaders=loaders)) == {}


def test_a_stop_whose_neighbours_the_loader_never_reaches_is_told():
    problems_found = found(
        cell(loaders={"gantry": {**cell()["loaders"]["gantry"], "stops": {"turn": "2 m", "grind": "6 m"}}})
    )
    assert list(problems_found) == ["loaders.gantry.stops.turn", "loaders.gantry.stops.grind"]
    assert "never serves turn" in problems_found["loaders.gantry.stops.turn"].rule


def test_a_buffer_without_places_makes_its_neighbours_neighbours():
    stops = {"turn": "2 m", "grind": "6 m"}
    loaders = {"gantry": {**cell()["loaders"]["gantry"], "stops": stops}}
    assert found(cell(loaders=loaders), "buffers.park.capacity=0") == {}
    assert found(cell(), "buffers.park.capacity=0") == {}, "the stop at the buffer is left in the file"


def test_a_station_has_a_position_for_each_machine():
    problem = found(cell(), "stations.turn.machines=2")["loaders.gantry.stops.turn"]
    assert problem.rule == "has 1 position for 2 machines"
    assert problem.value == ["2 m"]


def test_only_stations_have_several_positions():
    problem = found(cell(), "loaders.gantry.stops.park=[4 m, 5 m]")["loaders.gantry.stops.park"]
    assert "only a station has several" in problem.rule


def test_a_loader_at_machines_needs_an_exchange_time():
    problem = found(cell(), "loaders.gantry.exchange=null")["loaders.gantry.exchange"]
    assert "gantry serves the machines of turn and grind" in problem.rule
    own = [f"loaders.gantry.stops.{place}={{at: 2 m, exchange: 8 s}}" for place in ("turn", "grind")]
    assert found(cell(), "loaders.gantry.exchange=null", *own) == {}


def test_one_gripper_can_do_with_load_and_unload():
    one = ["loaders.gantry.exchange=null", "loaders.gantry.grippers=1"]
    assert found(cell(), *one) == {}
    assert list(found(cell(), *one, "loaders.gantry.load=null")) == ["loaders.gantry.exchange"]


def test_a_loader_between_buffers_needs_no_exchange():
    times = {"speed": "1 m/s", "acceleration": "1 m/s2", "pick": "3 s", "place": "3 s"}
    loaders = {"shuttle": {"stops": {"blanks": "0 m", "park": "3 m"}, **times}}
    source = cell(route=["blanks", "park", "turn", "grind", "tray"], loaders=loaders)
    assert found(source) == {}


def test_one_gripper_can_not_exchange_several_times():
    assert list(found(cell(), "loaders.gantry.grippers=1", "loaders.gantry.exchanges_per_tour=2")) == [
        "loaders.gantry.exchanges_per_tour"
    ]


def test_a_fixed_round_and_rework_exclude_each_other():
    overrides = ["stations.grind.inspection.rework.to=turn", "loaders.gantry.next_call={fixed: [grind, turn, blanks]}"]
    assert list(found(cell(), *overrides)) == ["loaders.gantry.next_call"]


def test_a_breakdown_of_a_loader_can_neither_scrap_nor_restart_a_part():
    jam = "loaders.gantry.breakdowns.jam={mtbf: 9 h, mttr: 3 min, part: %s}"
    assert found(cell(), jam % "resume") == {}
    for fate in ("scrap", "restart"):
        problem = found(cell(), jam % fate)["loaders.gantry.breakdowns.jam.part"]
        assert (problem.value, problem.fix) == (fate, "remove it; only machines restart or scrap a part")


def calling_ahead(**turn):
    stations = cell()["stations"]
    return cell(stations={**stations, "turn": {**stations["turn"], "call_ahead": "8 s", **turn}})


def test_a_station_that_a_loader_unloads_may_call_ahead():
    assert found(calling_ahead()) == {}


def test_a_call_ahead_that_no_loader_hears_is_refused():
    stops = {"blanks": "0 m", "turn": "2 m"}
    loaders = {"gantry": {**cell()["loaders"]["gantry"], "stops": stops}}
    problem = found({**calling_ahead(), "loaders": loaders})["stations.turn.call_ahead"]
    assert (problem.value, problem.rule) == ("8 s", "no loader takes parts away from turn")


def test_a_call_ahead_to_a_fixed_round_is_refused():
    line = calling_ahead()
    line["loaders"]["gantry"] = {
        **line["loaders"]["gantry"],
        "next_call": {"fixed": ["grind", "park", "turn", "blanks"]},
    }
    problem = found(line)["stations.turn.call_ahead"]
    assert "gantry makes a fixed round" in problem.rule


def test_a_call_ahead_of_a_part_that_may_go_back_is_refused():
    line = calling_ahead()
    line["stations"]["grind"] = {**line["stations"]["grind"], "call_ahead": "4 s"}
    line["stations"]["grind"]["inspection"] = {"rework": {"to": "turn"}}
    problem = found(line)["stations.grind.call_ahead"]
    assert "nobody knows ahead where its part will go" in problem.rule


def with_zone(**zone):
    gantry = cell()["loaders"]["gantry"]
    return cell(loaders={"gantry": {**gantry, "zone": {"drawer": {"every": "2 h", "takes": "3 min", **zone}}}})


def test_a_zone_is_opened_every_so_often_and_never_by_parts():
    assert found(with_zone()) == {}
    assert "must be a time" in found(with_zone(every="50 parts"))["loaders.gantry.zone.drawer.every"].rule


def test_the_age_of_a_zone_stays_below_its_time():
    assert "below every (7200 s)" in found(with_zone(age="2 h"))["loaders.gantry.zone.drawer.age"].rule


def test_who_opens_a_zone_must_be_a_crew_of_the_line():
    assert "is no crew" in found(with_zone(crew="operator"))["loaders.gantry.zone.drawer.crew"].rule


def test_two_carriages_may_share_a_rail():
    assert found(two_carriages()) == {}


def test_carriages_need_a_least_distance():
    problem = found(two_carriages(), "loaders.gantry.apart=null")["loaders.gantry.apart"]
    assert problem.rule == "is missing: the least distance between two carriages"


def test_a_least_distance_needs_carriages():
    problem = found(two_carriages(), "loaders.gantry.carriages=null")["loaders.gantry.apart"]
    assert (problem.value, problem.rule) == ("1 m", "has a meaning only between carriages")


def test_carriages_begin_in_their_order_on_the_rail():
    problem = found(two_carriages(), "loaders.gantry.apart=5 m")["loaders.gantry.carriages.right.stops"]
    assert problem.rule == (
        "begins at 4 m, left at 0 m: carriages stand in file order along the rail, right at least 5 m further than left"
    )


def test_a_zone_belongs_to_one_of_the_carriages():
    opening = "{every: 2 h, takes: 3 min}"
    problem = found(two_carriages(), f"loaders.gantry.zone.drawer={opening}")["loaders.gantry.zone.drawer"]
    assert problem.rule == "which carriage stands still while it is open?"
    assert found(two_carriages(), f"loaders.gantry.carriages.left.zone.drawer={opening}") == {}


def test_what_is_wrong_in_the_zone_of_a_carriage_is_told_there():
    opening = "{every: 2 h, takes: 3 min, age: 3 h}"
    assert list(found(two_carriages(), f"loaders.gantry.carriages.left.zone.drawer={opening}")) == [
        "loaders.gantry.carriages.left.zone.drawer.age"
    ]


def test_every_stop_of_a_loader_is_a_stop_of_a_carriage():
    problem = found(two_carriages(), "loaders.gantry.carriages.right.stops=[park, grind]")
    assert problem["loaders.gantry.stops.tray"].rule == "no carriage of gantry has tray among its stops"


def test_two_carriages_that_both_serve_neighbours_are_ambiguous():
    problem = found(two_carriages(), "loaders.gantry.carriages.right.stops=[turn, park, grind, tray]")
    assert "gantry.left and gantry.right serve both" in problem["loaders.gantry.carriages.right.stops.park"].rule


def test_a_carriage_names_stops_of_its_loader():
    problem = found(two_carriages(), "loaders.gantry.carriages.right.stops=[park, grnd, tray]")
    assert problem["loaders.gantry.carriages.right.stops[1]"].rule == "grnd is no stop of this loader"
    assert problem["loaders.gantry.carriages.right.stops[1]"].suggestion == "grind"


def test_a_carriage_needs_its_stops():
    problem = found(two_carriages(), "loaders.gantry.carriages.right.stops=null")
    assert problem["loaders.gantry.carriages.right.stops"].rule == "must be a list of stops of this loader"


def test_there_are_two_carriages_or_more():
    problem = found(two_carriages(), "loaders.gantry.carriages.right=null")
    assert problem["loaders.gantry.carriages"].rule == "must be a map of two carriages or more"


def test_some_keys_are_the_same_for_all_carriages():
    problem = found(two_carriages(), "loaders.gantry.carriages.right.price=5 k")
    assert problem["loaders.gantry.carriages.right.price"].rule == "can't differ by carriage"


def test_a_carriage_has_what_its_loader_has_but_for_what_it_says_itself():
    line = load_line(two_carriages(grippers=1, park_at="turn"), overrides=["loaders.gantry.carriages.right.grippers=2"])
    left, right = line.loaders["gantry"].carriages.values()
    assert (left.grippers, right.grippers) == (1, 2)
    assert left.speed == right.speed == line.loaders["gantry"].speed
    assert (left.park_at, right.park_at) == ("turn", None)
    assert list(right.stops) == ["park", "grind", "tray"]


def test_a_fixed_round_of_a_carriage_can_not_keep_a_limit_of_parts_inside():
    line = [*["wip_limit=2", "loaders.gantry.carriages.left.next_call={fixed: [turn, blanks]}"]]
    assert list(found(two_carriages(), *line)) == ["wip_limit"]


def test_carriages_may_begin_exactly_as_far_apart_as_they_must_stay():
    """0.3 m - 0.2 m is less than 0.1 m in floating point."""
    at = ["loaders.gantry.stops.blanks=0.2 m", "loaders.gantry.stops.park=0.3 m", "loaders.gantry.apart=0.1 m"]
    assert found(two_carriages(), *at) == {}
