"""Tiny lines, each with one feature of quality: defects, inspection, scrap, rework; one for each law of durations."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, loader, serial


def _inspected(gauge: Plain, turned_bad: Plain, places: list[int], **mill: object) -> Plain:
    turn = {"cycle": "4 s", "defects": turned_bad}
    return serial({"turn": turn, "mill": {"cycle": "5 s", **mill}, "gauge": {"cycle": "3 s", **gauge}}, places)


def _gauge(**inspection: object) -> Plain:
    return {"inspection": {"catches": "100 %", **inspection}}


_BAD = {"size": "40 %"}
_STROKES = {"number": {0: "30 %", 1: "30 %", 3: "40 %"}, "takes": "2 s", "at_most": 2, "defect": "bent"}
_BACK_TO_MILL = _gauge(rework={"to": "mill", "at_most": 2})
_BY_LOADER = {"gantry": loader({"stocker": 0, "turn": 2, "park_1": 3, "mill": 4, "gauge": 6, "tray": 8})}
_BORE = {"tolerance": "4 um", "spread": "1 um", "offset": "0.5 um"}
_WEARS = {"tolerance": {"low": "-2 um", "high": "3 um"}, "spread": "0.8 um", "drift": "0.6 um/part"}
_TIP = {"tip": {"every": "4 parts", "takes": "3 s"}}

_ASIDE = (What.SET_ASIDE, What.SCRAP, What.TOUR)
_DRAWN = (What.SET_ASIDE, What.SKIPPED, What.STOCK, CarriageState.ZONE_OPEN)


def _to_chutes(mill: Plain | None = None, **keys: Any) -> Plain:
    """Mill and gauge reject a share of the parts and bring them to a chute each; the mill also spoils some in work."""
    jam = {"breakdowns": {"jam": breakdown(21, 4, part="scrap")}}
    gauge = {**_gauge(false_alarms="20 %"), "chute": "chute_2"}
    own = {"chute": "chute_1", **_gauge(false_alarms="30 %"), **jam, **(mill or {})}
    stops = {"stocker": 0, "turn": 2, "park_1": 3, "mill": 4, "chute_1": 5, "gauge": 6, "tray": 8, "chute_2": 9}
    return {**_inspected(gauge, _BAD, [1, 0], **own), "loaders": {"gantry": loader(stops, **keys)}}


def _to_drawers(emptied: Plain, mill: Plain | None = None, **keys: Any) -> Plain:
    """Mill and gauge put samples into one drawer of two places; the gauge's rejects go at once."""
    own = {"samples": {"to": "drawer", "every": "2 parts"}, "machines": 2, **(mill or {})}
    gauge = {**_gauge(), "samples": {"to": "drawer", "every": "11 s"}}
    stops = {"stocker": 0, "turn": 2, "park_1": 3, "mill": [4, 5], "drawer": 6, "gauge": 7, "tray": 8}
    line = {**_inspected(gauge, _BAD, [1, 1], **own), "loaders": {"gantry": loader(_between(stops), **keys)}}
    crews = {"operator": {"response": "9 s"}} if "crew" in emptied else {}
    return {**line, "drawers": {"drawer": {"capacity": 2, "emptied": emptied}}, "crews": crews}


def _between(stops: Plain) -> Plain:
    return {**stops, "park_2": 5.5}


