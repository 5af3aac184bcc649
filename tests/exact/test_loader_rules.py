"""Which call a free loader takes: one line, five rules, each worked out by hand in whole seconds.

The loader makes 1 m/s at once, every handling takes 1 s. turn (cycle 1 s) stands beside the stocker and the tray, grind
(cycle 20 s) and the park place with two places far from both: tray 0 m, stocker 1 m, turn 2 m, grind 8 m, park 9 m.
All rules begin alike, as there is one call at a time: part 1 goes to turn (0 to 3 s), past the empty park to grind
(4 to 12 s), then part 2 to turn (12 to 22 s) and, grind being busy, to the park (23 to 32 s).
"""

from __future__ import annotations

from typing import Any

from tests.helpers.lines import Plain, loader, serial
from tests.helpers.running import Play, play

Carried = tuple[float, float, int, str, str]

BEGINNING: list[Carried] = [
    (1, 3, 1, "stocker", "turn.1"),
    (5, 12, 1, "turn.1", "grind.1"),
    (20, 22, 2, "stocker", "turn.1"),
    (24, 32, 2, "turn.1", "park_1"),
]


def cell(next_call: Any) -> Plain:
    stops = {"stocker": 1, "turn": 2, "park_1": 9, "grind": 8, "tray": 0}
    return serial({"turn": 1, "grind": 20}, [2], loaders={"gantry": loader(stops, next_call=next_call)})


def after_32_s(next_call: Any, horizon_s: float) -> list[Carried]:
    carried = play(cell(next_call), horizon_s).carried()
    assert carried[: len(BEGINNING)] == BEGINNING
    return carried[len(BEGINNING) :]


def test_downstream_first_empties_the_last_machine_and_then_the_park() -> None:
    """At 32 s grind has just finished part 1 (down to the tray until 43 s), while the stocker has waited since 24 s.

    At 43 s the park (9 m away, part 2 for grind) comes before the stocker (1 m away).
    """
    assert after_32_s("downstream_first", horizon_s=57) == [
        (34, 43, 1, "grind.1", "tray"),
        (53, 55, 2, "park_1", "grind.1"),
    ]


def test_longest_waiting_counts_from_the_opening_of_the_call() -> None:
    """At 32 s the stocker has waited since 24 s, grind since 32 s. At 43 s only grind calls.

    At 59 s turn has waited since 44 s (part 3 finished), the park since 50 s (grind unloaded).
    """
    assert after_32_s("longest_waiting", horizon_s=71) == [
        (41, 43, 3, "stocker", "turn.1"),
        (50, 59, 1, "grind.1", "tray"),
        (62, 70, 3, "turn.1", "park_1"),
    ]


def test_nearest_goes_to_the_closest_start_of_a_tour() -> None:
    """At 32 s at the park: grind is 1 m away, the stocker 8 m. At 43 s at the tray: the stocker 1 m, the park 9 m."""
    assert after_32_s("nearest", horizon_s=48) == [
        (34, 43, 1, "grind.1", "tray"),
        (45, 47, 3, "stocker", "turn.1"),
    ]


def test_a_list_of_places_is_an_order_of_priority() -> None:
    """At 32 s the stocker comes before grind, at 59 s the park before turn, which has waited longer."""
    assert after_32_s(["stocker", "grind", "park_1", "turn"], horizon_s=72) == [
        (41, 43, 3, "stocker", "turn.1"),
        (50, 59, 1, "grind.1", "tray"),
        (69, 71, 2, "park_1", "grind.1"),
    ]


