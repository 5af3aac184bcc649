"""Which neighbours a loader joins, how long a move takes, and whose handling times count."""

import pytest

from linesim.line import load_line
from linesim.line.ways import handling, places, travel_s, ways
from tests.unit.line.lines import cell


@pytest.mark.parametrize(
    ("distance_m", "expected_s"),
    [(0, 0), (3, 3 / 2.5 + 2.5 / 3), (2.5**2 / 3, 2 * 2.5 / 3), (0.75, 1.0)],
)
def test_a_move_is_a_trapezoid_or_a_triangle_of_speed(distance_m, expected_s):
    """At 2.5 m/s and 3 m/s2 a 3 m move takes 2.03 s; below v2/a = 2.08 m it takes 2 sqrt(D/a)."""
    assert travel_s(distance_m, 2.5, 3) == pytest.approx(expected_s)


def test_neighbours_that_are_both_stops_of_a_loader_are_joined_and_others_hand_over():
    source = cell()
    del source["loaders"]["gantry"]["stops"]["tray"]
    line = load_line(source)
    assert [(way.start, way.end, way.loader) for way in ways(line)] == [
        ("blanks", "turn", "gantry"),
        ("turn", "park", "gantry"),
        ("park", "grind", "gantry"),
        ("grind", "tray", None),
    ]


def test_a_buffer_without_places_is_no_place():
    assert places(load_line(cell(), ["buffers.park.capacity=0"])) == ["blanks", "turn", "grind", "tray"]


def test_a_stops_own_times_go_before_the_loaders_and_exchange_stands_in_for_load_and_unload():
    overrides = ["loaders.gantry.load=null", "loaders.gantry.stops.grind={at: 6 m, exchange: 9 s, unload: 1 s}"]
    gantry = load_line(cell(), overrides).loaders["gantry"]
    assert handling(gantry, gantry.stops["turn"]) == (3, 4, 7, 6, 7)
    assert handling(gantry, gantry.stops["grind"]) == (3, 4, 9, 1, 9)
