"""Loaders must reach what they serve, alone, with the times they need."""

from tests.unit.line.lines import cell, problems


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
