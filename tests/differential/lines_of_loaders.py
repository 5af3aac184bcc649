"""Tiny lines, each with one feature of loaders: grippers, call rules, tours, handling, meeting places, breakdowns."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, loader, robot_cell, serial, shift

_TOURS = (What.TOUR, What.LEG, CarriageState.HANDLING)


def _cell(loaders_keys: Plain | None = None, **parts: Any) -> Plain:
    """Turn, park, mill, gauge, one loader for all."""
    stations = {"turn": 9, "mill": 7, "gauge": 4, **parts.pop("stations", {})}
    line = serial(stations, [2, 0], **parts)
    stops = {place: 2 * number for number, place in enumerate(line["route"])}
    return {**line, "loaders": {"gantry": loader(stops, 1, **(loaders_keys or {}))}}


RULES: dict[str, Any] = {
    "downstream_first": "downstream_first",
    "longest_waiting": "longest_waiting",
    "nearest": "nearest",
    "priority": ["mill", "stocker", "gauge", "turn", "park_1"],
    "fixed": {"fixed": ["gauge", "mill", "park_1", "turn", "stocker"]},
}

RULES_AND_GRIPPERS: dict[str, Case] = {
    f"rule_{rule}_{grippers}_grippers": Case(_cell({"next_call": given, "grippers": grippers}), _TOURS)
    for rule, given in RULES.items()
    for grippers in (1, 2)
} | {
    f"rule_{rule}_2_exchanges_a_tour": Case(_cell({"next_call": given, "grippers": 2, "exchanges_per_tour": 2}), _TOURS)
    for rule, given in RULES.items()
}


def _meeting(grippers: int, dwell: str) -> Plain:
    """Two loaders meet at one buffer, a third goes on behind a conveyor."""
    line = serial({"turn": 6, "mill": 5, "grind": 6, "gauge": 3})
    route = ["stocker", "turn", "bridge", "mill", "belt", "grind", "gauge", "tray"]
    buffers = {"bridge": {"capacity": 2, "dwell": dwell}, "belt": {"capacity": 2, "dwell": "5 s"}}
    carriers = {
        "first": loader({"stocker": 0, "turn": 3, "bridge": 6}, 1, grippers=grippers),
        "second": loader({"bridge": 0, "mill": 3, "belt": 5}, 1, grippers=grippers),
        "third": loader({"belt": 0, "grind": 2, "gauge": 4, "tray": 6}, 1, grippers=grippers),
    }
    return {**line, "route": route, "buffers": buffers, "loaders": carriers}


def _passing(capacity: int, dwell: str = "0 s", grippers: int = 1) -> Plain:
    line = serial({"turn": 8, "mill": 3}, [capacity], buffers={"park_1": {"capacity": capacity, "dwell": dwell}})
    stops = {"stocker": 0, "turn": 2, "park_1": 4, "mill": 6, "tray": 8}
    return {**line, "loaders": {"gantry": loader(stops, 1, grippers=grippers)}}


_OWN_TIMES = {"at": 4, "pick": "3 s", "place": "2 s", "load": "4 s", "unload": "5 s", "exchange": "6 s"}
_PARALLEL = {"turn": {"machines": 2, "cycle": "12 s"}, "mill": {"machines": 2, "cycle": "10 s"}}
_PARALLEL_STOPS = {"stocker": 0, "turn": [2, 4], "park_1": 6, "mill": [8, 10], "gauge": 12, "tray": 14}


def _parallel(**keys: Any) -> Plain:
    return {**_cell(stations=_PARALLEL), "loaders": {"gantry": loader(_PARALLEL_STOPS, 1, **keys)}}


def _failing_loader(cause: Plain, **keys: Any) -> Plain:
    return _cell({"breakdowns": {"trip": cause}, **keys})


def _calling_ahead(given: Plain | None = None, **keys: Any) -> Plain:
    """The mill calls its loader 25 s ahead."""
    return _cell(keys, stations={"mill": {"cycle": "30 s", "call_ahead": "25 s", **(given or {})}})


def _zone(loader_keys: Plain | None = None, **keys: Any) -> Plain:
    """Two zones of one loader, the second one open for a random time."""
    drawer = {"every": "19 s", "takes": "6 s", "age": "3 s", **keys}
    aisle = {"every": "31 s", "takes": {"family": "uniform", "low": "1 s", "high": "9 s"}}
    return _cell({"zone": {"drawer": drawer, "aisle": aisle}, **(loader_keys or {})})


_CALLS = {"call_ahead": "6 s"}


def _carriages(left: Plain | None = None, right: Plain | None = None, **keys: Any) -> Plain:
    """Two carriages that meet at the park; each has stops among the other's, so that they often stand in the way."""
    stops = {"stocker": 0, "turn": 5, "park_1": 4, "mill": 7, "gauge": 3, "tray": 9}
    carriages = {
        "left": {"stops": ["stocker", "turn", "park_1"], **(left or {})},
        "right": {"stops": ["mill", "park_1", "gauge", "tray"], **(right or {})},
    }
    gantry = loader(stops, 1, carriages=carriages, apart="1.5 m", **keys)
    return {**_cell(stations={"turn": {"cycle": "9 s", **_CALLS}}), "loaders": {"gantry": gantry}}


