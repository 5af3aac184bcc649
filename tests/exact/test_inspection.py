"""Inspection, scrap, rework and the limit on entering a rework loop, worked out by hand in whole seconds."""

from __future__ import annotations

from typing import Any

from tests.helpers.lines import Plain, seconds, serial
from tests.helpers.running import play


def turn_and_gauge(gauge: dict[str, Any], turn_s: float = 2, gauge_s: float = 1, **turn: Any) -> Plain:
    return serial(
        {"turn": {"cycle": seconds(turn_s), **turn}, "gauge": {"cycle": seconds(gauge_s), "inspection": gauge}}
    )


def test_every_bad_part_that_is_caught_is_lost_at_the_gauge_and_charged_to_the_station_that_made_it() -> None:
    line = turn_and_gauge({"catches": "100 %"}, defects={"size": "100 %"})
    played = play(line, horizon_s=8)
    assert played.departures() == [(3, 1, "scrapped"), (5, 2, "scrapped"), (7, 3, "scrapped")]
    stations = played.ledger.stations.set_index("station")
    assert stations["scrapped"].to_dict() == {"turn": 3, "gauge": 0}
    assert stations["false_alarms"].to_dict() == {"turn": 0, "gauge": 0}


def test_a_false_alarm_is_charged_to_the_station_that_inspected() -> None:
    played = play(turn_and_gauge({"false_alarms": "100 %"}), horizon_s=8)
    assert played.departures() == [(3, 1, "scrapped"), (5, 2, "scrapped"), (7, 3, "scrapped")]
    stations = played.ledger.stations.set_index("station")
    assert stations["scrapped"].to_dict() == {"turn": 0, "gauge": 3}
    assert stations["false_alarms"].to_dict() == {"turn": 0, "gauge": 3}


def test_a_bad_part_that_is_not_caught_leaves_as_good_with_its_defect_on_record() -> None:
    played = play(turn_and_gauge({"catches": "0 %"}, defects={"size": "100 %"}), horizon_s=8)
    assert played.departures() == [(3, 1, "good"), (5, 2, "good"), (7, 3, "good")]
    assert played.ledger.defects == (("turn", "size"),)
    assert played.ledger.departures[:, 4].tolist() == [0, 0, 0]


def test_a_part_is_reworked_as_often_as_allowed_and_a_fresh_one_keeps_out_of_a_full_loop() -> None:
    """turn 2 s, gauge 1 s, every part bad, rework twice: turn 0-2, gauge -3, turn -5, gauge -6, turn -8, gauge -9 s.

    The loop has two places, and one must stay free after a fresh part came in: part 2 enters when part 1 is out.
    """
    rework = {"to": "turn", "at_most": 2}
    played = play(turn_and_gauge({"rework": rework}, defects={"size": "100 %"}), horizon_s=19)
    assert played.moves()[:8] == [
        (0, 1, "stocker", "turn.1"),
        (2, 1, "turn.1", "gauge.1"),
        (3, 1, "gauge.1", "turn.1"),
        (5, 1, "turn.1", "gauge.1"),
        (6, 1, "gauge.1", "turn.1"),
        (8, 1, "turn.1", "gauge.1"),
        (9, 2, "stocker", "turn.1"),
        (11, 2, "turn.1", "gauge.1"),
    ]
    assert played.departures() == [(9, 1, "scrapped"), (18, 2, "scrapped")]
    stations = played.ledger.stations.set_index("station")
    assert stations["reworked"].to_dict() == {"turn": 4, "gauge": 0}
    assert stations["scrapped"].to_dict() == {"turn": 2, "gauge": 0}
    assert played.ledger.departures[:, 6].tolist() == [2, 2]


def test_a_loop_with_a_buffer_holds_one_part_less_than_it_has_places() -> None:
    """turn 2 s, one place, gauge 3 s, every part bad, rework once: the loop has three places and takes two parts.

    At 5 s part 1 goes back to turn and part 2 moves to the gauge; at 11 s part 1 is scrapped and part 3 may enter.
    """
    line = serial(
        {
            "turn": {"cycle": seconds(2), "defects": {"size": "100 %"}},
            "gauge": {"cycle": seconds(3), "inspection": {"rework": {"to": "turn"}}},
        },
        [1],
    )
    played = play(line, horizon_s=18)
    assert played.operations("turn.1") == [(0, 2, 1), (2, 4, 2), (5, 7, 1), (8, 10, 2), (11, 13, 3), (14, 16, 4)]
    assert played.operations("gauge.1") == [(2, 5, 1), (5, 8, 2), (8, 11, 1), (11, 14, 2), (14, 17, 3)]
    assert played.departures() == [(11, 1, "scrapped"), (14, 2, "scrapped")]


def test_a_reject_may_go_back_to_the_buffer_before_a_station() -> None:
    """saw 4 s, park, turn 2 s, gauge 1 s with rework to park: the reject queues behind what is parked there.

    The loop park, turn, gauge has three places. Part 1: turn 4-6, gauge 6-7, back by park to turn 7-9, gauge 9-10 s.
    Part 2 is on saw from 4 to 8 s and parks until turn is empty at 9 s; then turn 9-11, gauge 11-12, turn 12-14 ...
    """
    line = serial(
        {
            "saw": 4,
            "turn": {"cycle": seconds(2), "defects": {"size": "100 %"}},
            "gauge": {"cycle": seconds(1), "inspection": {"rework": {"to": "park_1"}}},
        },
        [1, 0],
    )
    played = play(line, horizon_s=16)
    assert [move for move in played.moves() if move[1] == 1] == [
        (0, 1, "stocker", "saw.1"),
        (4, 1, "saw.1", "park_1"),
        (4, 1, "park_1", "turn.1"),
        (6, 1, "turn.1", "gauge.1"),
        (7, 1, "gauge.1", "park_1"),
        (7, 1, "park_1", "turn.1"),
        (9, 1, "turn.1", "gauge.1"),
    ]
    assert played.operations("turn.1") == [(4, 6, 1), (7, 9, 1), (9, 11, 2), (12, 14, 2)]
    assert played.departures() == [(10, 1, "scrapped"), (15, 2, "scrapped")]