QUALITY: dict[str, Case] = {
    "scrap": Case(_inspected(_gauge(), _BAD, [1, 1]), (What.SCRAP,)),
    "scrap_of_all": Case(_inspected(_gauge(), {"size": "100 %"}, [0, 0]), (What.SCRAP,)),
    "some_bad_parts_escape": Case(_inspected(_gauge(catches="50 %"), _BAD, [1, 1]), (What.SCRAP,)),
    "false_alarms": Case(_inspected(_gauge(false_alarms="30 %"), {}, [1, 1]), (What.SCRAP,)),
    "false_alarms_are_reworked": Case(
        _inspected(_gauge(false_alarms="30 %", rework={"to": "mill", "at_most": 1}), {}, [2, 1]), (What.REWORK,)
    ),
    "several_defects": Case(
        _inspected(_gauge(), {"size": "20 %", "surface": "30 %", "dent": "1000 ppm"}, [1, 1], defects={"burr": "9 %"}),
        (What.SCRAP,),
    ),
    "a_station_inspects_its_own_defects": Case(
        serial({"turn": {"cycle": "4 s", "defects": _BAD} | _gauge(), "mill": 4}, [1]), (What.SCRAP,)
    ),
    "strokes": Case(
        serial({"turn": 3, "straighten": {"cycle": "2 s", "strokes": _STROKES}, "mill": 4}, [1, 1]),
        (What.STROKES, What.SCRAP),
    ),
    "strokes_of_random_length_on_machines_that_fail": Case(
        serial(
            {
                "turn": {"cycle": "4 s", "defects": _BAD},
                "straighten": {
                    "cycle": "2 s",
                    "machines": 2,
                    "strokes": _STROKES | {"takes": {"family": "exponential", "mean": "2 s"}},
                    "breakdowns": {"jam": breakdown(20, 6, part="restart"), "hard": breakdown(50, 9, part="scrap")},
                    **_gauge(),
                },
            },
            [1],
        ),
        (What.STROKES, What.SCRAP, What.FAIL),
    ),
    "two_inspections": Case(
        serial({"turn": {"cycle": "4 s", "defects": _BAD},
                "check": {"cycle": "2 s"} | _gauge(catches="60 %"),
                "mill": {"cycle": "4 s", "defects": {"burr": "30 %"}},
                "gauge": {"cycle": "3 s"} | _gauge()}, [1, 0, 1]),
        (What.SCRAP,),
    ),
    "rework_handed_back_directly": Case(
        _inspected(_BACK_TO_MILL, _BAD, [1, 1], defects=_BAD), (What.REWORK, What.SCRAP)
    ),
    "rework_into_a_buffer": Case(
        _inspected(_gauge(rework={"to": "park_1", "at_most": 3}), _BAD, [2, 1], defects=_BAD), (What.REWORK,)
    ),
    "the_loop_limit_keeps_one_place_free": Case(
        _inspected(_gauge(rework={"to": "mill", "at_most": 9}), {}, [3, 0], defects={"size": "80 %"}),
        (What.REWORK, MachineState.BLOCKED),
    ),
    "rework_by_loader": Case(
        _inspected(_BACK_TO_MILL, _BAD, [1, 0], defects=_BAD) | {"loaders": _BY_LOADER}, (What.REWORK, What.TOUR)
    ),
    "rework_by_loader_into_a_buffer_with_two_grippers": Case(
        _inspected(_gauge(rework={"to": "park_1", "at_most": 2}), {}, [2, 0], defects=_BAD)
        | {"loaders": {"gantry": _BY_LOADER["gantry"] | {"grippers": 2}}},
        (What.REWORK, What.TOUR),
    ),
    "scrap_and_breakdowns_at_the_gauge": Case(
        _inspected(_gauge() | {"breakdowns": {"jam": breakdown(9, 4, part="scrap")}}, _BAD, [1, 1]),
        (What.SCRAP, What.FAIL),
    ),
    "scrap_goes_to_a_chute": Case(_to_chutes(), _ASIDE),
    "scrap_goes_to_a_chute_by_two_grippers": Case(_to_chutes(grippers=2, exchanges_per_tour=2), _ASIDE),
    "scrap_goes_to_a_chute_on_a_fixed_round": Case(
        _to_chutes(grippers=2, next_call={"fixed": ["gauge", "mill", "park_1", "turn", "stocker"]}), _ASIDE
    ),
    "scrap_of_parts_called_ahead_goes_to_a_chute": Case(
        _to_chutes({"call_ahead": "4 s", "blocking": "before_service"}, grippers=2), (*_ASIDE, What.CALL)
    ),
    "samples_go_to_a_drawer": Case(
        _to_drawers({"at": "2 parts", "takes": {"family": "uniform", "low": "2 s", "high": "9 s"}, "crew": "operator"}),
        (*_DRAWN, What.CREW),
    ),
    "samples_of_parts_called_ahead": Case(
        _to_drawers({"every": "35 s", "takes": "6 s"}, {"call_ahead": "4 s", "blocking": "before_service"}, grippers=2),
        (*_DRAWN, What.CALL),
    ),
    "samples_after_stops_and_pauses": Case(
        _to_drawers({"every": "35 s", "takes": "6 s"}, {"tool_change": _TIP,
                    "samples": {"to": "drawer", "after": ["tip"], "after_pause": "14 s"}}),
        (What.SET_ASIDE, What.STOCK),
    ),
    "samples_on_a_fixed_round": Case(
        _to_drawers({"at": "2 parts", "takes": "9 s", "crew": "operator"}, grippers=2, exchanges_per_tour=2,
                    next_call={"fixed": ["gauge", "park_2", "mill", "park_1", "turn", "stocker"]}), _DRAWN
    ),
    "sizes": Case(_inspected(_gauge(), {}, [1, 1], characteristics={"bore": _BORE}), (What.SIZE, What.SCRAP)),
    "sizes_without_spread": Case(
        _inspected(_gauge(), {}, [1, 1], characteristics={"bore": _WEARS | {"spread": "0 um"}}), (What.SIZE, What.SCRAP)
    ),
    "several_sizes_wear_and_are_renewed_on_several_machines": Case(
        _inspected(_gauge(), _BAD, [1, 1], machines=2, tool_change=_TIP, defects={"burr": "9 %"},
                   dressing={"wheel": {"every": "33 s", "takes": "2 s"}},
                   characteristics={"bore": _BORE | {"after": {"tip": "-1 um"}},
                                    "face": _WEARS | {"after": {"tip": "0 um", "wheel": "0.7 um"}}}),
        (What.SIZE, What.SCRAP, What.STOP_OVER),
    ),
    "gauges_with_an_error_of_their_own": Case(
        _inspected({"machines": 2} | _gauge(measures={"bore": {"grr": "30 %"}, "face": {}}, catches="50 %"),
                   _BAD, [1, 1], machines=2, tool_change=_TIP,
                   characteristics={"bore": _BORE, "face": _WEARS | {"after": {"tip": "0 um"}}}),
        (What.READ, What.SCRAP),
    ),
    "samples_of_parts_and_of_tools": Case(
        _inspected(_gauge(measures={"bore": {"grr": "30 %", "sample": {"every": "3 parts", "first_and_last": True}},
                                    "face": {"sample": {"every": "25 s", "after_pause": "6 s"}}}, catches="50 %"),
                   {}, [1, 1], machines=2, tool_change=_TIP,
                   characteristics={"bore": _BORE | {"after": {"tip": "1 um"}}, "face": _WEARS}),
        (What.READ, What.SCRAP),
    ),
    "a_gauge_corrects_the_machine_that_made_the_part": Case(
        _inspected(_gauge(measures={"bore": {"grr": "30 %", "feedback": {"gain": 0.3}},
                                    "face": {"feedback": {"gain": 0.7, "dead_band": "0.3 um", "average": "2 parts",
                                                          "only_new": True}, "sample": {"every": "2 parts"}}}),
                   {}, [1, 2], machines=2, tool_change=_TIP,
                   characteristics={"bore": _BORE | {"after": {"tip": "1 um"}}, "face": _WEARS}),
        (What.READ, What.CORRECT),
    ),
    "feedback_that_grows_without_end": Case(
        _inspected(_gauge(measures={"bore": {"feedback": {"gain": 9.5}}}), {}, [2, 2], characteristics={"bore": _BORE}),
        (What.CORRECT, What.SCRAP),
    ),
    "readings_send_parts_to_rework": Case(
        _inspected(_gauge(rework={"to": "mill", "at_most": 2}, measures={"bore": {"grr": "50 %"}}), {}, [1, 1],
                   characteristics={"bore": _BORE}),
        (What.READ, What.REWORK),
    ),
    "a_gauge_inside_the_machine_that_makes_the_size": Case(
        serial({"turn": {"cycle": "4 s", "characteristics": {"bore": _BORE}}
                        | _gauge(measures={"bore": {"grr": "30 %"}}), "mill": 4}, [1]), (What.READ, What.SCRAP)
    ),
    "the_first_parts_after_a_stop_are_scrapped": Case(
        _inspected(_gauge(measures={"bore": {}}), {}, [1, 1], machines=2, characteristics={"bore": _BORE},
                   tool_change={"tip": _TIP["tip"] | {"start_up_scrap": "1 part"}},
                   dressing={"wheel": {"every": "33 s", "takes": "2 s", "start_up_scrap": "2 parts"}}),
        (What.SCRAP, What.STOP_OVER),
    ),
    "bad_sizes_are_reworked": Case(
        _inspected(_BACK_TO_MILL, {}, [1, 1], characteristics={"bore": _WEARS | {"after": {"tip": "1 um"}}},
                   tool_change=_TIP),
        (What.SIZE, What.REWORK),
    ),
}  # fmt: skip

