"""Parts that are scrapped because a machine has just been stopped, worked out by hand."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, constant, seconds, serial
from tests.helpers.running import play


def mill(**keys: Any) -> Plain:
    """A mill that takes 10 s for a part, and a hand that takes 1 s."""
    return serial({"mill": {"cycle": seconds(10), **keys}, "hand": 1})


def tip(scrap: int, every: str = "3 parts") -> Plain:
    return {"tip": {"every": every, "takes": "5 s", "age": every.replace("3", "0"), "start_up_scrap": f"{scrap} parts"}}


def test_the_first_parts_after_a_stop_are_scrapped_as_they_end() -> None:
    """Parts 1 to 3 by 30 s, stop to 35 s, part 4 is scrapped at 45 s; it counts for the tool: the next stop is at 65 s.

    Part 3 and part 6 are on board meanwhile, finished, and go on when the stop is over."""
    played = play(mill(tool_change=tip(1)), horizon_s=91)
    assert played.departures() == [
        (11, 1, "good"), (21, 2, "good"), (36, 3, "good"), (45, 4, "scrapped"), (56, 5, "good"), (71, 6, "good"),
        (80, 7, "scrapped"),
    ]  # fmt: skip
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"mill": 2, "hand": 0}
    assert played.ledger.departures[:, 4].tolist() == [-1] * 7


def test_two_stops_in_a_row_scrap_as_many_as_the_one_that_asks_for_more() -> None:
    """Tip (5 s) and wheel (2 s) after part 3: parts 4 and 5 are scrapped at 47 and 57 s, not three of them."""
    wheel = {"wheel": {"every": "3 parts", "takes": "2 s", "age": "0 parts", "start_up_scrap": "1 parts"}}
    played = play(mill(tool_change=tip(2), dressing=wheel), horizon_s=69)
    scrapped = [(time_s, part) for time_s, part, fate in played.departures() if fate == "scrapped"]
    assert scrapped == [(47, 4), (57, 5)]
    assert [part for _, _, part, _ in played.rows(What.STOP)] == [3, 3, 6]


def test_a_stop_that_interrupts_the_scrapping_begins_it_anew() -> None:
    """Stop by time, 12 s after the last, which scraps two: it is back when only one has been."""
    keys = {"tip": {"every": "12 s", "takes": "5 s", "age": "0 s", "start_up_scrap": "2 parts"}}
    played = play(mill(tool_change=keys), horizon_s=100)
    assert [fate for *_, fate in played.departures()][:2] == ["good", "good"]
    assert {fate for *_, fate in played.departures()[2:]} == {"scrapped"}


def test_a_change_after_a_break_scraps_as_the_planned_one_does() -> None:
    """A life of 2 parts: part 2 goes with the tool at 20 s. New by 25 s, part 3 is scrapped at 35 s; 4 breaks it."""
    keys = {"tip": {"takes": "5 s", "life": constant(1) | {"value": "2 parts"}, "start_up_scrap": "1 parts"}}
    played = play(mill(tool_change=keys), horizon_s=46)
    assert played.departures() == [(11, 1, "good"), (20, 2, "scrapped"), (35, 3, "scrapped"), (45, 4, "scrapped")]


def test_each_machine_starts_up_by_itself() -> None:
    """Two mills; of one a stop is due after its first part, of the other after its second."""
    machines = {
        name: {"tool_change": {"tip": {"every": "2 parts", "age": age, "takes": "5 s", "start_up_scrap": "1 part"}}}
        for name, age in (("one", "1 part"), ("two", "0 parts"))
    }
    played = play(mill(machines=machines), horizon_s=30)
    assert [(time_s, owner) for time_s, owner, *_ in played.rows(What.SCRAP)] == [(25, "one")]
