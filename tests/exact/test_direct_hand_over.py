"""Lines without loader, worked out by hand in whole seconds, with many things happening at the same instant."""

from __future__ import annotations

from tests.helpers.lines import seconds, serial
from tests.helpers.running import play


def test_two_machines_and_a_buffer_follow_the_hand_drawn_diagram() -> None:
    """turn 3 s, one place, grind 5 s. From 8 s on grind is the pace and turn is blocked for 2 s in every 5."""
    played = play(serial({"turn": 3, "grind": 5}, [1]), horizon_s=24)
    assert played.moves() == [
        (0, 1, "stocker", "turn.1"),
        (3, 1, "turn.1", "park_1"),
        (3, 1, "park_1", "grind.1"),  # an empty buffer is passed in the same instant, before anything upstream of it
        (3, 2, "stocker", "turn.1"),
        (6, 2, "turn.1", "park_1"),
        (6, 3, "stocker", "turn.1"),
        (8, 1, "grind.1", "tray"),
        (8, 2, "park_1", "grind.1"),
        (9, 3, "turn.1", "park_1"),
        (9, 4, "stocker", "turn.1"),
        (
            13,
            2,
            "grind.1",
            "tray",
        ),  # turn finished part 4 at 12 and was blocked; the place becomes free from downstream
        (13, 3, "park_1", "grind.1"),
        (13, 4, "turn.1", "park_1"),
        (13, 5, "stocker", "turn.1"),
        (18, 3, "grind.1", "tray"),
        (18, 4, "park_1", "grind.1"),
        (18, 5, "turn.1", "park_1"),
        (18, 6, "stocker", "turn.1"),
        (23, 4, "grind.1", "tray"),
        (23, 5, "park_1", "grind.1"),
        (23, 6, "turn.1", "park_1"),
        (23, 7, "stocker", "turn.1"),
    ]
    assert played.states("turn.1") == [
        (0, "working"),
        (12, "blocked"),
        (13, "working"),
        (16, "blocked"),
        (18, "working"),
        (21, "blocked"),
        (23, "working"),
    ]
    assert played.states("grind.1") == [(0, "starved"), (3, "working")]
    assert played.departures() == [(8, 1, "good"), (13, 2, "good"), (18, 3, "good"), (23, 4, "good")]
    assert played.ledger.levels["park_1"].tolist() == [7_000_000, 17_000_000]  # empty until 6 s and from 8 to 9 s
    assert played.wip() == [0, 3_000_000, 4_000_000, 17_000_000]  # two inside from 3 to 6 s and from 8 to 9 s


def test_the_window_leaves_out_what_happened_before_it_and_what_happens_at_the_horizon() -> None:
    """The same line from 8 s to 23 s: the part that leaves at 8 s belongs to it, the one at 23 s does not."""
    played = play(serial({"turn": 3, "grind": 5}, [1]), horizon_s=23, warmup_s=8)
    ledger = played.ledger
    assert played.left_at() == [8, 13, 18]
    assert (ledger.inside_start, ledger.entered, ledger.inside_end) == (3, 3, 3)  # in: at 9, 13 and 18 s; out: 1, 2, 3
    assert ledger.levels["park_1"].tolist() == [1_000_000, 14_000_000]


def test_without_buffer_a_part_waits_on_its_machine_until_the_next_one_is_empty() -> None:
    """cut 2 s, bend 3 s, weld 1 s, handed over directly. From 2 s on bend never waits."""
    played = play(serial({"cut": 2, "bend": 3, "weld": 1}), horizon_s=10)
    assert played.moves() == [
        (0, 1, "stocker", "cut.1"),
        (2, 1, "cut.1", "bend.1"),
        (2, 2, "stocker", "cut.1"),
        (5, 1, "bend.1", "weld.1"),
        (5, 2, "cut.1", "bend.1"),
        (5, 3, "stocker", "cut.1"),
        (6, 1, "weld.1", "tray"),
        (8, 2, "bend.1", "weld.1"),
        (8, 3, "cut.1", "bend.1"),
        (8, 4, "stocker", "cut.1"),
        (9, 2, "weld.1", "tray"),
    ]
    assert played.states("cut.1") == [
        (0, "working"),
        (4, "blocked"),
        (5, "working"),
        (7, "blocked"),
        (8, "working"),
    ]
    assert played.states("weld.1") == [
        (0, "starved"),
        (5, "working"),
        (6, "starved"),
        (8, "working"),
        (9, "starved"),
    ]


