"""Swaps, loader breakdowns and targets that fail under way, worked out by hand in whole seconds.

The loader makes 1 m/s at once and needs 1 s to pick or place, 2 s to load or unload, 3 s to exchange.
"""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, breakdown, loader, serial
from tests.helpers.running import play

TIMES: Plain = {"load": "2 s", "unload": "2 s", "exchange": "3 s"}


def one_machine(station: Any, stops: dict[str, float] | None = None, **keys: Any) -> Plain:
    at = stops or {"stocker": 0, "turn": 2, "tray": 4}
    return serial({"turn": station}, loaders={"gantry": loader(at, **{**TIMES, **keys})})


def two_machines(**keys: Any) -> Plain:
    """turn 1 s at 2 m, grind 1 s at 4 m, tray 6 m, two grippers."""
    stops = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    return serial({"turn": 1, "grind": 1}, loaders={"gantry": loader(stops, grippers=2, **TIMES, **keys)})


def test_a_finished_machine_is_served_with_the_next_part_in_the_other_gripper() -> None:
    """turn 10 s. Part 1: pick 0-1, go -3, load -5, works 5-15.

    Then a swap: go to the stocker 15-17, pick -18, go -20, exchange -23, go -25, place -26. The next one starts at 33 s
    from the tray: go -37, pick -38, go -40, exchange -43, go -45, place -46.
    """
    played = play(one_machine(10, grippers=2), horizon_s=47)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (18, 23, 2, "stocker", "turn.1"),
        (23, 26, 1, "turn.1", "tray"),
        (38, 43, 3, "stocker", "turn.1"),
        (43, 46, 2, "turn.1", "tray"),
    ]
    assert played.states("turn.1") == [
        (0, "waiting_loader"),
        (3, "loading"),
        (5, "working"),
        (15, "waiting_loader"),
        (20, "loading"),
        (23, "working"),
        (33, "waiting_loader"),
        (40, "loading"),
        (43, "working"),
    ]


def test_one_gripper_makes_two_trips_of_a_swap() -> None:
    """Unload 15-17, go -19, place -20; back to the stocker -24, pick -25, go -27, load -29."""
    played = play(one_machine(10), horizon_s=30)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (17, 20, 1, "turn.1", "tray"),
        (25, 29, 2, "stocker", "turn.1"),
    ]


def test_a_tour_swaps_at_most_as_often_as_it_may() -> None:
    """One exchange a tour.

    Part 1 is on turn at 5 s and finished at 6 s; grind is empty, so the tour swaps at turn: go -8, pick -9, go -11,
    exchange -14, go -16, load grind -18. At 19 s both machines are finished. The chosen call is that of grind; the part
    for it waits in turn: go -21, unload -23, go -25, exchange -28, go -30, place -31. turn is left empty.
    """
    played = play(two_machines(), horizon_s=32)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (9, 14, 2, "stocker", "turn.1"),
        (14, 18, 1, "turn.1", "grind.1"),
        (23, 28, 2, "turn.1", "grind.1"),
        (28, 31, 1, "grind.1", "tray"),
    ]


def test_a_machine_whose_part_a_swap_would_fetch_waits_for_the_loader_and_is_not_blocked() -> None:
    """The same cell with the loader down from 18.5 to 30 s. turn is finished from 15 s on, grind occupied from 18 s on.

    Until 19 s no tour could take the part from turn; then grind is finished, and a tour for its part would swap.
    """
    trip = breakdown(18.5, 11.5, clock="calendar")
    played = play(two_machines(breakdowns={"t": trip}), horizon_s=33)
    assert played.states("turn.1")[-4:] == [
        (14, "working"),
        (15, "blocked"),
        (19, "waiting_loader"),
        (32, "loading"),
    ]
    assert played.states("grind.1")[-2:] == [(18, "working"), (19, "waiting_loader")]


def test_two_exchanges_chain_when_both_machines_are_finished() -> None:
    """The same cell with two exchanges a tour: at 19 s the tour begins at the stocker and swaps at both machines.

    Go 19-23, pick -24, go -26, exchange -29, go -31, exchange -34, go -36, place -37.
    """
    played = play(two_machines(exchanges_per_tour=2), horizon_s=38)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (9, 14, 2, "stocker", "turn.1"),
        (14, 18, 1, "turn.1", "grind.1"),
        (24, 29, 3, "stocker", "turn.1"),
        (29, 34, 2, "turn.1", "grind.1"),
        (34, 37, 1, "grind.1", "tray"),
    ]


def test_the_stops_of_a_tour_are_told_when_it_is_chosen() -> None:
    played = play(one_machine(10, grippers=2), horizon_s=18)
    names = [owner.name for owner in played.trace.owners]
    assert [(time_s, names[value]) for time_s, _, _, value in played.rows(What.TOUR)] == [
        (0, "stocker"),
        (0, "turn.1"),
        (15, "stocker"),
        (15, "turn.1"),
        (15, "tray"),
    ]


