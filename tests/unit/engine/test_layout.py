"""What a laid-out line says: travel times, the places a loader serves, chances, loops, ends without names."""

from __future__ import annotations

import pytest

import linesim
from linesim.engine.contract import records as r
from linesim.engine.contract.layout import laid_out, lay_out
from linesim.engine.contract.times import Times
from linesim.engine.contract.tours import stop_of, travel_time
from linesim.engine.simpy import run
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, gantry_line

US = 1_000_000


def test_travel_times_are_those_of_a_trapezoid_or_of_a_triangle_where_the_way_is_short() -> None:
    """2 m/s and 1 m/s2: full speed is reached over 4 m. 9 m: 9/2 + 2/1 = 6.5 s; 4 m: 4 s; 1 m: 2 sqrt(1) = 2 s."""
    hand = Hand(gantry_line(speed="2 m/s", acceleration="1 m/s2"))
    hand.set("gantry.1", AT=0)  # the stocker
    gantry = hand.at("gantry.1")
    assert travel_time(hand.floor, gantry, hand.at("tray")) == 6.5 * US
    assert travel_time(hand.floor, gantry, hand.at("stocker")) == 0
    hand.set("gantry.1", AT=1)  # turn at 2 m, grind at 6 m
    assert travel_time(hand.floor, gantry, hand.at("grind.1")) == 4 * US
    line = gantry_line(turn=2, speed="2 m/s", acceleration="1 m/s2")
    hand = Hand(line)
    hand.set("gantry.1", AT=1)  # turn.1 at 2 m, turn.2 at 3 m
    assert travel_time(hand.floor, hand.at("gantry.1"), hand.at("turn.2")) == 2 * US


def test_the_table_of_travel_times_is_the_same_both_ways() -> None:
    hand = Hand(gantry_line(turn=2, grind=2, park=1, speed="2 m/s", acceleration="1 m/s2"))
    size, first = hand.get("gantry.1", "N_LOADER_STOPS"), hand.get("gantry.1", "TRAVEL")
    assert size == 7
    table = [[hand.floor[first + row * size + column] for column in range(size)] for row in range(size)]
    assert table == [list(column) for column in zip(*table, strict=True)]


def test_stops_are_numbered_along_the_route_and_the_carriage_begins_at_the_first_in_the_file() -> None:
    line = gantry_line(turn=2)
    stops = line["loaders"]["gantry"]["stops"]
    line["loaders"]["gantry"]["stops"] = {name: stops[name] for name in ("turn", "stocker", "grind", "tray")}
    hand = Hand(line)
    gantry = hand.at("gantry.1")
    names = ["stocker", "turn.1", "turn.2", "grind.1", "tray"]
    assert [stop_of(hand.floor, gantry, hand.at(name)) for name in names] == [0, 1, 2, 3, 4]
    assert hand.get("gantry.1", "AT") == 1


def test_a_carriage_is_called_by_the_places_it_takes_parts_from_most_downstream_first() -> None:
    hand = Hand(gantry_line(turn=2, park=1, next_call=["park_1", "turn"]))
    first, count = hand.get("gantry.1", "SERVED"), hand.get("gantry.1", "N_SERVED")
    served = [hand.names[place] for place in hand.floor[first : first + count]]
    assert served == ["grind.1", "park_1", "turn.1", "turn.2", "stocker"]
    ranks = hand.floor[hand.get("gantry.1", "RANKS") :][:count]
    assert [name for _, name in sorted(zip(ranks, served, strict=True))][:3] == ["park_1", "turn.1", "turn.2"]
    assert ranks[0] < ranks[4]  # grind and stocker are not named: downstream first


def test_a_buffer_of_no_capacity_is_no_step() -> None:
    line = gantry_line(park=2)
    line["buffers"]["park_1"]["capacity"] = 0
    assert list(Hand(line).steps) == ["stocker", "turn", "grind", "tray"]


def test_a_route_without_ends_gets_unnamed_ones() -> None:
    line = serial({"turn": 5, "grind": 5})
    line |= {"route": ["turn", "grind"], "infeed": {}, "outfeed": {}}
    layout = lay_out(linesim.load_line(line))
    assert [owner.kind for owner in layout.owners] == ["infeed", "machine", "machine", "outfeed"]
    ends_here = [layout.floor[step + r.ENDS_HERE] for step in layout.stations.values()]
    assert ends_here == [0, 1]


@pytest.mark.parametrize(("places", "loop_places"), [(0, 3), (4, 7)])
def test_a_rework_loop_has_the_places_from_where_rejects_enter_to_where_they_are_found(
    places: int, loop_places: int
) -> None:
    gauge = {"cycle": "5 s", "inspection": {"rework": {"to": "grind"}}}
    hand = Hand(serial({"turn": 5, "grind": {"cycle": "5 s", "machines": 2}, "gauge": gauge}, [3, places]))
    loop = hand.floor[r.LOOPS]
    assert hand.floor[loop + r.LOOP_PLACES] == loop_places


def test_chances_of_defects_are_written_as_running_sums_in_parts_per_billion() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "defects": {"chip": "0.4 %", "dent": "200 ppm"}}}))
    assert hand.floor[hand.step("turn", "DEFECTS") :][:2] == [4_000_000, 4_200_000]


def test_no_two_records_overlap() -> None:
    """Every record that has an owner number still has its own after all were written."""
    hand = Hand(gantry_line(turn=3, grind=2, park=4))
    for name in [*hand.names.values()]:
        if name in {owner.name for owner in hand.layout.owners}:
            number = hand.get(name, "CREW_NUMBER" if name in hand.layout.crews else "NUMBER")
            assert hand.layout.owners[number].name == name


def test_the_floor_of_a_line_is_kept_for_its_next_replication_and_a_run_leaves_it_as_it_was() -> None:
    line, other = linesim.load_line(serial({"turn": 4})), linesim.load_line(serial({"turn": 5}))
    layout = laid_out(line)
    before = list(layout.floor)
    run(line, 1, 1, Times(0, 100 * US, 50 * US))
    assert laid_out(line) is layout
    assert layout.floor == before
    assert laid_out(other) is not layout
    assert laid_out(line) is not layout, "only that of the last line is kept"
