"""The lines that come with the project, and the changes that fit them, for some hours."""

from __future__ import annotations

from pathlib import Path

import pytest

import linesim
from tests.differential.same_run import Span, assert_same_run

CONF = Path(linesim.__file__).resolve().parents[1] / "conf"
SHIPPED = sorted(path.stem for path in (CONF / "line").glob("*.yaml"))
HOURS = {"two_machines": 60.0, "ring_cell": 12.0, "ring_divided": 8.0, "twenty_stations": 8.0}
CHANGED = [
    ("ring_cell", "one_gripper"),
    ("ring_cell", "second_grinder"),
    ("ring_cell", "gauge_outside"),
    ("ring_divided", "short_links"),
    ("ring_cell", "rejects_by_loader"),
    ("ring_divided", "one_technician"),
    ("ring_divided", "ground_sizes"),
    ("twenty_stations", "buffers_430"),
]


@pytest.mark.parametrize("name", SHIPPED)
def test_both_engines_tell_the_same_story_of_the_shipped(name: str) -> None:
    hours = HOURS.get(name, 8.0)
    assert_same_run(linesim.load_line(name), Span(hours * 3600, hours * 360, 3600), replication=1)


@pytest.mark.parametrize(("name", "change"), CHANGED)
def test_both_engines_tell_the_same_story_of_a_changed(name: str, change: str) -> None:
    assert_same_run(linesim.load_line(name, change=change), Span(5 * 3600, 3600, 3600), replication=2)


@pytest.mark.parametrize("rule", ["longest_waiting", "nearest", "[gauge, finish, grind, cool, turn]"])
@pytest.mark.parametrize("grippers", [1, 2])
def test_both_engines_tell_the_same_story_of_the_ring_cell_with_other_calls(rule: str, grippers: int) -> None:
    overrides = [f"loaders.gantry.next_call={rule}", f"loaders.gantry.grippers={grippers}"]
    assert_same_run(linesim.load_line("ring_cell", overrides=overrides), Span(5 * 3600, 0, 3600))


@pytest.mark.long
@pytest.mark.parametrize("name", SHIPPED)
def test_both_engines_keep_the_same_books_of_the_shipped_for_weeks(name: str) -> None:
    """The ledger alone, 200 h: the draws run out and are refilled often, and so are the rows."""
    assert_same_run(linesim.load_line(name), Span(200 * 3600, 20 * 3600, 3600), replication=5, trace=False)