def test_equal_cycles_end_together_and_move_from_the_outfeed_up() -> None:
    """Three machines of 2 s: at 6 s all end at once, and the four moves happen downstream first."""
    played = play(serial({"a": 2, "b": 2, "c": 2}), horizon_s=7)
    assert [move for move in played.moves() if move[0] == 6] == [
        (6, 1, "c.1", "tray"),
        (6, 2, "b.1", "c.1"),
        (6, 3, "a.1", "b.1"),
        (6, 4, "stocker", "a.1"),
    ]
    assert played.states("a.1") == [(0, "working")]


def test_an_operation_of_no_time_passes_its_part_on_in_the_same_instant() -> None:
    """wipe takes 0 s between two machines of 2 s and 3 s: it ends in the next round of its instant."""
    played = play(serial({"cut": 2, "wipe": 0, "weld": 3}), horizon_s=12)
    assert played.left_at() == [5, 8, 11]
    assert played.operations("wipe.1") == [(2, 2, 1), (4, 4, 2), (6, 6, 3), (8, 8, 4), (11, 11, 5)]


def test_blocking_before_service_keeps_the_part_unworked_until_room_is_reserved() -> None:
    """turn 4 s, one place, grind 7 s. Part 3 is on turn from 8 s and starts when the place is free at 11 s."""
    before = {"cycle": seconds(4), "blocking": "before_service"}
    played = play(serial({"turn": before, "grind": 7}, [1]), horizon_s=26)
    assert played.operations("turn.1") == [(0, 4, 1), (4, 8, 2), (11, 15, 3), (18, 22, 4)]
    assert played.states("turn.1") == [
        (0, "working"),
        (8, "blocked"),
        (11, "working"),
        (15, "blocked"),
        (18, "working"),
        (22, "blocked"),
        (25, "working"),
    ]
    assert played.left_at() == [11, 18, 25]


def test_blocking_after_service_works_the_part_first_and_then_waits() -> None:
    """The same line: part 3 is worked from 8 to 12 s; part 4 is finished at 16 s and waits on turn until 18 s."""
    played = play(serial({"turn": 4, "grind": 7}, [1]), horizon_s=26)
    assert played.operations("turn.1") == [(0, 4, 1), (4, 8, 2), (8, 12, 3), (12, 16, 4), (18, 22, 5)]
    assert played.states("turn.1") == [
        (0, "working"),
        (16, "blocked"),
        (18, "working"),
        (22, "blocked"),
        (25, "working"),
    ]
    assert played.left_at() == [11, 18, 25]


def test_before_service_without_buffer_reserves_the_next_machine_itself() -> None:
    """turn 4 s waits for grind 7 s to be empty before it starts, so grind starves for 4 s after each part."""
    before = {"cycle": seconds(4), "blocking": "before_service"}
    played = play(serial({"turn": before, "grind": 7}), horizon_s=34)
    assert played.operations("turn.1") == [(0, 4, 1), (11, 15, 2), (22, 26, 3)]
    assert played.left_at() == [11, 22, 33]


def test_parallel_machines_fill_in_file_order_and_give_up_the_part_finished_longest_ago() -> None:
    """saw 3 s feeds two lathes of 10 s, which feed wash 4 s; all hand over directly."""
    line = serial({"saw": 3, "turn": {"cycle": seconds(10), "machines": 2}, "wash": 4})
    played = play(line, horizon_s=32)
    assert played.moves() == [
        (0, 1, "stocker", "saw.1"),
        (3, 1, "saw.1", "turn.1"),  # both have waited since 0 s: file order
        (3, 2, "stocker", "saw.1"),
        (6, 2, "saw.1", "turn.2"),
        (6, 3, "stocker", "saw.1"),
        (13, 1, "turn.1", "wash.1"),
        (13, 3, "saw.1", "turn.1"),
        (13, 4, "stocker", "saw.1"),
        (17, 1, "wash.1", "tray"),  # part 2 finished at 16 s
        (17, 2, "turn.2", "wash.1"),
        (17, 4, "saw.1", "turn.2"),
        (17, 5, "stocker", "saw.1"),
        (21, 2, "wash.1", "tray"),
        (23, 3, "turn.1", "wash.1"),
        (23, 5, "saw.1", "turn.1"),
        (23, 6, "stocker", "saw.1"),
        (27, 3, "wash.1", "tray"),  # ends together with turn.2
        (27, 4, "turn.2", "wash.1"),
        (27, 6, "saw.1", "turn.2"),
        (27, 7, "stocker", "saw.1"),
        (31, 4, "wash.1", "tray"),
    ]
    assert played.states("turn.2") == [(0, "starved"), (6, "working"), (16, "blocked"), (17, "working")]


