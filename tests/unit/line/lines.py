"""Small lines as maps, and a way to read the problems of a bad one."""

from __future__ import annotations

from typing import Any

from linesim.line import LineError, Problem, load_line


def cell(**changes: Any) -> dict[str, Any]:
    """Infeed, two machines with a park between them and an outfeed, all under one gantry with two grippers."""
    line: dict[str, Any] = {
        "name": "cell",
        "route": ["blanks", "turn", "park", "grind", "tray"],
        "infeed": {"blanks": {}},
        "outfeed": {"tray": {}},
        "stations": {"turn": {"cycle": "60 s"}, "grind": {"cycle": "50 s"}},
        "buffers": {"park": {"capacity": 2}},
        "loaders": {
            "gantry": {
                "stops": {"blanks": "0 m", "turn": "2 m", "park": "4 m", "grind": "6 m", "tray": "8 m"},
                "grippers": 2,
                "speed": "2 m/s",
                "acceleration": "2 m/s2",
                "pick": "3 s",
                "place": "4 s",
                "load": "5 s",
                "unload": "6 s",
                "exchange": "7 s",
            }
        },
    }
    return line | changes


def two_carriages(**keys: Any) -> dict[str, Any]:
    """The cell with a carriage for turn and one for grind, which meet at the park."""
    carriages: dict[str, Any] = {
        "left": {"stops": ["blanks", "turn", "park"]},
        "right": {"stops": ["park", "grind", "tray"]},
    }
    return cell(loaders={"gantry": {**cell()["loaders"]["gantry"], "carriages": carriages, "apart": "1 m", **keys}})


def problems(source: Any, *overrides: str, change: Any = None) -> list[Problem]:
    """What is wrong with a line; empty if nothing is."""
    try:
        load_line(source, overrides, change)
    except LineError as error:
        return error.problems
    return []


def messages(source: Any, *overrides: str, change: Any = None) -> list[str]:
    return [str(problem) for problem in problems(source, *overrides, change=change)]
