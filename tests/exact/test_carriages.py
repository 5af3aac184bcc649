"""Several carriages on one rail, worked out by hand in whole seconds.

They make 1 m/s at once and need 1 s to pick, place, load or unload; one gripper each; they stay 2 m apart.
"""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, loader, serial
from tests.helpers.running import Play, play

STOPS = {"stocker": 0, "turn": 2, "park_1": 5, "grind": 8, "tray": 10}
TWO = {"left": {"stops": ["stocker", "turn", "park_1"]}, "right": {"stops": ["park_1", "grind", "tray"]}}


def on_one_rail(line: Plain, stops: Plain, carriages: Plain) -> Plain:
    return {**line, "loaders": {"gantry": {**loader(stops), "carriages": carriages, "apart": "2 m"}}}


def cell(turn: Any, grind: Any, places: int = 1, carriages: Plain | None = None) -> Plain:
    return on_one_rail(serial({"turn": turn, "grind": grind}, [places]), STOPS, carriages or TWO)


def aside(played: Play, carriage: str) -> list[tuple[float, float, float]]:
    """(begins, ends, point on the rail) whenever this carriage gave way."""
    rows = played.rows(What.GIVE_WAY)
    return [(time_s, time_s + us / 1e6, um / 1e6) for time_s, owner, um, us in rows if owner == carriage]


def in_state(played: Play, carriage: str, state: str) -> list[tuple[float, float]]:
    told = [*played.states(carriage), (played.ledger.horizon_us / 1e6, "")]
    return [(told[n][0], told[n + 1][0]) for n in range(len(told) - 1) if told[n][1] == state]


def test_two_carriages_hand_over_at_a_buffer_and_wait_for_the_stretch_that_the_other_holds() -> None:
    """turn works 4 s, grind 10 s, one place in between. Right begins at the park.

    Part 1: pick 0-1, go -3, load -4, turn 4-8, unload -9. Left wants the park at 5 m; right stands there idle and gives
    way to 7 m, 9-11; left goes 11-14, places -15. Then left goes for the next blank, 15-20, and holds 0 to 5 m, so
    right waits until 20, goes 7 to 5 m -22, picks -23, goes -26, loads -27: grind 27-37.
    Part 2: pick 20-21, go -23, load -24, turn 24-28, unload -29, go -32 (right stands at 8 m), place -33.
    Part 3: back at 38, pick -39, go -41, load -42, turn 42-46; the park is full until right has picked part 2.
    Right: unload 37-38, go -40, place part 1 -41, go back to the park -46, pick part 2 -47, go to grind -50, load -51.
    Left: unload 47-48, waits until right has come to 8 m at 50, goes -53, places -54.
    """
    played = play(cell(4, 10), horizon_s=54.5)
    assert played.carried() == [
        (1, 4, 1, "stocker", "turn.1"),
        (9, 15, 1, "turn.1", "park_1"),
        (21, 24, 2, "stocker", "turn.1"),
        (23, 27, 1, "park_1", "grind.1"),
        (29, 33, 2, "turn.1", "park_1"),
        (38, 41, 1, "grind.1", "tray"),
        (39, 42, 3, "stocker", "turn.1"),
        (47, 51, 2, "park_1", "grind.1"),
        (48, 54, 3, "turn.1", "park_1"),
    ]
    assert aside(played, "gantry.right") == [(9, 11, 7)]
    assert aside(played, "gantry.left") == []
    assert in_state(played, "gantry.left", "waiting_for_way") == [(9, 11), (48, 50)]
    assert in_state(played, "gantry.right", "waiting_for_way") == [(15, 20)]


def without_infeed(carriages: Plain) -> Plain:
    """turn never lacks a part, works 10 s and begins the next one as it is unloaded; grind works 3 s."""
    line = serial({"turn": 10, "grind": 3}, [1], infeed={}, route=["turn", "park_1", "grind", "tray"])
    stops = {place: at for place, at in STOPS.items() if place != "stocker"}
    return on_one_rail(line, stops, carriages)


def test_an_idle_carriage_moves_off_just_as_far_as_needed_and_comes_back_for_its_call() -> None:
    """Left: unload 10-11, park 14, place -15, and stands there idle. Right at 8 m wants the park: left goes to 3 m.

    Right goes 17-20, picks -21, goes -24, loads -25, grind 25-28, unload -29, tray 31, place -32.
    Left: turn has finished its second part at 21: 3 to 2 m -22, unload -23, waits until right is at 8 m, park 24-27,
    place -28. Right is back at the tray at 32 and wants the park again: left to 3 m, 32-34; right 34-39.
    """
    carriages = {"left": {"stops": ["turn", "park_1"]}, "right": {"stops": ["grind", "park_1", "tray"]}}
    played = play(without_infeed(carriages), horizon_s=39.5)
    assert aside(played, "gantry.left") == [(15, 17, 3), (32, 34, 3)]
    assert aside(played, "gantry.right") == []
    assert in_state(played, "gantry.right", "waiting_for_way") == [(15, 17), (32, 34)]
    assert in_state(played, "gantry.left", "waiting_for_way") == [(23, 24)]
    assert [(picked, placed) for picked, placed, *_ in played.carried()] == [(11, 15), (21, 25), (23, 28), (29, 32)]


