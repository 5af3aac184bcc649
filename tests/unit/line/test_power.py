"""Power by state: its words cover every state once, single states win over groups, and strange words are refused."""

import pytest

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.line import load_line
from linesim.line.power import CARRIAGE_WORDS, MACHINE_WORDS, power_by_state_kw, rough_energy_kwh
from tests.unit.line.lines import cell, messages


def test_every_state_belongs_to_one_word() -> None:
    for groups, states in ((MACHINE_WORDS, MachineState), (CARRIAGE_WORDS, CarriageState)):
        assert sorted(state for group in groups.values() for state in group) == sorted(
            state.name.lower() for state in states
        )


def test_a_state_wins_over_its_group_and_a_group_over_the_one_it_draws_like() -> None:
    found = power_by_state_kw({"working": 11, "waiting": 3, "dressing": 7, "blocked": 2}, MACHINE_WORDS)
    assert (found["working"], found["starved"], found["blocked"]) == (11, 3, 2)
    assert (found["dressing"], found["tool_change"], found["under_repair"], found["loading"]) == (7, 3, 3, 3)
    assert found["off_shift"] == 0
    assert power_by_state_kw({"moving": 4}, CARRIAGE_WORDS)["handling"] == 4


def test_a_strange_state_is_refused_with_the_nearest_one() -> None:
    (message,) = messages(cell(), "stations.turn.power={wroking: 11 kW}")
    assert "stations.turn.power.wroking" in message
    assert "is no state, nor a group of states" in message
    assert "working" in message


def test_a_state_of_a_machine_is_none_of_a_loader() -> None:
    (message,) = messages(cell(), "loaders.gantry.power={blocked: 1 kW}")
    assert "Known: moving" in message


def test_power_needs_its_unit_and_is_not_negative() -> None:
    assert "must be a power with its unit" in messages(cell(), "stations.turn.power={working: 11}")[0]
    assert "must be 0 kW or more" in messages(cell(), "stations.turn.power={working: -1 kW}")[0]


@pytest.mark.parametrize(("transit", "kwh"), [("150 s", 10 * 100 / 3600), ("60 s", (10 * 60 + 2 * 40) / 3600)])
def test_a_through_feed_works_as_long_as_anything_is_inside(transit: str, kwh: float) -> None:
    """A part each 100 s: with 150 s inside there always is one, with 60 s it waits 40 s."""
    feed = {"through_feed": {"pitch": "28 s", "transit": transit}, "power": {"working": "10 kW", "waiting": "2 kW"}}
    demand = {"volume": "36000 /year", "planned": "1000 h/year"}
    line = cell(loaders={}, stations={"turn": feed, "grind": {"cycle": "9 s"}}, demand=demand)
    assert rough_energy_kwh(load_line(line)) == pytest.approx(kwh)