def test_a_fixed_round_travels_ahead_and_waits_for_its_part() -> None:
    """Round grind, park, turn, stocker. Empty places that the loader itself feeds are passed over.

    Part 1: stocker, then turn, where the loader waits from 3 to 4 s; past the empty park to grind by 12 s. The round
    goes on with the stocker: part 2 on turn at 22 s. Then grind, 6 m away: there at 28 s, it waits until part 1 is
    finished at 32 s; on the tray at 42 s. The park is empty; turn at 44 s, past the park to the empty grind at 52 s.
    """
    played = play(cell({"fixed": ["grind", "park_1", "turn", "stocker"]}), horizon_s=53)
    assert played.carried() == [
        (1, 3, 1, "stocker", "turn.1"),
        (5, 12, 1, "turn.1", "grind.1"),
        (20, 22, 2, "stocker", "turn.1"),
        (33, 42, 1, "grind.1", "tray"),
        (45, 52, 2, "turn.1", "grind.1"),
    ]
    assert [since for since, state in played.states("gantry.1") if state == "waiting_at_machine"] == [3, 28]


def single_gripper_cell() -> Play:
    """stocker 0 m, turn 2 m (10 s), grind 4 m (5 s), tray 6 m, no buffer."""
    stops = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    return play(serial({"turn": 10, "grind": 5}, loaders={"gantry": loader(stops)}), horizon_s=60)


def test_one_gripper_and_two_machines_follow_the_loader_diagram() -> None:
    """Nothing can go to a machine before it is empty, so the loader makes three trips a part, 26 s in all.

    Trip 1: pick 0-1, go -3, load -4. turn works 4-14. Trip 2: unload 14-15, go -17, load -18; grind works 18-23.
    Back for part 2: go -22, pick -23, go -25, load -26; turn works 26-36. Then go -28, unload -29, go -31, place -32.
    Idle until 36; go to turn -40, unload -41, go -43, load -44; and so on 26 s later.
    """
    played = single_gripper_cell()
    assert played.carried() == [
        (1, 4, 1, "stocker", "turn.1"),
        (15, 18, 1, "turn.1", "grind.1"),
        (23, 26, 2, "stocker", "turn.1"),
        (29, 32, 1, "grind.1", "tray"),
        (41, 44, 2, "turn.1", "grind.1"),
        (49, 52, 3, "stocker", "turn.1"),
        (55, 58, 2, "grind.1", "tray"),
    ]


def test_states_of_loader_and_machines_follow_the_loader_diagram() -> None:
    played = single_gripper_cell()
    assert played.states("gantry.1")[:19] == [
        (0, "handling"),
        (1, "moving_loaded"),
        (3, "handling"),
        (4, "idle"),
        (14, "handling"),
        (15, "moving_loaded"),
        (17, "handling"),
        (18, "moving_empty"),
        (22, "handling"),
        (23, "moving_loaded"),
        (25, "handling"),
        (26, "moving_empty"),
        (28, "handling"),
        (29, "moving_loaded"),
        (31, "handling"),
        (32, "idle"),
        (36, "moving_empty"),
        (40, "handling"),
        (41, "moving_loaded"),
    ]
    assert played.states("turn.1") == [
        (0, "waiting_loader"),  # reserved by the first trip
        (3, "loading"),
        (4, "working"),
        (14, "loading"),
        (15, "waiting_loader"),  # empty, and a blank is ready
        (25, "loading"),
        (26, "working"),
        (36, "waiting_loader"),
        (40, "loading"),
        (41, "waiting_loader"),
        (51, "loading"),
        (52, "working"),
    ]
    assert played.states("grind.1") == [
        (0, "starved"),
        (14, "waiting_loader"),  # reserved for part 1
        (17, "loading"),
        (18, "working"),
        (23, "waiting_loader"),
        (28, "loading"),
        (29, "starved"),
        (36, "waiting_loader"),
        (43, "loading"),
        (44, "working"),
        (49, "waiting_loader"),
        (54, "loading"),
        (55, "starved"),
    ]