_WAY = (What.GIVE_WAY, CarriageState.WAITING_FOR_WAY)
_AHEAD = (What.CALL, CarriageState.WAITING_AT_MACHINE)

LOADERS: dict[str, Case] = {
    "zone": Case(_zone(), (What.STOP, CarriageState.ZONE_OPEN)),
    "zone_by_working_clock_of_a_crew": Case(
        _zone(clock="working", crew="operator", takes={"family": "exponential", "mean": "4 s"})
        | {"crews": {"operator": {"response": "2 s"}}},
        (What.CREW, CarriageState.ZONE_OPEN),
    ),
    "zone_of_a_loader_that_breaks_down": Case(
        _zone({"breakdowns": {"trip": breakdown(23, 6, clock="calendar", crew="operator")}}, crew="operator")
        | {"crews": {"operator": {"response": "2 s"}}},
        (What.FAIL, CarriageState.ZONE_OPEN),
    ),
    "carriages": Case(_carriages(), _WAY),
    "carriages_with_two_grippers": Case(_carriages(grippers=2, exchanges_per_tour=2), _WAY),
    "carriages_of_different_kinds": Case(
        _carriages({"park_at": "stocker"}, {"grippers": 2, "next_call": "nearest", "speed": "2 m/s"}), _WAY
    ),
    "a_carriage_on_a_fixed_round": Case(
        _carriages(right={"next_call": {"fixed": ["gauge", "mill", "park_1"]}}), _WAY
    ),
    "carriages_that_break_down": Case(
        _carriages(breakdowns={"trip": breakdown(23, 6, clock="calendar")}), (*_WAY, What.FAIL)
    ),
    "a_zone_of_a_carriage": Case(
        _carriages({"zone": {"drawer": {"every": "19 s", "takes": "6 s", "age": "3 s"}}}),
        (*_WAY, CarriageState.ZONE_OPEN),
    ),
    "carriages_in_shifts": Case(
        {**_carriages(), "shifts": {"early": shift("0:00", "0:03", "mon", rest=("0:01", "40 s")),
                                    "late": shift("0:04", "0:07", "mon")}},
        (*_WAY, CarriageState.OFF_SHIFT),
    ),
    "a_stop_that_holds_the_loader": Case(
        _cell(stations={"mill": {"cycle": "7 s", "measuring": {
            "master": {"every": "23 s", "takes": "8 s", "age": "0 s", "holds": "loader"}}}}),
        (What.STOP, MachineState.MEASURING_STOP, MachineState.WAITING_SETTER),
    ),
    "stops_of_two_stations_that_hold_a_loader_which_breaks_down": Case(
        _cell({"breakdowns": {"trip": breakdown(23, 6, clock="calendar")}, "grippers": 2}, stations={
            "mill": {"cycle": "7 s", "machines": 1, "tool_change": {
                "tip": {"every": "2 parts", "takes": {"family": "exponential", "mean": "4 s"}, "holds": "loader"}}},
            "turn": {"cycle": "9 s", "cleaning": {
                "chips": {"every": "17 s", "takes": "3 s", "holds": "loader", "crew": "operator"}}},
        }) | {"crews": {"operator": {"response": "2 s"}}},
        (What.STOP, What.CREW, What.FAIL),
    ),
    "call_ahead_one_gripper": Case(_calling_ahead(), _AHEAD),
    "call_ahead_two_grippers": Case(_calling_ahead(grippers=2), _AHEAD),
    "call_ahead_of_a_random_cycle": Case(
        _calling_ahead({"cycle": {"family": "uniform", "low": "4 s", "high": "40 s"}}, grippers=2), _AHEAD
    ),
    "call_ahead_of_a_part_that_is_rejected": Case(
        _calling_ahead({"inspection": {"false_alarms": "50 %"}}, grippers=2), (*_AHEAD, What.SCRAP)
    ),
    "call_ahead_of_a_part_that_is_scrapped": Case(
        _calling_ahead({"breakdowns": {"jam": breakdown(52, 9, part="scrap")}}), (*_AHEAD, What.SCRAP)
    ),
    "call_ahead_of_work_that_begins_again": Case(
        _calling_ahead({"breakdowns": {"jam": breakdown(31, 9, part="restart")}}), (*_AHEAD, What.FAIL)
    ),
    "call_ahead_before_a_stop": Case(
        _calling_ahead({"cleaning": {"chips": {"every": "40 s", "takes": "9 s"}},
                        "tool_change": {"tip": {"every": "3 parts", "takes": "4 s"}}}),
        (*_AHEAD, What.STOP),
    ),
    "robot_cell": Case(robot_cell([9, 7, 5], 1, 2), _TOURS),
    "robot_cell_fixed_with_waiting": Case(
        robot_cell([19, 3, 25], 1, 2, next_call={"fixed": ["m3", "m2", "m1", "stocker"]}),
        (*_TOURS, CarriageState.WAITING_AT_MACHINE),
    ),
    "everything_at_one_point": Case(robot_cell([4, 4, 4], 1, 0, grippers=2), (What.TOUR,)),
    "handling_of_no_time": Case(robot_cell([5, 5, 5], 0, 2), (What.TOUR,)),
    "neither_way_nor_handling_takes_time": Case(robot_cell([5, 5, 5], 0, 0, grippers=2), (What.TOUR,)),
    "park_at": Case(_cell({"park_at": "turn"}, stations={"turn": 40}), (*_TOURS, CarriageState.MOVING_EMPTY)),
    "times_of_a_stop": Case(
        serial({"turn": 8, "mill": 6})
        | {"loaders": {"gantry": loader({"stocker": 0, "turn": 2, "mill": _OWN_TIMES, "tray": 6}, 1, grippers=2)}},
        _TOURS,
    ),
    "load_and_unload_default_to_exchange": Case(
        serial({"turn": 8, "mill": 6})
        | {"loaders": {"gantry": {
            "stops": {"stocker": "0 m", "turn": "2 m", "mill": "4 m", "tray": "6 m"}, "speed": "2 m/s",
            "acceleration": "3 m/s2", "pick": "1 s", "place": "1 s", "exchange": "3 s"}}},
        _TOURS,
    ),
    "pass_over_an_empty_buffer": Case(_passing(2), _TOURS),
    "pass_over_with_two_grippers": Case(_passing(2, grippers=2), _TOURS),
    "no_pass_over_where_parts_must_stay": Case(_passing(2, "4 s", 2), _TOURS),
    "loaders_meet_at_a_buffer": Case(_meeting(1, "0 s"), _TOURS),
    "loaders_with_two_grippers_meet_at_a_buffer_with_dwell": Case(_meeting(2, "6 s"), _TOURS),
    "a_loader_serves_a_part_of_the_line": Case(
        serial({"turn": 6, "mill": 5, "grind": 4}, [1, 0])
        | {"loaders": {"gantry": loader({"park_1": 0, "mill": 3}, 1)}},
        _TOURS,
    ),
    "loader_without_infeed_or_outfeed": Case(
        serial({"turn": 6, "mill": 5}, [1], infeed={}, outfeed={}, route=["turn", "park_1", "mill"])
        | {"loaders": {"gantry": loader({"turn": 0, "park_1": 2, "mill": 4}, 1)}},
        _TOURS,
    ),
    "parallel_machines_one_gripper": Case(_parallel(), _TOURS),
    "parallel_machines_two_grippers": Case(_parallel(grippers=2, next_call="longest_waiting"), _TOURS),
    "loader_before_service": Case(
        _cell(stations={"turn": {"cycle": "3 s", "blocking": "before_service"}, "mill": 70}), (MachineState.BLOCKED,)
    ),
    "loader_breakdown_working": Case(_failing_loader(breakdown(17, 6)), (What.FAIL, CarriageState.UNDER_REPAIR)),
    "loader_breakdown_calendar": Case(
        _failing_loader(breakdown(17, 6, clock="calendar"), grippers=2), (What.FAIL, CarriageState.UNDER_REPAIR)
    ),
    "loader_breakdown_by_crew": Case(
        _failing_loader(breakdown(20, 5, crew="technician")) | {"crews": {"technician": {"response": "3 s"}}},
        (What.CREW, CarriageState.WAITING_REPAIR),
    ),
    "loader_breakdown_while_it_parks": Case(
        _cell({"breakdowns": {"trip": breakdown(3, 2)}, "park_at": "tray"}, stations={"turn": 30}), (What.FAIL,)
    ),
    "target_breaks_down_under_way": Case(
        _cell(stations={"mill": {"cycle": "7 s", "breakdowns": {"jam": breakdown(11, 9, clock="calendar")}}}),
        (What.FAIL, CarriageState.WAITING_AT_MACHINE),
    ),
    "stop_holds_the_loader_off": Case(
        _cell(stations={"mill": {"cycle": "5 s", "cleaning": {
            "chips": {"every": "16 s", "takes": "9 s", "age": "0 s"}}}}),
        (What.STOP, CarriageState.WAITING_AT_MACHINE),
    ),
    "stop_overlaps_loading": Case(
        _cell(stations={"mill": {"cycle": "5 s", "dressing": {
            "wheel": {"every": "2 parts", "takes": "9 s", "overlaps": "loading"}}}}),
        (What.STOP,),
    ),
    "scrapped_part_cuts_a_tour_short": Case(
        _cell({"grippers": 2}, stations={"mill": {"cycle": "7 s", "breakdowns": {
            "jam": breakdown(8, 5, clock="calendar", part="scrap")}}}),
        (What.SCRAP,),
    ),
    "a_round_that_waits_for_ever": Case(
        _cell({"next_call": {"fixed": ["stocker", "turn", "stocker", "stocker", "mill"]}}), comes_to_a_stand=True
    ),
}  # fmt: skip