def test_a_carriage_with_a_place_to_park_at_goes_there_before_anyone_asks() -> None:
    """As above, but left parks at turn: 15-18, so right goes 18-21 and is in nobody's way for a second more."""
    left = {"stops": ["turn", "park_1"], "park_at": "turn"}
    played = play(without_infeed({"left": left, "right": {"stops": ["grind", "park_1", "tray"]}}), horizon_s=23)
    assert aside(played, "gantry.left") == []
    assert in_state(played, "gantry.left", "moving_empty") == [(15, 18)]
    assert in_state(played, "gantry.right", "waiting_for_way") == [(15, 18)]
    assert [picked for picked, *_ in played.carried()] == [11]


def test_a_carriage_that_waits_at_a_machine_gives_way_and_returns_when_the_part_is_ready() -> None:
    """turn lies at 6 m, beyond the park at 5 m; it works 20 s and calls 15 s ahead. grind at 10 m works 50 s.

    Part 1 is in grind at 48, until 98. Left has put part 2 into the park (two places) at 77 and part 3 into turn at 90,
    and waits for it there from 95 on. Right: unload 98-99, tray 101, place -102; it wants the park for part 2, so left
    goes to 3 m, 102-105. Right goes 12 to 5 m -112, picks -113, goes -118. Part 3 is ready at 110: left waits for the
    way until 118, goes -121, unloads -122, goes -123, places -124.
    """
    line = serial({"turn": {"cycle": "20 s", "call_ahead": "15 s"}, "grind": 50}, [2])
    stops = {"stocker": 0, "turn": 6, "park_1": 5, "grind": 10, "tray": 12}
    carriages = {"left": {"stops": ["stocker", "turn", "park_1"]}, "right": {"stops": ["grind", "park_1", "tray"]}}
    played = play(on_one_rail(line, stops, carriages), horizon_s=124)
    assert aside(played, "gantry.left") == [(102, 105, 3)]
    assert played.states("gantry.left")[-8:] == [
        (95, "waiting_at_machine"),
        (102, "moving_empty"),
        (105, "waiting_at_machine"),
        (110, "waiting_for_way"),
        (118, "moving_empty"),
        (121, "handling"),
        (122, "moving_loaded"),
        (123, "handling"),
    ]
    assert played.carried()[-2:] == [(99, 102, 1, "grind.1", "tray"), (113, 119, 2, "park_1", "grind.1")]


def test_of_three_carriages_the_outer_ones_move_aside_first() -> None:
    """turn at 3 m works 4 s, park at 6 m, tray at 9 m; the carriages begin at 0, 3 and 6 m.

    Left picks 0-1 and wants turn: right goes from 6 to 7 m, 1-2, then mid from 3 to 5 m, 2-4, then left 4-7, loads -8.
    turn 8-12. Mid wants it: left goes from 3 to 1 m, 12-14; mid 14-16, unloads -17. Mid wants the park: right goes from
    7 to 8 m, 17-18; mid 18-21, places -22. Left fetches part 2, 1 to 0 m -18, pick -19, and waits until 21 for turn,
    24, loads -25. Right wants the park since 22: left must go to 2 m, 25-26, then mid to 4 m, 26-28; right 28-30,
    picks -31, tray 34, places -35. From 31 on the park has room for part 2: mid wants turn again, left goes to 1 m.
    """
    line = serial({"turn": 4}, buffers={"park": {"capacity": 1}}, route=["stocker", "turn", "park", "tray"])
    stops = {"stocker": 0, "turn": 3, "park": 6, "tray": 9}
    carriages = {
        "left": {"stops": ["stocker", "turn"]},
        "mid": {"stops": ["turn", "park"]},
        "right": {"stops": ["park", "tray"]},
    }
    played = play(on_one_rail(line, stops, carriages), horizon_s=36)
    assert aside(played, "gantry.left") == [(12, 14, 1), (25, 26, 2), (31, 32, 1)]
    assert aside(played, "gantry.mid") == [(2, 4, 5), (26, 28, 4)]
    assert aside(played, "gantry.right") == [(1, 2, 7), (17, 18, 8)]
    assert in_state(played, "gantry.left", "waiting_for_way") == [(1, 4), (19, 21)]
    assert played.left_at() == [35]


def test_a_carriage_that_gives_way_does_not_insist_on_its_place_to_park_at() -> None:
    """As above, but mid would park at the park, 6 m, if right did not stand there: with right at 7 m it can't, so it
    goes to 5 m all the same, 2-4.
    """
    line = serial({"turn": 4}, buffers={"park": {"capacity": 1}}, route=["stocker", "turn", "park", "tray"])
    stops = {"stocker": 0, "turn": 3, "park": 6, "tray": 9}
    carriages = {
        "left": {"stops": ["stocker", "turn"]},
        "mid": {"stops": ["turn", "park"], "park_at": "park"},
        "right": {"stops": ["park", "tray"]},
    }
    played = play(on_one_rail(line, stops, carriages), horizon_s=9)
    assert aside(played, "gantry.mid") == [(2, 4, 5)]
    assert played.carried() == [(1, 8, 1, "stocker", "turn.1")]
