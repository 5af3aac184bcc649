"""What gauges correct at the machine that made the part, worked out by hand. Without chance; micrometres."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, seconds, serial
from tests.helpers.running import Play, play


def mill(feedback: Plain, size: Plain, gauge_s: float = 0, **keys: Any) -> Plain:
    """A mill that gives parts a bore in 10 s. It measures them itself, or a gauge behind it does."""
    bore = {"tolerance": "40 um", "spread": "0 um"} | size
    measures = {"inspection": {"measures": {"bore": {"feedback": feedback}}}}
    stations: dict[str, Any] = {"mill": {"cycle": seconds(10), "characteristics": {"bore": bore}, **keys}, "hand": 1}
    if gauge_s:
        return serial(stations | {"hand": {"cycle": seconds(gauge_s), **measures}})
    return serial(stations | {"mill": stations["mill"] | measures})


def sizes_um(played: Play) -> list[float]:
    return (played.ledger.sizes[:, 4] / 1000).tolist()


def test_a_gauge_in_the_machine_corrects_the_very_next_part() -> None:
    """Half of what is left each time: 8, 4, 2, 1. The corrections add up to -4, -6, -7, -7.5 um."""
    played = play(mill({"gain": 0.5}, {"offset": "8 um"}), horizon_s=41)
    assert sizes_um(played) == [8, 4, 2, 1]
    assert played.rows(What.CORRECT) == [(10, "mill.1", 1, -4_000_000), (20, "mill.1", 2, -6_000_000),
                                         (30, "mill.1", 3, -7_000_000), (40, "mill.1", 4, -7_500_000)]  # fmt: skip


def test_a_part_between_machine_and_gauge_is_a_correction_that_comes_late() -> None:
    """Part 1 is read at 12 s, when part 2 is in work since 10 s with the old setting. From then on a part is worth the
    one before it less half of the one before that: 8, 8, 4, 0, -2, -2, -1."""
    played = play(mill({"gain": 0.5}, {"offset": "8 um"}, gauge_s=2), horizon_s=71)
    assert sizes_um(played) == [8, 8, 4, 0, -2, -2, -1]


def test_a_reading_in_the_instant_in_which_a_part_is_begun_counts_for_it() -> None:
    """The gauge takes 10 s: part 1 is read at 20 s, as part 3 is begun. So it is the same delay of one part."""
    played = play(mill({"gain": 0.5}, {"offset": "8 um"}, gauge_s=10), horizon_s=71)
    assert sizes_um(played) == [8, 8, 4, 0, -2, -2, -1]


def test_a_mean_within_the_dead_band_is_left_alone() -> None:
    """3 um are corrected, the limit of 2 um itself is not."""
    assert sizes_um(play(mill({"gain": 1, "dead_band": "2 um"}, {"offset": "3 um"}), horizon_s=31)) == [3, 0, 0]
    assert sizes_um(play(mill({"gain": 1, "dead_band": "2 um"}, {"offset": "-2 um"}), horizon_s=31)) == [-2, -2, -2]


def test_a_correction_takes_the_mean_of_so_many_readings_and_then_new_ones() -> None:
    """Drift 1: parts 1, 2 are 0, 1, mean 0.5; parts 3, 4 are 1.5, 2.5, mean 2; parts 5, 6 again 1.5, 2.5."""
    played = play(mill({"gain": 1, "average": "2 parts"}, {"drift": "1 um/part"}), horizon_s=61)
    assert sizes_um(played) == [0, 1, 1.5, 2.5, 1.5, 2.5]


def test_parts_begun_before_the_last_correction_are_ignored_if_asked() -> None:
    """As above with a part of delay, but each second reading is of a part that knows nothing of the last correction."""
    played = play(mill({"gain": 0.5, "only_new": True}, {"offset": "8 um"}, gauge_s=2), horizon_s=81)
    assert sizes_um(played) == [8, 8, 4, 4, 2, 2, 1, 1]
    assert [part for _, _, part, _ in played.rows(What.CORRECT)] == [1, 3, 5, 7]


def test_a_new_tool_begins_uncorrected() -> None:
    """Three parts a tool: its first is 8 um off, the second corrected."""
    tip = {"tip": {"every": "3 parts", "takes": "5 s", "age": "0 parts"}}
    line = mill({"gain": 1}, {"offset": "8 um", "after": {"tip": "0 um"}}, tool_change=tip)
    assert sizes_um(play(line, horizon_s=71)) == [8, 0, 0, 8, 0, 0]


def test_a_correction_may_outlast_the_tool() -> None:
    """With a part of delay, part 3 is read as 4 um after the dressing, and counts even if only new ones do."""
    wheel = {"wheel": {"every": "3 parts", "takes": "5 s", "age": "0 parts"}}
    size = {"offset": "8 um", "after": {"wheel": "0 um"}}
    assert sizes_um(play(mill({"gain": 1, "outlasts_tools": True}, size, dressing=wheel), horizon_s=71)) == [
        8, 0, 0, 0, 0, 0
    ]  # fmt: skip
    late = {"gain": 0.5, "only_new": True, "outlasts_tools": True}
    assert sizes_um(play(mill(late, size, 2, dressing=wheel), horizon_s=56)) == [8, 8, 4, 4, 2]


def test_a_part_of_the_old_tool_tells_nothing_of_the_new_one_if_only_new_ones_count() -> None:
    """Part 3 ends at 30 s, waits in the mill for the tool change until 35 s, and is read at 37 s as 8 - 4 = 4 um."""
    tip = {"tip": {"every": "3 parts", "takes": "5 s", "age": "0 parts"}}
    size = {"offset": "8 um", "after": {"tip": "0 um"}}
    either = [sizes_um(play(mill({"gain": 0.5} | new, size, 2, tool_change=tip), horizon_s=56))
              for new in ({}, {"only_new": True})]  # fmt: skip
    assert either == [[8, 8, 4, 8, 6], [8, 8, 4, 8, 8]]


def test_the_machine_that_made_the_part_is_corrected_and_no_other() -> None:
    """Two mills wear by themselves, and the gauge reads one after the other: each is corrected from its own parts."""
    played = play(mill({"gain": 0.5}, {"offset": "8 um"}, machines=2), horizon_s=41)
    assert [(owner, value / 1e6) for _, owner, _, value in played.rows(What.CORRECT)][:4] == [
        ("mill.1", -4), ("mill.2", -4), ("mill.1", -6), ("mill.2", -6)
    ]  # fmt: skip


def test_the_aim_is_the_middle_of_the_tolerance() -> None:
    limits = {"tolerance": {"low": "-2 um", "high": "6 um"}, "offset": "1 um"}
    assert sizes_um(play(mill({"gain": 1}, limits), horizon_s=31)) == [1, 2, 2]


def test_small_corrections_are_not_lost_in_rounding() -> None:
    """A tenth of 4 nm is 0.4 nm: 4, 3.6, 3.24 ... are 4, 4, 3 whole nanometres."""
    played = play(mill({"gain": 0.1}, {"offset": "4 nm"}), horizon_s=41)
    assert played.ledger.sizes[:, 4].tolist() == [4, 4, 3, 3]
    assert [value for *_, value in played.rows(What.CORRECT)] == [-400, -800, -1100, -1400]


def test_the_correction_of_a_loop_that_grows_ends_at_a_tenth_of_a_metre() -> None:
    """Gain 10 turns each deviation into nine times its opposite, until it only changes sign; part 10 was too small."""
    played = play(mill({"gain": 10}, {"tolerance": "40 um", "offset": "20 um"}), horizon_s=101)
    assert [value for *_, value in played.rows(What.CORRECT)][-2:] == [-(10**11), 10**11]
