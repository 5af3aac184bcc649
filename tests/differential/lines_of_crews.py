"""Tiny lines on which people of several crews, several of them at once or by priority are called; whole seconds."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, loader, seconds, serial


def _calling(crews: Plain, *calls: Plain, **rest: object) -> Plain:
    """Stations a, b, c that fail now and then on the calendar; each call says who comes."""
    stations = {
        name: {"cycle": seconds(cycle), "breakdowns": {"jam": breakdown(mtbf, 6, clock="calendar", **called)}}
        for (name, cycle, mtbf), called in zip((("a", 5, 13), ("b", 4, 11), ("c", 5, 17)), calls, strict=True)
    }
    return serial(stations, [2, 1], crews=crews, **rest)


_EITHER = {"crew": ["operator", "technician"]}
_SHOWN = (What.CREW, MachineState.WAITING_REPAIR)

CREWS: dict[str, Case] = {
    "one_of_several_crews": Case(
        _calling({"technician": {"response": "2 s"}, "operator": {}}, _EITHER, _EITHER, {"crew": "technician"}), _SHOWN
    ),
    "one_of_several_crews_at_once": Case(
        _calling({"technician": {}, "operator": {}}, _EITHER, _EITHER, _EITHER), _SHOWN
    ),
    "two_people_at_once": Case(
        _calling({"fitter": {"people": 2, "response": "1 s"}}, *({"crew": "fitter", "people": n} for n in (1, 2, 1))),
        _SHOWN,
    ),
    "two_people_of_either_crew": Case(
        _calling(
            {"fitter": {"people": 2}, "helper": {"people": 2}},
            {"crew": "fitter"},
            {"crew": ["fitter", "helper"], "people": 2},
            {"crew": "helper"},
        ),
        _SHOWN,
    ),
    "calls_of_three_priorities": Case(
        _calling({"fitter": {}}, *({"crew": "fitter", "priority": word} for word in ("low", "normal", "high"))), _SHOWN
    ),
    "all_calls_of_a_line_at_two_crews": Case(
        _calling(
            {"fitter": {"people": 2}, "helper": {"response": "3 s", "people": 2}},
            {"crew": ["helper", "fitter"], "priority": "high"},
            {"crew": "fitter", "people": 2},
            {"crew": ["fitter", "helper"]},
            loaders={
                "gantry": loader(
                    {"stocker": 0, "a": 2, "park_1": 3},
                    zone={
                        "drawer": {
                            "every": "19 s",
                            "takes": "4 s",
                            "age": "5 s",
                            "crew": ["fitter", "helper"],
                            "people": 2,
                            "priority": "low",
                        }
                    },
                )
            },
            infeed={
                "stocker": {
                    "capacity": 4,
                    "refill": {
                        "at": "1 parts",
                        "takes": "3 s",
                        "crew": ["helper", "fitter"],
                        "people": 2,
                        "priority": "high",
                    },
                }
            },
        ),
        (What.CREW, What.STOP, What.STOCK_CALL),
    ),
    "a_stop_and_a_breakage_for_one_of_several_crews": Case(
        serial(
            {
                "a": {
                    "cycle": "4 s",
                    "tool_change": {
                        "insert": {
                            "every": "5 parts",
                            "takes": "3 s",
                            "life": "4 parts",
                            "crew": ["helper", "fitter"],
                            "people": 2,
                            "priority": "low",
                            "breakage": {"takes": "6 s", "crew": ["fitter", "helper"]},
                        }
                    },
                    "breakdowns": {"jam": breakdown(9, 6, crew="helper", priority="high")},
                }
            },
            crews={"fitter": {"people": 2}, "helper": {"people": 2}},
        ),
        (What.CREW, What.STOP, MachineState.TOOL_CHANGE),
    ),
}
