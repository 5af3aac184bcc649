"""Which parts a gauge measures, worked out by hand. A mill ends a part every 10 s, and a gauge reads it 2 s later."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, breakdown, seconds, serial
from tests.helpers.running import Play, play


def sampled(sample: Plain, size: Plain | None = None, **mill: Any) -> Plain:
    bore = {"tolerance": "4 um", "spread": "0 um"} | (size or {})
    gauge = {"cycle": seconds(2), "inspection": {"measures": {"bore": {"sample": sample}}}}
    return serial({"mill": {"cycle": seconds(10), "characteristics": {"bore": bore}, **mill}, "gauge": gauge})


def tip(every: str, age: str) -> Plain:
    return {"tip": {"every": every, "takes": "5 s", "age": age}}


def read(played: Play) -> list[int]:
    """The parts that were measured."""
    return [part for _, _, part, _ in played.rows(What.READ)]


def test_one_of_three_parts_is_measured_and_all_others_pass() -> None:
    """Every part is bad. The first is measured, then the fourth; what is not measured is not caught otherwise."""
    played = play(sampled({"every": "3 parts"}, {"offset": "3 um"}), horizon_s=75)
    assert read(played) == [1, 4, 7]
    assert [part for _, part, fate in played.departures() if fate == "scrapped"] == [1, 4, 7]


def test_by_time_the_first_part_is_measured_that_comes_so_long_after_the_last() -> None:
    """Readings at 12 s, 42 s, 72 s: with 30 s just in time, and with 25 s too. With 31 s the next is read at 52 s."""
    assert read(play(sampled({"every": "30 s"}), horizon_s=75)) == [1, 4, 7]
    assert read(play(sampled({"every": "25 s"}), horizon_s=75)) == [1, 4, 7]
    assert read(play(sampled({"every": "31 s"}), horizon_s=95)) == [1, 5, 9]


def test_the_first_and_the_last_part_of_each_tool_are_measured() -> None:
    """A tool makes four parts; the first tool of the run is two parts old, so it has but its last one to give."""
    line = sampled({"first_and_last": True}, {"after": {"tip": "0 um"}}, tool_change=tip("4 parts", "2 parts"))
    assert read(play(line, horizon_s=125)) == [2, 3, 6, 7, 10]


def test_a_stop_by_time_that_is_due_makes_the_part_in_work_the_last_of_its_tool() -> None:
    """Due at 25 s, while part 3 is in work. Part 4 is the first of the next tool; the stop takes 5 s: due at 60 s, as
    part 6, begun at 55 s, is in work."""
    line = sampled({"first_and_last": True}, {"after": {"tip": "0 um"}}, tool_change=tip("25 s", "0 s"))
    assert read(play(line, horizon_s=75)) == [1, 3, 4, 6]


def test_a_stop_that_renews_another_tool_marks_no_part() -> None:
    stops = tip("3 parts", "0 parts") | {"other": {"every": "2 parts", "takes": "1 s", "age": "0 parts"}}
    line = sampled({"first_and_last": True}, {"after": {"tip": "0 um"}}, tool_change=stops)
    assert read(play(line, horizon_s=88)) == [1, 3, 4, 6, 7]


def test_each_machine_is_sampled_by_itself() -> None:
    """Two mills in step: of each every second part, or else all would be parts of the same mill."""
    played = play(sampled({"every": "2 parts"}, machines=2), horizon_s=55)
    assert [(row[1], row[4]) for row in played.ledger.readings.tolist()] == [
        (1, 1), (2, 2), (5, 1), (6, 2), (9, 1), (10, 2)
    ]  # fmt: skip


def test_a_part_is_measured_for_either_reason_and_the_count_begins_again_with_it() -> None:
    """A tool of five parts, and one of three: 1 (first), 4 (third after), 5 (last), 6 (first), 9, 10, 11."""
    sample = {"every": "3 parts", "first_and_last": True}
    line = sampled(sample, {"after": {"tip": "0 um"}}, tool_change=tip("5 parts", "0 parts"))
    assert read(play(line, horizon_s=130)) == [1, 4, 5, 6, 9, 10, 11]


def test_sizes_of_one_part_are_sampled_each_by_its_own_rule() -> None:
    line = sampled({"every": "2 parts"})
    line["stations"]["mill"]["characteristics"]["face"] = {"tolerance": "4 um", "spread": "0 um", "offset": "1 um"}
    line["stations"]["gauge"]["inspection"]["measures"]["face"] = {"sample": {"every": "3 parts"}}
    played = play(line, horizon_s=55)
    assert [(part, value) for _, _, part, value in played.rows(What.READ)] == [
        (1, 0), (1, 1000), (3, 0), (4, 1000), (5, 0)
    ]  # fmt: skip


def test_the_first_part_after_a_pause_is_measured() -> None:
    """The mill is down from 25 to 55 s with part 3 half done: it ends at 60 s, 40 s after part 2. No other is late."""
    jam = {"jam": breakdown(25, 30)}
    assert read(play(sampled({"after_pause": "40 s"}, breakdowns=jam), horizon_s=75)) == [3]
    assert read(play(sampled({"after_pause": "41 s"}, breakdowns=jam), horizon_s=75)) == []
    assert read(play(sampled({"after_pause": "40 s", "every": "2 parts"}, breakdowns=jam), horizon_s=113)) == [1, 3, 5]


def test_the_first_part_of_a_run_comes_after_a_pause_since_its_start() -> None:
    assert read(play(sampled({"after_pause": "10 s"}), horizon_s=15)) == [1]