def test_an_idle_carriage_goes_to_its_parking_place() -> None:
    """Parked at the stocker: from 4 to 6 s it goes there, so part 1 is fetched 2 s later than without."""
    stops = {"stocker": 0, "turn": 2, "grind": 4, "tray": 6}
    line = serial({"turn": 10, "grind": 5}, loaders={"gantry": loader(stops, park_at="stocker")})
    played = play(line, horizon_s=21)
    assert played.carried() == [(1, 4, 1, "stocker", "turn.1"), (17, 20, 1, "turn.1", "grind.1")]
    assert played.states("gantry.1")[3:6] == [(4, "moving_empty"), (6, "idle"), (14, "moving_empty")]


def test_handling_times_of_one_stop_differ_from_the_others() -> None:
    """Load 5 s at turn only: part 1 is on turn at 1 + 2 + 5 = 8 s."""
    stops = {"stocker": 0, "turn": {"at": 2, "load": "5 s"}, "grind": 4, "tray": 6}
    line = serial({"turn": 10, "grind": 5}, loaders={"gantry": loader(stops)})
    assert play(line, horizon_s=23).carried() == [(1, 8, 1, "stocker", "turn.1"), (19, 22, 1, "turn.1", "grind.1")]


def test_each_machine_of_a_station_has_its_own_stop() -> None:
    """Two lathes at 2 m and 5 m, 30 s each: part 1 to the first, part 2 to the second, 5 m from the stocker."""
    stops = {"stocker": 0, "turn": [2, 5], "tray": 6}
    line = serial({"turn": {"cycle": "30 s", "machines": 2}}, loaders={"gantry": loader(stops)})
    assert play(line, horizon_s=20).carried() == [(1, 4, 1, "stocker", "turn.1"), (7, 13, 2, "stocker", "turn.2")]


def test_a_reject_is_scrapped_in_the_gauge_without_a_trip() -> None:
    """gauge 4 s at 2 m rejects every part: it is empty again at once, and the next part is fetched."""
    stops = {"stocker": 0, "gauge": 2, "tray": 4}
    gauge = {"cycle": "4 s", "inspection": {"false_alarms": "100 %"}}
    played = play(serial({"gauge": gauge}, loaders={"gantry": loader(stops)}), horizon_s=19)
    assert played.departures() == [(8, 1, "scrapped"), (18, 2, "scrapped")]
    assert played.carried() == [(1, 4, 1, "stocker", "gauge.1"), (11, 14, 2, "stocker", "gauge.1")]


def test_a_fixed_round_serves_a_machine_that_reserved_its_room_before_service() -> None:
    """saw 1 s at 0 m starts only while wash 7 s at 2 m is empty; the loader's round is saw alone.

    Part 1: saw 0-1, unload -2, go -4, load -5, wash -12. Part 2 is on saw from 2 s, but wash is empty at 12 s only: saw
    -13, unload -14, go -16, load -17, wash -24.
    """
    line = serial({"saw": {"cycle": "1 s", "blocking": "before_service"}, "wash": 7})
    line["loaders"] = {"gantry": loader({"saw": 0, "wash": 2}, next_call={"fixed": ["saw"]})}
    played = play(line, horizon_s=25)
    assert played.operations("saw.1") == [(0, 1, 1), (12, 13, 2)]
    assert played.left_at() == [12, 24]


def test_a_fixed_round_over_parallel_machines_before_service_does_not_wait_for_the_wrong_one() -> None:
    """Two saws of 4 s at 0 m and 1 m start only while wash 1 s at 5 m is empty; the loader's round is saw alone.

    Part 1: saw.1 0-4, unload -5, go -10, load -11, wash -12. At 12 s one of the two waiting saws may start, and the
    loader sets off for it then at the latest: 5 s there, 1 + 5 + 1 s to wash, 1 s of work, 13 s a part at most.
    """
    saw = {"cycle": "4 s", "machines": 2, "blocking": "before_service"}
    line = serial({"saw": saw, "wash": 1})
    line["loaders"] = {"gantry": loader({"saw": [0, 1], "wash": 5}, next_call={"fixed": ["saw"]})}
    left_at = play(line, horizon_s=66).left_at()
    assert left_at[0] == 12
    assert len(left_at) >= 5
