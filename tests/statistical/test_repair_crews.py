"""Machines that share repairers against tables and formulas of machine interference.

All machines stand side by side in one station that never starves and is never blocked, so they work unless they are
down, and it does not matter how long a cycle is: it is long, which makes the runs short.
"""

from __future__ import annotations

import pytest

from linesim.engine.contract.ledger import US, Ledger, MachineState
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, alone, constant, exponential
from tests.helpers.sampling import machines_in, sample, share
from tests.helpers.seeds import CONSTANT_REPAIR, REPAIR_CREW_TABLE, TAYLOR_AND_KARLIN, URGENT_CALLS
from tests.helpers.theory.priority_calls import priority_waits
from tests.helpers.theory.repair_crews import (
    FIVE_MACHINES,
    exponential_shop,
    finite_queue_table,
    running_with_constant_repair,
)

pytestmark = pytest.mark.statistical


def shop(machines: int, people: int, mtbf_s: float, mttr: object, clock: str = "working") -> Plain:
    cause = {"mtbf": exponential(mtbf_s), "mttr": mttr, "clock": clock, "crew": "repairers"}
    station = {"cycle": "20 s", "machines": machines, "breakdowns": {"jam": cause}}
    return alone(station, crews={"repairers": {"people": people}})


def waiting_and_calls(ledger: Ledger) -> tuple[float, float]:
    """Share of the machines' time spent waiting for repair, and share of calls that waited."""
    crew = ledger.crews.iloc[0]
    return share(ledger, MachineState.WAITING_REPAIR), float(crew["calls_waited"] / crew["calls"])


@pytest.mark.parametrize(
    ("service_factor", "people", "clock", "meaningful_share"),
    [(0.1, 1, "working", 0.06), (0.1, 2, "calendar", 0.2), (0.05, 1, "calendar", 0.1)],
)
def test_five_machines_wait_for_their_crew_as_the_finite_queue_table_says(
    service_factor: float, people: int, clock: str, meaningful_share: float
) -> None:
    """Probability of waiting D and efficiency F (1 less the share of waiting): Stevenson, Table 18.7, after Peck &

    Hazelwood (1958). As F is close to one, 1 - F is compared. A clock on the calendar is the same thing here.
    """
    line = shop(5, people, mtbf_s=1 - service_factor, mttr=exponential(service_factor), clock=clock)
    found = sample(
        line, REPAIR_CREW_TABLE, 20, warmup_s=5, measured_s=100 / service_factor**0.5, measure=waiting_and_calls
    )
    waits, efficiency = finite_queue_table(5, people, service_factor)
    assert FIVE_MACHINES[service_factor, people] == pytest.approx((waits, efficiency), abs=0.0006)
    assert_agrees(found[:, 0], 1 - efficiency, meaningful_share=1.5 * meaningful_share)
    assert_agrees(found[:, 1], waits, meaningful_share=meaningful_share)


@pytest.mark.parametrize(("people", "running"), [(1, 210 / 109), (2, 1740 / 579)])
def test_five_machines_with_one_or_two_repairers_run_as_taylor_and_karlin_print(people: int, running: float) -> None:
    """Problem 6.4.1: failure rate 1, repair rate 2."""
    line = shop(5, people, mtbf_s=1.0, mttr=exponential(0.5))
    found = sample(line, TAYLOR_AND_KARLIN, 20, 10, 900, lambda ledger: machines_in(ledger, MachineState.WORKING))
    assert_agrees(found, running, meaningful_share=0.03)
    assert exponential_shop(5, people, 1.0, 2.0).running == pytest.approx(running)


def test_four_machines_with_constant_repairs_run_as_ashcroft_says() -> None:
    """Repair 0.4 of the mean running time: 2.2523 running; with exponential repairs it would be 6 % less.

    Source: Ashcroft (1950), from memory.
    """
    line = shop(4, 1, mtbf_s=1.0, mttr=constant(0.4))
    found = sample(line, CONSTANT_REPAIR, 20, 10, 1000, lambda ledger: machines_in(ledger, MachineState.WORKING))
    expected = running_with_constant_repair(4, 0.4)
    assert exponential_shop(4, 1, 1.0, 2.5).running < 0.95 * expected
    assert_agrees(found, expected, meaningful_share=0.015)


def test_calls_of_high_priority_wait_less_by_as_much_as_the_solved_queue_says() -> None:
    """Three machines whose calls are urgent and four others, one repairer, everything exponential.

    Solved as a Markov chain that gives the waits of Cobham (1954) where calls are without number.
    """
    cause = {"mtbf": exponential(5), "mttr": exponential(1), "clock": "calendar", "crew": "repairers"}
    urgent = {f"urgent_{n}": {"breakdowns": {"jam": {"priority": "high"}}} for n in (1, 2, 3)}
    machines = urgent | {f"other_{n}": {} for n in (1, 2, 3, 4)}
    station = {"cycle": "20 s", "machines": machines, "breakdowns": {"jam": cause}}
    line = alone(station, crews={"repairers": {}})
    found = sample(line, URGENT_CALLS, 30, 20, 5000, _mean_waits)
    expected = priority_waits((lambda n: (3 - n) / 5, lambda n: (4 - n) / 5), (1.0, 1.0), most=(3, 4))
    assert_agrees(found[:, 0], expected[0], meaningful_share=0.04)
    assert_agrees(found[:, 1], expected[1], meaningful_share=0.04)


def _mean_waits(ledger: Ledger) -> tuple[float, float]:
    """Mean wait of urgent and of other calls [s]; calls begun and time waited in the same window."""
    calls = ledger.stoppages.assign(urgent=ledger.stoppages["owner"].str.startswith("urgent"))
    sums = calls.groupby("urgent")[["waiting_us", "begun"]].sum()
    waits = sums["waiting_us"] / sums["begun"] / US
    return float(waits[True]), float(waits[False])
