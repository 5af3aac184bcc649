"""What is not the same in the files of several lines, and what holds where one does not name it."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.line import build
from linesim.report.defaults import default_at
from linesim.report.unlike_sheet import what_differs
from tests.unit.line.lines import cell
from tests.unit.report.pages import cells


def test_keys_with_other_values_are_told_as_the_files_write_them() -> None:
    """Maps that are no lines: nothing holds where they do not name a key."""
    files: dict[str, dict[str, Any] | None] = {
        "a": {"name": "x", "buffers": {"park": {"capacity": 2}}},
        "b": {"name": "x", "buffers": {}, "route": [1, 2]},
    }
    sheet = what_differs(["a", "b"], files)
    assert sheet is not None
    assert cells(sheet, "buffers.park.capacity") == ["buffers.park.capacity", "2", "-"]
    assert cells(sheet, "route") == ["route", "-", "1, 2"]
    assert "name" not in [row[0] for row in sheet.rows]
    assert what_differs(["a", "b"], {"a": files["a"], "b": None}) is None


def test_where_a_file_does_not_name_a_key_its_default_stands_and_is_marked() -> None:
    plain, other = cell(), cell()
    other["stations"]["grind"] |= {"machines": 2, "call_ahead": "90 s"}
    other["loaders"]["gantry"] |= {"stops": {**plain["loaders"]["gantry"]["stops"], "grind": ["5 m", "6 m"]}}
    sheet = what_differs(["plain", "other"], {"plain": plain, "other": other})
    assert sheet is not None
    assert cells(sheet, "stations.grind.machines")[1:] == ["1 (default)", "2"]
    assert cells(sheet, "stations.grind.call_ahead")[1:] == ["0 s (default)", "90 s"]
    assert len(sheet.rows) == 3
    assert "(default)" in sheet.note


def test_a_default_that_is_written_out_is_no_difference() -> None:
    other = cell()
    other["stations"]["grind"]["machines"] = 1
    other["stations"]["grind"]["blocking"] = "after_service"
    assert what_differs(["plain", "other"], {"plain": cell(), "other": other}) is None


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("filled", "0 % (default)"),
        ("stations.grind.blocking", "after_service (default)"),
        ("stations.grind.through_breaks", "false (default)"),
        ("stations.grind.planned_cycle", "-"),  # nothing stands in its place
        ("stations.polish.machines", "-"),  # the line has no such station
        ("stations.grind.cycle", "-"),  # it has to be given
        ("stations.grind.cycle.family", "-"),
        ("loaders.gantry.next_call", "downstream_first (default)"),
        ("loaders.gantry.exchanges_per_tour", "1 (default)"),
        ("loaders.gantry.load", "as exchange (default)"),
        ("loaders.gantry.stops.grind.at", "-"),  # given in another way: as the position alone
        ("crews.fitter.response", "0 s (default)"),
        ("crews.fitter.paid", "100 % (default)"),
        ("money.currency", "-"),  # without money there is none
    ],
)
def test_the_default_of_a_key_is_told_as_a_file_would_say_it(path: str, words: str) -> None:
    given = cell(crews={"fitter": {}})
    del given["loaders"]["gantry"]["load"]
    line = build(given)
    assert default_at(line, path.split(".")) == words
