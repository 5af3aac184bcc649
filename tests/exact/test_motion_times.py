"""Legs of a carriage take the time that its trapezoid or triangle of speed needs, to the microsecond."""

from __future__ import annotations

import pytest

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, alone, seconds
from tests.helpers.running import play


def shuttle(way_m: float, speed: str, acceleration: str) -> Plain:
    """A loader between a stocker at 0 m and a machine, so that its second leg is `way_m` long."""
    times = {key: seconds(1.0) for key in ("pick", "place", "load", "unload", "exchange")}
    stops = {"stocker": "0 m", "mill": f"{way_m} m"}
    return alone(50.0, loaders={"gantry": {"stops": stops, "speed": speed, "acceleration": acceleration, **times}})


@pytest.mark.parametrize(
    ("way_m", "speed", "acceleration", "expected_us", "by_hand"),
    [
        (3.0, "2.5 m/s", "3 m/s2", 2_033_333, "trapezoid, 3/2.5 + 2.5/3"),
        (1.8, "2.5 m/s", "3 m/s2", 1_549_193, "triangle, 2 sqrt(1.8/3) = 2 sqrt(0.6)"),
        (2.5, "2.5 m/s", "3 m/s2", 1_833_333, "trapezoid, 1 + 2.5/3; top speed needs 6.25/3 = 2.0833 m"),
        (2.0833333333333335, "2.5 m/s", "3 m/s2", 1_666_667, "just reaches top speed: 2 x 2.5/3"),
        (0.75, "2.5 m/s", "3 m/s2", 1_000_000, "triangle, 2 sqrt(0.25)"),
        (16.0, "3.5 m/s", "4.5 m/s2", 5_349_206, "trapezoid, 16/3.5 + 3.5/4.5 = 4.571429 + 0.777778"),
        (2.5, "3.5 m/s", "4.5 m/s2", 1_490_712, "triangle, 2 sqrt(2.5/4.5) = 2 sqrt(0.555556)"),
        (0.0, "2.5 m/s", "3 m/s2", 0, "another stop at the same position"),
    ],
)
def test_a_leg_takes_the_time_worked_out_by_hand(
    way_m: float, speed: str, acceleration: str, expected_us: int, by_hand: str
) -> None:
    played = play(shuttle(way_m, speed, acceleration), horizon_s=20)
    legs = [value for _, _, _, value in played.rows(What.LEG)]
    assert legs[0] == expected_us, by_hand
    loaded_at_s = 1 + expected_us / 1e6 + 1
    assert played.carried() == [(1.0, pytest.approx(loaded_at_s, abs=1e-9), 1, "stocker", "mill.1")]
