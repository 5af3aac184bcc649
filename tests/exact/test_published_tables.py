"""The independent solutions in tests/helpers/theory give the published numbers; only then may they judge an engine."""

from __future__ import annotations

import pytest

from tests.helpers.theory.exponential_lines import number_of_states, number_of_states_by_recursion, throughput
from tests.helpers.theory.motion import move_time_us
from tests.helpers.theory.priority_calls import cobham_waits, priority_waits
from tests.helpers.theory.repair_crews import (
    FIVE_MACHINES,
    exponential_shop,
    finite_queue_table,
    running_with_constant_repair,
)
from tests.helpers.theory.robot_cells import forward_cycle_us, reverse_cycle_us, swap_cycle_us
from tests.helpers.theory.two_machines import Flow, throughput_per_cycle

# Hillier & Boling (1967) and Hunt (1956), from memory: (stations, waiting places) -> throughput of the balanced line.
BALANCED_LINES = {
    (2, 0): 0.6667,
    (2, 1): 0.7500,
    (2, 2): 0.8000,
    (3, 0): 0.5641,
    (3, 1): 0.6705,
    (4, 0): 0.5148,
    (4, 1): 0.6312,
    (5, 0): 0.4858,
    (6, 0): 0.4667,
}


@pytest.mark.parametrize(("stations", "places"), BALANCED_LINES)
def test_balanced_exponential_lines_have_the_published_throughput(stations: int, places: int) -> None:
    found = throughput([1.0] * stations, [places] * (stations - 1))
    assert round(found, 4) == BALANCED_LINES[stations, places]


@pytest.mark.parametrize("places", [0, 1, 2])
def test_two_exponential_stations_follow_the_closed_form(places: int) -> None:
    """(b + 2) / (b + 3), Hunt (1956), from memory."""
    assert throughput([1.0, 1.0], [places]) == pytest.approx((places + 2) / (places + 3), rel=1e-12)


def test_three_stations_without_buffer_make_22_parts_in_39() -> None:
    """Hunt (1956), from memory."""
    assert throughput([1.0] * 3, [0, 0]) == pytest.approx(22 / 39, rel=1e-12)


@pytest.mark.parametrize(("stations", "places"), [(2, 0), (3, 2), (4, 1), (5, 2), (6, 1)])
def test_the_chain_has_as_many_states_as_papadopoulos_counts(stations: int, places: int) -> None:
    assert number_of_states(stations, places) == number_of_states_by_recursion(stations, places)


def test_unequal_rates_give_the_published_optimum_when_the_place_on_the_machine_is_left_out() -> None:
    """Rates 6, 7, 7 and 12, 8 places, those on the machines included: 5.776, Pichitlamken, Nelson & Hong (2006)."""
    assert round(throughput([6, 7, 7], [11, 7]), 3) == 5.776


def test_an_exponential_line_read_backwards_makes_the_same() -> None:
    """Yamazaki & Sakasegawa (1975), Muth (1979), from memory."""
    assert throughput([1.0, 1.4, 0.8, 2.0], [0, 2, 1]) == pytest.approx(throughput([2.0, 0.8, 1.4, 1.0], [1, 2, 0]))


@pytest.mark.parametrize(("places", "published"), [(0, 0.83333), (10, 0.85873), (50, 0.88757)])
def test_two_machines_with_stops_follow_the_continuous_flow_model(places: int, published: float) -> None:
    """p = 0.01, r = 0.1 per cycle: Wijngaard (1979), from memory."""
    machine = Flow(failure=0.01, repair=0.1)
    assert round(throughput_per_cycle(machine, machine, places), 5) == published


def test_unequal_machines_without_buffer_stop_each_other_and_with_a_huge_one_only_the_worse_counts() -> None:
    """1 / (1 + sum p/r) and min r / (r + p): Buzacott (1967), from memory. The flow model is reversible too."""
    good, bad = Flow(0.01, 0.1), Flow(0.02, 0.1)
    assert throughput_per_cycle(good, bad, 0) == pytest.approx(1 / 1.3, rel=1e-12)
    assert throughput_per_cycle(good, bad, 5000) == pytest.approx(0.1 / 0.12, rel=1e-6)
    assert throughput_per_cycle(good, bad, 10) == pytest.approx(throughput_per_cycle(bad, good, 10), rel=1e-12)


