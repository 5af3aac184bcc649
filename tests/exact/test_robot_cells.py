"""Robot-served cells reach the cycle times of the literature, to the microsecond.

Sources: Sethi, Sriskandarajah, Sorger, Blazewicz & Kubiak (1992); Sethi, Sidney & Sriskandarajah (2001); from memory.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.helpers.lines import robot_cell, seconds
from tests.helpers.running import play
from tests.helpers.theory.robot_cells import forward_cycle_us, reverse_cycle_us, swap_cycle_us

CELLS = [
    ((20.0, 9.0, 14.0), 1.0, 2.0),
    ((5.0,), 1.0, 2.0),
    ((5.0, 60.0), 2.0, 0.5),
    ((3.0, 3.0, 3.0, 3.0), 1.25, 1.5),
    ((0.75, 41.5, 7.25, 13.0), 3.400001, 2.000003),
]


def us(value_s: float) -> int:
    return round(value_s * 1e6)


def intervals_us(departures_s: list[float], last: int) -> list[int]:
    """Intervals between the last departures."""
    times_us = [us(time_s) for time_s in departures_s]
    return [later - earlier for earlier, later in pairwise(times_us)][-last:]


@pytest.mark.parametrize(("processing_s", "handling_s", "travel_s"), CELLS)
def test_forward_order_carries_each_part_through_alone(
    processing_s: tuple[float, ...], handling_s: float, travel_s: float
) -> None:
    names = [f"m{number}" for number in range(1, len(processing_s) + 1)]
    cell = robot_cell(processing_s, handling_s, travel_s, next_call={"fixed": ["stocker", *names]})
    cycle_us = forward_cycle_us([us(p) for p in processing_s], us(handling_s), us(travel_s))
    played = play(cell, horizon_s=8.5 * cycle_us / 1e6)
    assert intervals_us(played.left_at(), last=6) == [cycle_us] * 6


@pytest.mark.parametrize(("processing_s", "handling_s", "travel_s"), CELLS)
def test_reverse_order_refills_each_machine_right_after_it_was_emptied(
    processing_s: tuple[float, ...], handling_s: float, travel_s: float
) -> None:
    names = [f"m{number}" for number in range(1, len(processing_s) + 1)]
    cell = robot_cell(processing_s, handling_s, travel_s, next_call={"fixed": [*reversed(names), "stocker"]})
    cycle_us = reverse_cycle_us([us(p) for p in processing_s], us(handling_s), us(travel_s))
    played = play(cell, horizon_s=30 * cycle_us / 1e6)
    assert intervals_us(played.left_at(), last=12) == [cycle_us] * 12


@pytest.mark.parametrize(("processing_s", "handling_s", "travel_s"), CELLS)
@pytest.mark.parametrize("turn_s", [0.5, 0.0])
def test_two_grippers_swap_at_every_machine_of_one_round(
    processing_s: tuple[float, ...], handling_s: float, travel_s: float, turn_s: float
) -> None:
    """An exchange is an unload, a turn of the gripper and a load."""
    cell = robot_cell(
        processing_s,
        handling_s,
        travel_s,
        grippers=2,
        exchanges_per_tour=len(processing_s),
        next_call={"fixed": ["stocker"]},
        exchange=seconds(2 * handling_s + turn_s),
    )
    cycle_us = swap_cycle_us([us(p) for p in processing_s], us(handling_s), us(travel_s), us(turn_s))
    played = play(cell, horizon_s=30 * cycle_us / 1e6)
    assert intervals_us(played.left_at(), last=12) == [cycle_us] * 12


def test_two_grippers_reach_the_same_cycle_by_their_calls_when_every_machine_is_done_in_time() -> None:
    """Processing shorter than the way from the last machine to the outfeed: all are finished when the tour ends."""
    cell = robot_cell((3.0, 2.0, 2.5), 1.0, 2.0, grippers=2, exchanges_per_tour=3, exchange=seconds(2.5))
    cycle_us = swap_cycle_us([3_000_000, 2_000_000, 2_500_000], 1_000_000, 2_000_000, 500_000)
    assert cycle_us == 25_500_000
    played = play(cell, horizon_s=30 * 25.5)
    assert intervals_us(played.left_at(), last=12) == [cycle_us] * 12
