"""Where a carriage is: by hand, and always in front of the place that it serves."""

import itertools
from typing import Any

import pytest

from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import What
from linesim.engine.simpy import run
from linesim.line import load_line
from linesim.line.ways import travel_s
from linesim.report.motion import Stretch, gone_m, positions, stretches
from tests.unit.line.lines import two_carriages

OFTEN_DOWN = "loaders.gantry.breakdowns.trip={mtbf: 10 min, mttr: 2 min}"


@pytest.mark.parametrize(
    ("distance_m", "time_s", "gone"),
    [(4, 0.5, 0.125), (4, 1, 0.5), (4, 2.5, 2), (4, 4.5, 3.875), (4, 5, 4), (4, 9, 4), (0.5, 0.5, 0.125), (0, 1, 0)],
)
def test_a_carriage_starts_runs_and_stops_at_1_m_s_and_1_m_s2(distance_m: float, time_s: float, gone: float) -> None:
    assert gone_m(distance_m, time_s, 1, 1) == pytest.approx(gone)


@pytest.mark.parametrize("distance_m", [0.3, 2.0, 20.5])
def test_it_arrives_just_when_the_travel_time_is_over(distance_m: float) -> None:
    whole_s = travel_s(distance_m, 2.5, 3)
    assert gone_m(distance_m, whole_s, 2.5, 3) == pytest.approx(distance_m)
    assert gone_m(distance_m, whole_s - 0.1, 2.5, 3) < distance_m - 0.001


@pytest.mark.parametrize(
    ("source", "overrides"),
    [
        ("ring_cell", []),
        ("ring_cell", [OFTEN_DOWN]),
        ("ring_cell", ["loaders.gantry.park_at=cool"]),
        (two_carriages(), [OFTEN_DOWN]),
    ],
)
def test_a_carriage_stands_in_front_of_every_place_that_it_serves(source: Any, overrides: list[str]) -> None:
    line = load_line(source, overrides=overrides)
    trace = run(line, 3, 1, Times(0, 2 * HOUR_US, HOUR_US), trace=True)[1]
    assert trace is not None
    at, moves = positions(trace, line), stretches(trace, line)
    served = 0
    for time_us, what, place, _, carriage in trace.rows.tolist():
        if what in (What.LEAVE, What.ARRIVE) and carriage >= 0:
            assert standing_m(moves[carriage], time_us) == pytest.approx(at[carriage][place]), time_us
            served += 1
    assert served > 100


def standing_m(moves: list[Stretch], time_us: int) -> float:
    """Where a carriage stands that does not move at that time."""
    ended = [move for move in moves if move.to_us <= time_us]
    assert not [move for move in moves if move.from_us < time_us < move.to_us]
    return ended[-1].to_m if ended else moves[0].from_m


def test_a_leg_that_a_breakdown_cuts_goes_on_where_it_stopped() -> None:
    line = load_line("ring_cell", overrides=[OFTEN_DOWN])
    trace = run(line, 3, 1, Times(0, 4 * HOUR_US, HOUR_US), trace=True)[1]
    assert trace is not None
    (moves,) = stretches(trace, line).values()
    cut = [(one, two) for one, two in itertools.pairwise(moves) if two.done_us > 0]
    assert cut
    assert all(two.done_us == one.done_us + one.to_us - one.from_us for one, two in cut)
    assert all((two.from_m, two.to_m) == (one.from_m, one.to_m) for one, two in cut)