def test_a_loader_breakdown_stops_the_leg_and_the_rest_resumes() -> None:
    """Calendar breakdown at 16 s for 4 s, in the middle of the leg to the stocker: 1 s is left, there at 21 s.

    Pick -22, go -24, exchange -27, go -29, place -30: all of it 4 s later than without.
    """
    trip = breakdown(16, 4, clock="calendar")
    played = play(one_machine(10, grippers=2, breakdowns={"trip": trip}), horizon_s=31)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (22, 27, 2, "stocker", "turn.1"),
        (27, 30, 1, "turn.1", "tray"),
    ]
    assert played.states("gantry.1")[4:7] == [(15, "moving_empty"), (16, "under_repair"), (20, "moving_empty")]
    assert played.states("turn.1")[3:5] == [(15, "waiting_loader"), (24, "loading")]


def test_a_loader_that_fails_while_idle_takes_no_call_until_it_is_repaired() -> None:
    """Calendar breakdown at 12 s for 8 s: the call of 15 s is taken at 20 s."""
    trip = breakdown(12, 8, clock="calendar")
    played = play(one_machine(10, breakdowns={"trip": trip}), horizon_s=26)
    assert played.carried() == [(1, 5, 1, "stocker", "turn.1"), (22, 25, 1, "turn.1", "tray")]


def test_a_loader_waits_in_front_of_a_target_that_failed_under_way() -> None:
    """turn at 20 m fails at 15 s (calendar) for 10 s; the loader is there from 21 s, loads from 25 to 27 s."""
    station = {"cycle": "10 s", "breakdowns": {"jam": breakdown(15, 10, clock="calendar")}}
    played = play(one_machine(station, {"stocker": 0, "turn": 20, "tray": 22}), horizon_s=38)
    assert played.carried() == [(1, 27, 1, "stocker", "turn.1")]
    assert played.states("gantry.1")[:5] == [
        (0, "handling"),
        (1, "moving_loaded"),
        (21, "waiting_at_machine"),
        (25, "handling"),
        (27, "idle"),
    ]
    assert played.states("turn.1")[:5] == [
        (0, "waiting_loader"),
        (15, "under_repair"),
        (25, "loading"),
        (27, "working"),
        (37, "loading"),  # the loader is still there
    ]


def test_handling_that_has_begun_is_finished_in_a_machine_that_fails_meanwhile() -> None:
    """turn fails at 4 s for 10 s while it is loaded from 3 to 5 s: the part is in at 5 s and worked from 14 s on."""
    station = {"cycle": "3 s", "breakdowns": {"jam": breakdown(4, 10, clock="calendar")}}
    played = play(one_machine(station), horizon_s=18)
    assert played.carried() == [(1, 5, 1, "stocker", "turn.1")]
    assert played.operations("turn.1") == [(14, 17, 1)]


def test_a_loader_passes_over_an_empty_buffer_but_not_over_one_with_dwell() -> None:
    """turn 2 m, park 4 m, grind 6 m. Without dwell: unload 6-8, go -12, load -14.

    With 20 s of dwell the part is set down: go -10, place -11. Part 2 meanwhile: go -15, pick -16, go -18, load -20.
    The stay is over at 31 s: go -33, pick -34, go -36, load -38.
    """
    stops = {"stocker": 0, "turn": 2, "park_1": 4, "grind": 6, "tray": 8}

    def line(**buffer: Any) -> Plain:
        given = serial({"turn": 1, "grind": 50}, [1], loaders={"gantry": loader(stops, **TIMES)})
        return given | {"buffers": {"park_1": {"capacity": 1, **buffer}}}

    assert play(line(), horizon_s=15).carried() == [(1, 5, 1, "stocker", "turn.1"), (8, 14, 1, "turn.1", "grind.1")]
    assert play(line(dwell="20 s"), horizon_s=39).carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (8, 11, 1, "turn.1", "park_1"),
        (16, 20, 2, "stocker", "turn.1"),
        (34, 38, 1, "park_1", "grind.1"),
    ]


def test_a_station_before_service_reserves_the_room_its_loader_will_fill() -> None:
    """turn 2 s starts only while grind is empty: part 2 is loaded at 22 s and waits until grind is unloaded at 37 s."""
    stops = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    stations = {"turn": {"cycle": "2 s", "blocking": "before_service"}, "grind": 20}
    played = play(serial(stations, loaders={"gantry": loader(stops, **TIMES)}), horizon_s=45)
    assert played.carried() == [
        (1, 5, 1, "stocker", "turn.1"),
        (9, 13, 1, "turn.1", "grind.1"),
        (18, 22, 2, "stocker", "turn.1"),
        (37, 40, 1, "grind.1", "tray"),
    ]
    assert played.operations("turn.1") == [(5, 7, 1), (37, 39, 2)]
