"""Part types in a line file: their mix or orders, cycles by type, changeovers, and what the rough-cut sheet says."""

from __future__ import annotations

import math

import pytest

from linesim.line import load_line, summary
from linesim.line.capacity import capacity_sheet, ideal_interval_s
from linesim.line.distributions import Constant
from linesim.line.part_types import ByPart, mix
from tests.unit.line.lines import cell, messages, problems

MIX = "parts={small: {share: 60 %}, large: {share: 40 %}}"
ORDERS = ("parts={small: {}, large: {}}", "orders=[{part: small, size: 30 parts}, {part: large, size: 20}]")
BY_TYPE = "stations.turn.cycle={small: 80 s, large: 95 s}"
CHANGEOVER = "stations.turn.changeover={takes: {small: {large: 20 min}, large: {small: 15 min}}}"
TWO = ("stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 3 m]")


def test_a_cycle_by_type_knows_its_mean_and_spread_over_the_mix() -> None:
    """0.6 x 80 + 0.4 x 95 = 86; sd of two points 15 apart: 15 x sqrt(0.24)."""
    cycle = load_line(cell(), [MIX, BY_TYPE]).stations["turn"].cycle
    assert isinstance(cycle, ByPart)
    assert cycle.laws == {"small": Constant(80.0), "large": Constant(95.0)}
    assert cycle.mean == pytest.approx(86)
    assert cycle.sd == pytest.approx(15 * math.sqrt(0.24))


def test_the_mix_of_orders_is_their_sizes() -> None:
    line = load_line(cell(), [*ORDERS, BY_TYPE])
    assert mix(line) == pytest.approx({"small": 0.6, "large": 0.4})
    assert line.stations["turn"].cycle.mean == pytest.approx(86)


def test_a_plain_cycle_holds_for_all_types_and_a_family_is_no_map_of_types() -> None:
    line = load_line(cell(), [MIX, "stations.turn.cycle={family: gamma, mean: 80 s, cv: 0.1}"])
    assert not isinstance(line.stations["turn"].cycle, ByPart)


@pytest.mark.parametrize(
    ("overrides", "key", "rule"),
    [
        (("parts={small: {share: 60 %}, large: {}}",), "parts.large", "has no share of the mix"),
        (("parts={small: {share: 60 %}, large: {share: 30 %}}",), "parts", "shares must add up to 100 %"),
        (("orders=[]", "parts={small: {share: 100 %}, large: {share: 1 %}}"), "parts", "shares must add up to 100 %"),
        (("orders=[{part: small, size: 9}]",), "orders[0].part", "small is no part type of this line"),
        (("orders={part: small, size: 9}", "parts={small: {}}"), "orders", "must be a list"),
        (("orders=[{part: small}]", "parts={small: {}}"), "orders[0].size", "is missing"),
        (("orders=[{part: small, size: 0}]", "parts={small: {}}"), "orders[0].size", "must be 1 part or more"),
        ((MIX, "orders=[{part: small, size: 9}, {part: large, size: 9}]"), "parts.small.share", "beside orders"),
        ((ORDERS[0], "orders=[{part: small, size: 9}]"), "parts.large", "is in no order"),
        ((MIX, "stations.turn.cycle={small: 80 s}"), "stations.turn.cycle", "has no time for the part large"),
        ((MIX, "stations.turn.cycle={small: 8 s, larg: 9 s}"), "stations.turn.cycle.larg", "is no part type"),
        ((MIX, "stations.turn.cycle={small: 8 s, large: 9}"), "stations.turn.cycle.large", "must be a time"),
        ((MIX, BY_TYPE, "stations.turn.call_ahead=5 s"), "stations.turn.call_ahead", "the same for all parts"),
        ((CHANGEOVER,), "stations.turn.changeover", "needs part types"),
        ((MIX, "stations.turn.changeover={takes: 20 min}"), "stations.turn.changeover.takes", "must be a table"),
        ((MIX, "stations.turn.changeover={}"), "stations.turn.changeover.takes", "is missing"),
        (
            (MIX, CHANGEOVER, "stations.turn.changeover.takes.small.small=9 s"),
            "stations.turn.changeover.takes.small.small",
            "needs no changeover to itself",
        ),
        (
            (MIX, CHANGEOVER, "stations.turn.changeover.takes.tiny={small: 9 s}"),
            "stations.turn.changeover.takes.tiny",
            "tiny is no part type",
        ),
        (
            (MIX, CHANGEOVER, "stations.turn.changeover.crew=nobody"),
            "stations.turn.changeover.crew",
            "nobody is no crew",
        ),
        (
            (MIX, BY_TYPE, "stations.turn.machines={turn_1: {}, turn_2: {cycle: {huge: 4 s}}}"),
            "stations.turn.machines.turn_2.cycle.huge",
            "huge is no part type",
        ),
    ],
)
def test_what_makes_no_sense_about_part_types_is_told(overrides: tuple[str, ...], key: str, rule: str) -> None:
    found = {problem.key: problem.rule for problem in problems(cell(), *overrides)}
    assert rule in found[key]


