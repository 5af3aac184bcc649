"""Floor that places take, and on which side they stand: what may be written, and that it moves nothing."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.layout import lay_out
from linesim.line import load_line
from tests.unit.line.lines import cell, problems


@pytest.mark.parametrize(
    ("override", "key", "rule"),
    [
        ("stations.turn.size=2 m", "stations.turn.size", "must be a list of two lengths"),
        ("buffers.park.size=[1 m]", "buffers.park.size", "must be a list of two lengths"),
        ("stations.turn.size=[0 m, 2 m]", "stations.turn.size", "must be two lengths above 0 m, at most 100 m"),
        ("infeed.blanks.size=[1 m, 101 m]", "infeed.blanks.size", "must be two lengths above 0 m, at most 100 m"),
        ("outfeed.tray.size=[1, 2 m]", "outfeed.tray.size", "must be a length with its unit"),
        ("stations.turn.side=left", "stations.turn.side", "must be front or rear"),
        ("stations.turn.side=[]", "stations.turn.side", "must be front or rear"),
        ("stations.turn.side=[front, rear]", "stations.turn.side", "names 2 sides, but turn stands on one"),
        ("buffers.park.side=[front, rear]", "buffers.park.side", "names 2 sides, but park stands on one"),
    ],
)
def test_what_no_place_can_have_is_told_with_its_key(override: str, key: str, rule: str) -> None:
    (problem,) = problems(cell(), override)
    assert problem.key == key
    assert problem.rule.startswith(rule)
    assert problem.fix


def test_machines_have_one_side_together_or_one_each() -> None:
    machines = ["stations.turn.machines=2", "loaders.gantry.stops.turn=[1.5 m, 2.5 m]"]
    assert load_line(cell(), [*machines, "stations.turn.side=[rear, front]"]).stations["turn"].side == ("rear", "front")
    assert load_line(cell(), [*machines, "stations.turn.side=rear"]).stations["turn"].side == ("rear",)
    (problem,) = problems(cell(), *machines, "stations.turn.side=[rear, front, rear]")
    assert (problem.value, problem.rule) == ("[rear, front, rear]", "names 3 sides, but turn has 2 machines")


def test_a_named_machine_may_have_a_size_of_its_own() -> None:
    given: dict[str, Any] = cell()
    given["stations"]["turn"] |= {"size": ["2 m", "1 m"], "machines": {"old": {"size": ["250 cm", "1 m"]}, "new": {}}}
    line = load_line(given, ["loaders.gantry.stops.turn=[1 m, 3 m]"])
    assert [each.size for each in line.stations["turn"].unequal.values()] == [(2.5, 1.0), (2.0, 1.0)]


@pytest.mark.parametrize("name", ["ring_cell", "ring_divided"])
def test_sizes_and_sides_change_nothing_that_the_engines_run_on(name: str) -> None:
    """The engines know a line by its row of numbers and its streams alone."""
    line = load_line(name)
    kinds = ("stations", "buffers", "infeed", "outfeed")
    bare = [f"{kind}.{place}.{key}=null" for kind in kinds for place in getattr(line, kind) for key in ("size", "side")]
    sized = [word for word in bare if "side" not in word or getattr(line, word.split(".")[0])[word.split(".")[1]].side]
    without = load_line(name, sized)
    assert without != line
    one, other = lay_out(line), lay_out(without)
    assert one.floor == other.floor
    assert one.streams == other.streams
