"""Parts that stay in a machine for longer than they should, by hand in whole seconds."""

from __future__ import annotations

from linesim.engine.contract.trace import What
from tests.helpers.lines import alone, breakdown, seconds, serial, shift
from tests.helpers.running import Play, play


def defects(played: Play) -> list[tuple[str, str]]:
    return [played.trace.defects[value] for *_, value in played.rows(What.SCRAP) if value >= 0]


def test_a_part_that_a_breakdown_holds_beyond_the_limit_is_scrapped_as_its_cycle_ends() -> None:
    """10 s each; down after 12 s at work for 5: the second part is inside from 10 to 25, 15 s, and 13 are allowed."""
    furnace = {"cycle": seconds(10), "overstay": seconds(3), "breakdowns": {"jam": breakdown(12, 5)}}
    played = play(alone(furnace), horizon_s=26)
    assert played.departures() == [(10, 1, "good"), (25, 2, "scrapped")]
    assert defects(played) == [("mill", "overstay")]
    assert played.ledger.stations["scrapped"].tolist() == [1]


def test_the_limit_itself_is_not_too_long() -> None:
    furnace = {"cycle": seconds(10), "overstay": seconds(5), "breakdowns": {"jam": breakdown(12, 5)}}
    assert play(alone(furnace), horizon_s=26).departures() == [(10, 1, "good"), (25, 2, "good")]


def test_what_waits_at_the_exit_spoils_those_behind_it_in_a_through_feed() -> None:
    """A part each 4 s, 10 s inside, 12 allowed; the saw takes 7 s. All stand from 14 to 17, with those of 4, 8 and 12
    inside; the first of them is at the exit already. At 21 and 25 the others have been inside for 13 s. That of 19 is
    in time: the saw, idle since 24, has it from 29 to 36."""
    feed = {"through_feed": {"pitch": "4 s", "transit": "10 s"}, "overstay": seconds(2)}
    played = play(serial({"mill": feed, "saw": 7}), horizon_s=37)
    assert played.departures() == [
        (17, 1, "good"), (21, 3, "scrapped"), (24, 2, "good"), (25, 4, "scrapped"), (36, 5, "good"),
    ]  # fmt: skip
    assert defects(played) == [("mill", "overstay")] * 2


def test_a_batch_that_stands_over_a_break_is_lost_as_a_whole() -> None:
    """25 s for two; paused from 60 to 120 with 10 s done: 50 to 135 instead of 75."""
    week = {"early": shift("0:00", "0:01"), "late": shift("0:02", "0:04")}
    batch = {"cycle": seconds(25), "batch": {"size": "2 parts"}, "overstay": seconds(10), "at_shift_end": "pause"}
    played = play(alone(batch, shifts=week), horizon_s=136)
    assert [(time_s, fate) for time_s, _, fate in played.departures()] == [
        (25, "good"), (25, "good"), (50, "good"), (50, "good"), (135, "scrapped"), (135, "scrapped"),
    ]  # fmt: skip


def test_a_part_that_was_bad_before_keeps_its_first_defect() -> None:
    saw = {"cycle": seconds(1), "defects": {"short": "100 %"}}
    furnace = {"cycle": seconds(10), "overstay": seconds(3), "breakdowns": {"jam": breakdown(8, 5)}}
    played = play(serial({"saw": saw, "furnace": furnace}), horizon_s=17)
    assert defects(played) == [("saw", "short")]
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"saw": 0, "furnace": 1}