@pytest.mark.parametrize(("service_factor", "repairers"), FIVE_MACHINES)
def test_the_finite_queue_table_is_reproduced(service_factor: float, repairers: int) -> None:
    """Stevenson, Table 18.7, after Peck & Hazelwood (1958), five machines; printed to three places."""
    found = finite_queue_table(5, repairers, service_factor)
    assert found == pytest.approx(FIVE_MACHINES[service_factor, repairers], abs=0.0006)


def test_five_machines_of_taylor_and_karlin_run_as_printed() -> None:
    """Taylor & Karlin, problem 6.4.1: failure rate 1, repair rate 2."""
    assert exponential_shop(5, 1, 1.0, 2.0).running == pytest.approx(210 / 109, rel=1e-12)
    assert exponential_shop(5, 2, 1.0, 2.0).running == pytest.approx(1740 / 579, rel=1e-12)


def test_constant_repairs_follow_ashcroft() -> None:
    """Four machines, repair a tenth of the running time: 3.5791, Ashcroft (1950), from memory."""
    assert round(running_with_constant_repair(4, 0.1), 4) == 3.5791
    one_alone = running_with_constant_repair(1, 0.25)
    assert one_alone == pytest.approx(1 / 1.25), "one machine is never kept waiting"


def test_robot_cells_have_the_cycle_times_of_the_example() -> None:
    """Processing 20, 9, 14, handling 1, travel 2, turn 0.5: forward 67, reverse 32, two grippers 25.5 (from memory)."""
    second = 1_000_000
    processing = [20 * second, 9 * second, 14 * second]
    assert forward_cycle_us(processing, second, 2 * second) == 67 * second
    assert reverse_cycle_us(processing, second, 2 * second) == 32 * second
    assert swap_cycle_us(processing, second, 2 * second, second // 2) == 25_500_000


def test_move_times_are_those_worked_out_by_hand() -> None:
    """Trapezoid: 3 m at 2.5 m/s and 3 m/s2 are 3/2.5 + 2.5/3 = 1.2 + 0.833333 s. Triangle: 0.75 m at 3 m/s2 are 1 s."""
    assert move_time_us(3.0, 2.5, 3.0) == 2_033_333
    assert move_time_us(0.75, 2.5, 3.0) == 1_000_000
    assert move_time_us(0.0, 2.5, 3.0) == 0


def test_calls_without_number_wait_by_priority_as_cobham_says() -> None:
    """Cobham (1954), from memory. Loads 0.3 and 0.4: 0.3 x 1 + 0.2 x 4 = 1.1 left over; 1.1 / 0.7 and 1.1 / 0.21."""
    found = priority_waits((lambda _: 0.3, lambda _: 0.2), (1.0, 2.0), most=(60, 90))
    assert cobham_waits((0.3, 0.2), (1.0, 2.0)) == pytest.approx((1.1 / 0.7, 1.1 / (0.7 * 0.3)))
    assert found == pytest.approx(cobham_waits((0.3, 0.2), (1.0, 2.0)), rel=1e-4)


def test_calls_without_priority_wait_as_in_the_shop_of_one_repairer() -> None:
    """Three and three machines alike: the mean wait of all is that of six at one repairer, whoever is taken first."""
    waits = priority_waits((lambda n: 0.1 * (3 - n), lambda n: 0.1 * (3 - n)), (1.0, 1.0), most=(3, 3))
    shop = exponential_shop(6, 1, failure_rate=0.1, repair_rate=1.0)
    assert waits[0] < waits[1]
    down = 6 - shop.running
    assert down - shop.waiting == pytest.approx(0.1 * shop.running)  # at work: calls a unit of time x 1
    assert waits[0] < shop.waiting / (0.1 * shop.running) < waits[1]