def test_one_problem_is_told_once() -> None:
    assert len(messages(cell(), MIX, "stations.turn.cycle={small: 80 s, larg: 9 s}")) == 2  # no time for large
    assert len(messages(cell(), MIX, BY_TYPE, "stations.turn.call_ahead=5 s", *TWO)) == 1
    unequal = ["stations.turn={cycle: {small: 80 s}, machines: {turn_1: {}, turn_2: {}}}", TWO[1]]
    assert len(messages(cell(), MIX, *unequal)) == 1


def test_time_must_pass_with_every_type() -> None:
    given = [MIX, "stations.turn.cycle={small: 0 s, large: 9 s}", "stations.grind.cycle=0 s", "loaders.gantry=null"]
    assert any("time" in message for message in messages(cell(), *given))


def test_unequal_machines_may_have_cycles_and_changeovers_of_their_own() -> None:
    own = "stations.turn.machines={turn_1: {}, turn_2: {cycle: {large: 100 s}, changeover: null}}"
    machines = load_line(cell(), [MIX, BY_TYPE, CHANGEOVER, own, TWO[1]]).stations["turn"].unequal
    assert machines["turn_2"].cycle.mean == pytest.approx(0.6 * 80 + 0.4 * 100)
    assert machines["turn_1"].changeover is not None
    assert machines["turn_2"].changeover is None


def test_a_crew_that_only_changes_over_is_no_stranger() -> None:
    given = [MIX, CHANGEOVER, "stations.turn.changeover.crew=setter", "crews.setter={response: 2 min}"]
    assert problems(cell(), *given) == []


def test_the_sheet_takes_the_mean_of_the_mix() -> None:
    line = load_line(cell(), [MIX, BY_TYPE])
    assert ideal_interval_s(line)["turn"] == pytest.approx(86 + 7)


def test_the_sheet_has_a_part_s_share_of_the_changeovers() -> None:
    """Orders: 35 min for 50 parts. A mix: every other part in 0.24 of the cases each way, so 0.24 x 35 min a part."""
    batches = capacity_sheet(load_line(cell(), [*ORDERS, BY_TYPE, CHANGEOVER])).stages[0]
    assert batches.stop_s == pytest.approx(35 * 60 / 50)
    mixed = capacity_sheet(load_line(cell(), [MIX, BY_TYPE, CHANGEOVER])).stages[0]
    assert mixed.stop_s == pytest.approx(0.24 * 35 * 60)
    crew = ["stations.turn.changeover.crew=setter", "crews.setter={response: 2 min}"]
    waiting = capacity_sheet(load_line(cell(), [*ORDERS, BY_TYPE, CHANGEOVER, *crew])).stages[0]
    assert waiting.stop_s == pytest.approx(39 * 60 / 50)
    assert waiting.capacity_per_h == pytest.approx(3600 / (86 + 7 + 39 * 60 / 50))


def test_with_orders_every_machine_of_a_station_changes_over_for_each_batch() -> None:
    stage = capacity_sheet(load_line(cell(), [*ORDERS, BY_TYPE, CHANGEOVER, *TWO])).stages[0]
    assert stage.stop_s == pytest.approx(2 * 35 * 60 / 50)
    assert stage.capacity_per_h == pytest.approx(2 * 3600 / (86 + 7 + 84))


def test_the_summary_shows_mix_orders_and_changeovers() -> None:
    shown = summary(load_line(cell(), [MIX, BY_TYPE, CHANGEOVER]))
    assert "60 % small and 40 % large" in shown
    assert "small 80 s, large 95 s" in shown
    assert "turn changes over: small to large 20 min, large to small 15 min" in shown
    assert "orders, repeated: 30 small, 20 large" in summary(load_line(cell(), [*ORDERS]))