def test_of_two_empty_machines_the_one_that_has_waited_longer_is_loaded() -> None:
    """saw 10 s feeds two lathes of 4 s: they take turns, as each has waited longer when the other was just used."""
    played = play(serial({"saw": 10, "turn": {"cycle": seconds(4), "machines": 2}}), horizon_s=46)
    into_lathes = [(time_s, part, to) for time_s, part, _, to in played.moves() if to.startswith("turn")]
    assert into_lathes == [(10, 1, "turn.1"), (20, 2, "turn.2"), (30, 3, "turn.1"), (40, 4, "turn.2")]


def test_the_part_finished_longest_ago_leaves_first_whatever_the_file_order() -> None:
    """saw 3 s, two lathes of 4 s, wash 9 s. At 16 s part 2 waits on turn.2 since 10 s, part 3 on turn.1 since 13 s."""
    played = play(serial({"saw": 3, "turn": {"cycle": seconds(4), "machines": 2}, "wash": 9}), horizon_s=35)
    into_wash = [(time_s, part, place) for time_s, part, place, to in played.moves() if to == "wash.1"]
    assert into_wash == [(7, 1, "turn.1"), (16, 2, "turn.2"), (25, 3, "turn.1"), (34, 4, "turn.2")]


def test_machines_that_finish_together_give_up_their_parts_in_file_order() -> None:
    """Two lathes of 10 s, loaded together, feed wash 4 s."""
    played = play(serial({"turn": {"cycle": seconds(10), "machines": 2}, "wash": 4}), horizon_s=20)
    assert [move for move in played.moves() if move[0] >= 10] == [
        (10, 1, "turn.1", "wash.1"),
        (10, 3, "stocker", "turn.1"),
        (14, 1, "wash.1", "tray"),
        (14, 2, "turn.2", "wash.1"),
        (14, 4, "stocker", "turn.2"),
        (18, 2, "wash.1", "tray"),
    ]


def test_a_buffer_with_dwell_keeps_every_part_its_least_time_and_starves_the_next_machine() -> None:
    """heat 2 s, three places to cool for 10 s, grind 1 s. Part 4 finds the buffer full from 8 to 12 s."""
    line = serial({"heat": 2, "grind": 1}, [3], buffers={"park_1": {"capacity": 3, "dwell": seconds(10)}})
    played = play(line, horizon_s=25)
    into_cooling = [(time_s, part) for time_s, part, _, to in played.moves() if to == "park_1"]
    out_of_cooling = [(time_s, part) for time_s, part, place, _ in played.moves() if place == "park_1"]
    assert into_cooling == [(2, 1), (4, 2), (6, 3), (12, 4), (14, 5), (16, 6), (22, 7), (24, 8)]
    assert out_of_cooling == [(12, 1), (14, 2), (16, 3), (22, 4), (24, 5)]
    assert played.left_at() == [13, 15, 17, 23]
    assert played.states("grind.1") == [
        (0, "starved"),
        (12, "working"),
        (13, "starved"),
        (14, "working"),
        (15, "starved"),
        (16, "working"),
        (17, "starved"),
        (22, "working"),
        (23, "starved"),
        (24, "working"),
    ]
    assert played.states("heat.1") == [
        (0, "working"),
        (8, "blocked"),
        (12, "working"),
        (18, "blocked"),
        (22, "working"),
    ]


def test_a_route_without_infeed_and_outfeed_counts_the_parts_on_its_machines() -> None:
    """saw 3 s and wash 5 s alone: saw always has a part, a part leaves when wash ends."""
    line = serial({"saw": 3, "wash": 5})
    line |= {"route": ["saw", "wash"], "infeed": {}, "outfeed": {}}
    played = play(line, horizon_s=19)
    assert played.left_at() == [8, 13, 18]
    assert played.wip() == [0, 3_000_000, 16_000_000]
    assert played.ledger.entered == 5  # at 0, 3, 8, 13 and 18 s
