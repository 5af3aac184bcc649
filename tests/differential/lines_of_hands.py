"""Tiny lines on which people load machines by hand; whole seconds, so that much coincides."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, exponential, loader, seconds, serial, shift

_TIMES = {"load": "3 s", "unload": "2 s", "exchange": "4 s"}
_SHOWN = (What.CALL_HANDS, What.TOUR, MachineState.WAITING_OPERATOR, MachineState.LOADING, CarriageState.HANDLING)


def _by_hand(cycle_s: float, crew: Any = "operator", **rest: Any) -> Plain:
    keys = {key: rest.pop(key) for key in ("people", "priority", *_TIMES) if key in rest}
    return {"cycle": seconds(cycle_s), "by_hand": {"crew": crew, **_TIMES, **keys}, **rest}


def _row(a: Plain, b: Plain, operator: Plain | None = None, places: int = 1, **rest: Any) -> Plain:
    crews = {"operator": operator or {}, **rest.pop("crews", {})}
    return serial({"turn": 6, "a": a, "b": b}, [places, 0], crews=crews, **rest)


_JAM = {"jam": breakdown(17, 5, clock="calendar", crew="operator")}
_UNDER_A_LOADER = serial({"turn": 6, "mill": 5, "gauge": _by_hand(4)}, [1, 1], crews={"operator": {}}) | {
    "loaders": {"gantry": loader({"stocker": 0, "turn": 2, "park_1": 3, "mill": 4, "park_2": 6}, grippers=2)}
}

HANDS: dict[str, Case] = {
    "by_hand_from_machine_to_machine": Case(_row(_by_hand(6), _by_hand(5)), _SHOWN),
    "by_hand_with_a_response": Case(
        _row(_by_hand(6), _by_hand(5), {"response": "2 s"}), (*_SHOWN, CarriageState.MOVING_EMPTY)
    ),
    "by_hand_of_random_times": Case(
        _row(
            _by_hand(6, exchange=exponential(4), load=exponential(3), unload=exponential(2)),
            _by_hand(5, exchange=exponential(3)),
            {"response": exponential(2)},
        ),
        _SHOWN,
    ),
    "by_hand_beside_repairs": Case(
        _row(_by_hand(6, breakdowns=_JAM), _by_hand(5, breakdowns=_JAM)), (*_SHOWN, MachineState.WAITING_REPAIR)
    ),
    "by_hand_at_several_machines_by_several_people": Case(
        serial({"turn": 3, "mill": _by_hand(11, machines=3)}, [3], crews={"operator": {"people": 2}}), _SHOWN
    ),
    "by_hand_by_one_of_two_crews_with_priority": Case(
        _row(
            _by_hand(6, ["operator", "setter"], priority="low"),
            _by_hand(5, ["operator", "setter"], priority="low", breakdowns=_JAM),
            crews={"setter": {"response": "1 s"}},
        ),
        _SHOWN,
    ),
    "by_hand_by_two_people_at_once": Case(
        _row(_by_hand(6, people=2), _by_hand(5, people=2, breakdowns=_JAM), {"people": 2}), _SHOWN
    ),
    "by_hand_by_different_people": Case(
        serial(
            {"a": _by_hand(6), "b": _by_hand(5, "setter", priority="high")},
            [1],
            crews={"operator": {}, "setter": {"response": "1 s"}},
        ),
        _SHOWN,
    ),
    "by_hand_behind_a_loader": Case(_UNDER_A_LOADER, (*_SHOWN, MachineState.WAITING_LOADER)),
    "by_hand_before_service": Case(_row(_by_hand(6, blocking="before_service"), _by_hand(5)), _SHOWN),
    "by_hand_with_rework": Case(
        _row(_by_hand(6, defects={"burr": "40 %"}), _by_hand(5, inspection={"rework": {"to": "park_1"}}), places=2),
        (*_SHOWN, What.REWORK),
    ),
    "by_hand_with_breaks": Case(
        _row(
            _by_hand(6, through_breaks=True),
            _by_hand(5),
            shifts={"day": shift("0:00", "0:04", rest=("0:01", "25 s"))},
            planned_stops={"service": {"days": "mon", "at": "0:02", "takes": "20 s"}},
        ),
        (*_SHOWN, What.DUTY, CarriageState.OFF_SHIFT),
    ),
    "by_hand_between_limited_ends": Case(
        _row(
            _by_hand(6),
            _by_hand(5),
            infeed={"stocker": {"capacity": 4, "refill": {"at": "0 parts", "takes": "5 s", "crew": "operator"}}},
            outfeed={"tray": {"capacity": 3, "emptied": {"at": "3 parts", "takes": "6 s", "crew": "operator"}}},
            wip_limit=3,
        ),
        (*_SHOWN, What.STOCK_CALL),
    ),
}