LAWS: dict[str, Plain] = {
    "constant": {"value": "4 s"},
    "exponential": {"mean": "4 s"},
    "gamma": {"mean": "4 s", "cv": 0.6},
    "gamma_shape_scale": {"shape": 0.4, "scale": "6 s"},
    "erlang": {"stages": 3, "mean": "4 s"},
    "weibull": {"shape": 1.7, "scale": "4 s"},
    "lognormal": {"mean": "4 s", "cv": 1},
    "lognormal_median_sigma": {"median": "4 s", "sigma": 0.5},
    "normal": {"mean": "4 s", "sd": "1 s"},
    "triangular": {"low": "2 s", "mode": "3 s", "high": "7 s"},
    "uniform": {"low": "0 s", "high": "8 s"},
    "empirical": {"values": ["2 s", "3 s", "3 s", "9 s"]},
}


def _law(name: str) -> Plain:
    """The same law for cycle, time to failure, repair, response and stop."""
    law = {"family": name.split("_")[0]} | LAWS[name]
    often = {"mtbf": law, "mttr": law, "crew": "technician"}
    station = {"cycle": law, "breakdowns": {"jam": often}, "dressing": {"wheel": {"every": "3 parts", "takes": law}}}
    return serial({"a": station, "b": station}, [2]) | {"crews": {"technician": {"response": law}}}


DISTRIBUTIONS: dict[str, Case] = {f"law_{name}": Case(_law(name), (What.FAIL, What.STOP, What.CREW)) for name in LAWS}
