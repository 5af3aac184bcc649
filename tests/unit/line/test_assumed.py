"""Which values of a file are estimates, and which of them have an entry under `assumptions`."""

from typing import Any

import pytest

from linesim.line import LineError, load_line
from linesim.line.assumed import at_the_ends, estimated_values, without_entry

CONTENT: dict[str, Any] = {
    "route": ["turn", "park", "mill"],
    "stations": {
        "turn": {
            "cycle": {"family": "gamma", "mean": "88 s", "cv": 0.1},
            "machines": 2,
            "breakdowns": {"jam": {"mtbf": "9 h", "mttr": "12 min"}},
            "price": "430 k",
            "power": {"working": "11 kW"},
        },
        "mill": {"cycle": "50 s", "defects": {"size": "0.4 %"}},
    },
    "buffers": {"park": {"capacity": 2, "dwell": "5 s"}},
}
MILL = "stations.mill.cycle"
VALUES = [
    "stations.turn.cycle.mean",
    "stations.turn.breakdowns.jam.mtbf",
    "stations.turn.breakdowns.jam.mttr",
    "stations.mill.cycle",
    "stations.mill.defects.size",
    "buffers.park.dwell",
]


def test_values_are_what_has_a_unit_but_no_price_power_or_count() -> None:
    assert sorted(estimated_values(CONTENT)) == sorted(VALUES)


def test_an_entry_covers_its_key_and_all_below_but_no_namesake() -> None:
    entries: dict[str, Any] = {"stations.turn.breakdowns": {}, "stations.mill.cycle": {}, "buffers.pa": {}}
    left = without_entry({**CONTENT, "assumptions": entries})
    assert left == ["stations.turn.cycle.mean", "stations.mill.defects.size", "buffers.park.dwell"]


def test_the_line_is_built_at_both_ends_of_a_range() -> None:
    given = {**CONTENT, "assumptions": {"stations.mill.cycle": {"range": ["40 s", "70 s"]}, "buffers.park.dwell": {}}}
    ends = list(at_the_ends(given, load_line(given)))
    assert [(key, value) for key, value, _ in ends] == [
        ("stations.mill.cycle", "40 s"),
        ("stations.mill.cycle", "70 s"),
    ]
    assert [line.stations["mill"].cycle.mean for *_, line in ends] == [40, 70]
    assert given["stations"]["mill"]["cycle"] == "50 s"


def test_an_end_that_can_not_be_is_told_with_its_assumption() -> None:
    given = {**CONTENT, "assumptions": {"stations.mill.cycle": {"range": ["40", "70 s"]}}}
    with pytest.raises(LineError, match=r"assumptions\.stations\.mill\.cycle\.range = 40.*stations\.mill\.cycle"):
        list(at_the_ends(given, load_line(given)))
