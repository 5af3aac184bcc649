"""Operators who load machines against formulas of machine interference.

Blanks are always at hand and the tray takes all, so a machine that ends its cycle calls for an exchange and works again
right after it: machines that run, and a few servers who see to those that stand.
"""

from __future__ import annotations

import pytest

from linesim.engine.contract.ledger import Ledger, MachineState
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, alone, exponential, seconds
from tests.helpers.sampling import good_parts_per_s, machines_in, sample
from tests.helpers.seeds import LOADED_BY_HAND, ONE_OPERATOR
from tests.helpers.theory.repair_crews import exponential_shop, running_with_constant_repair

pytestmark = pytest.mark.statistical


def shop(machines: int, people: int, exchange: object, response: object = "0 s") -> Plain:
    """Machines side by side with exponential cycles of 1 s on the mean, loaded by so many operators."""
    station = {
        "cycle": exponential(1.0),
        "machines": machines,
        "by_hand": {"crew": "operator", "exchange": exchange},
    }
    return alone(station, crews={"operator": {"people": people, "response": response}})


def waits_and_output(ledger: Ledger) -> tuple[float, float, float, float]:
    """Machines at work and waiting for an operator, share of calls that waited, parts a second."""
    crew = ledger.crews.iloc[0]
    return (
        machines_in(ledger, MachineState.WORKING),
        machines_in(ledger, MachineState.WAITING_OPERATOR),
        float(crew["calls_waited"] / crew["calls"]),
        good_parts_per_s(ledger),
    )


@pytest.mark.parametrize(("people", "running"), [(1, 210 / 109), (2, 1740 / 579)])
def test_five_machines_run_beside_one_or_two_operators_as_the_finite_queue_says(people: int, running: float) -> None:
    """Five machines, cycle 1 and exchange 1/2 on the mean, all exponential: M/M/c with a finite source.

    Source: Taylor & Karlin, problem 6.4.1, for the machines running. Of the same stationary law: machines waiting,
    calls that wait. One part a cycle: parts a second are the machines running.
    """
    expected = exponential_shop(5, people, 1.0, 2.0)
    assert expected.running == pytest.approx(running)
    found = sample(shop(5, people, exponential(0.5)), LOADED_BY_HAND, 20, 10, 4000, waits_and_output)
    assert_agrees(found[:, 0], expected.running, meaningful_share=0.03)
    assert_agrees(found[:, 1], expected.waiting, meaningful_share=0.06)
    assert_agrees(found[:, 2], expected.share_of_calls_that_wait, meaningful_share=0.03)
    assert_agrees(found[:, 3], expected.running, meaningful_share=0.03)


def test_the_way_of_the_operator_counts_as_service_and_as_waiting_of_the_machine() -> None:
    """An exponential way of 1/2 and an exchange of a microsecond are a service of 1/2; the machine waits meanwhile."""
    expected = exponential_shop(5, 1, 1.0, 2.0)
    line = shop(5, 1, seconds(0.000001), response=exponential(0.5))
    found = sample(line, ONE_OPERATOR, 20, 10, 4000, waits_and_output)
    assert_agrees(found[:, 0], expected.running, meaningful_share=0.03)
    assert_agrees(found[:, 1], 5 - expected.running, meaningful_share=0.03)


def test_four_machines_with_constant_exchanges_run_as_ashcroft_says() -> None:
    """Exchange 0.4 of the mean cycle: 2.2523 running; with exponential exchanges it would be 6 % less.

    Source: Ashcroft (1950), from memory.
    """
    found = sample(shop(4, 1, "0.4 s"), LOADED_BY_HAND, 20, 10, 4000, waits_and_output)
    assert_agrees(found[:, 0], running_with_constant_repair(4, 0.4), meaningful_share=0.015)
