"""Sizes worked out by hand: offset, step, wear, chance, tolerance. Without chance unless said; micrometres."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, breakdown, seconds, serial
from tests.helpers.running import Play, play


def mill(size: Plain, **keys: Any) -> Plain:
    """A mill that gives every part a bore in 10 s, and a gauge that finds every bad part in 2 s."""
    bore = {"tolerance": "4 um", "spread": "0 um"} | size
    gauge = {"cycle": seconds(2), "inspection": {}}
    return serial({"mill": {"cycle": seconds(10), "characteristics": {"bore": bore}, **keys}, "gauge": gauge})


def tip(**keys: Any) -> Plain:
    """A tool change after every third part that takes 5 s."""
    return {"tip": {"every": "3 parts", "takes": "5 s", "age": "0 parts", **keys}}


def sizes_um(played: Play) -> list[float]:
    return (played.ledger.sizes[:, 4] / 1000).tolist()


def test_a_drift_adds_up_part_by_part_until_the_size_is_out_of_tolerance() -> None:
    """0, 1, 2, 3 um: the limit of 2 um is still good, 3 um is scrapped at the gauge and charged to the mill."""
    played = play(mill({"drift": "1 um/part"}), horizon_s=43)
    assert played.rows(What.SIZE) == [(10, "mill.1", 1, 0), (20, "mill.1", 2, 1000), (30, "mill.1", 3, 2000),
                                      (40, "mill.1", 4, 3000)]  # fmt: skip
    assert played.departures() == [(12, 1, "good"), (22, 2, "good"), (32, 3, "good"), (42, 4, "scrapped")]
    assert played.ledger.defects == (("mill", "bore"),)
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"mill": 1, "gauge": 0}


def test_a_tool_change_renews_the_tool_and_brings_its_step() -> None:
    """Offset -1, step 0.4 after the change: -0.6, 0.9, 2.4, and again. The first tool begins as one just changed."""
    played = play(mill({"offset": "-1 um", "drift": "1.5 um/part", "after": {"tip": "0.4 um"}}, tool_change=tip()), 82)
    assert sizes_um(played) == [-0.6, 0.9, 2.4, -0.6, 0.9, 2.4, -0.6]
    assert played.rows(What.STOP_OVER) == [(35, "mill.1", 3, 0), (70, "mill.1", 6, 0)]


def test_a_stop_that_renews_no_tool_leaves_the_wear_as_it_is() -> None:
    played = play(mill({"drift": "0.5 um/part"}, tool_change=tip()), horizon_s=66)
    assert sizes_um(played) == [0, 0.5, 1, 1.5, 2, 2.5]


def test_the_first_tool_is_as_worn_as_the_age_of_its_stop_says() -> None:
    played = play(mill({"drift": "1 um/part", "after": {"tip": "0 um"}}, tool_change=tip(age="2 parts")), horizon_s=36)
    assert sizes_um(played) == [2, 0, 1]


def test_of_two_stops_that_renew_the_younger_tells_the_wear_at_the_start() -> None:
    """The tip is 2 parts old, the wheel 1: the wear is that of 1 part, the step that of the wheel."""
    keys = {"tool_change": tip(age="2 parts", every="9 parts")}
    keys["dressing"] = {"wheel": {"every": "9 parts", "takes": "1 s", "age": "1 parts"}}
    played = play(mill({"drift": "1 um/part", "after": {"tip": "0.1 um", "wheel": "0.2 um"}}, **keys), horizon_s=21)
    assert sizes_um(played) == [1.2, 2.2]


def test_a_stop_by_time_renews_too() -> None:
    """Due at 25 s, it waits for the end of the part in work: after parts 1, 2, 3 it begins at 30 s."""
    keys = {"dressing": {"wheel": {"every": "25 s", "takes": "3 s", "age": "0 s"}}}
    played = play(mill({"drift": "1 um/part", "after": {"wheel": "0 um"}}, **keys), horizon_s=54)
    assert sizes_um(played) == [0, 1, 2, 0, 1]


def test_a_slow_drift_is_not_lost_in_rounding() -> None:
    """0.4 nm a part: 0, 0.4, 0.8, 1.2, 1.6, 2.0 nm are 0, 0, 1, 1, 2, 2 whole nanometres."""
    played = play(mill({"drift": "0.4 nm/part"}), horizon_s=62)
    assert played.ledger.sizes[:, 4].tolist() == [0, 0, 1, 1, 2, 2]


def test_each_machine_has_a_tool_of_its_own() -> None:
    """Two mills hand over in turn: each wears with its own parts only."""
    line = serial({"mill": {"cycle": seconds(10), "machines": 2, "characteristics": {"bore": {
        "tolerance": "9 um", "spread": "0 um", "drift": "1 um/part"}}}, "gauge": 2})  # fmt: skip
    played = play(line, horizon_s=33)
    assert [(owner, part, value) for _, owner, part, value in played.rows(What.SIZE)] == [
        ("mill.1", 1, 0),
        ("mill.2", 2, 0),
        ("mill.1", 3, 1000),
        ("mill.2", 4, 1000),
        ("mill.1", 5, 2000),
        ("mill.2", 6, 2000),
    ]


def test_a_part_scrapped_in_work_gets_no_size_and_wears_no_tool() -> None:
    """The mill breaks at 15 s of its working clock and loses part 2; part 3 is made from 16 to 26 s."""
    line = mill({"drift": "1 um/part"}, breakdowns={"jam": breakdown(15, 1, part="scrap")})
    played = play(line, horizon_s=27)
    assert played.rows(What.SIZE) == [(10, "mill.1", 1, 0), (26, "mill.1", 3, 1000)]


def test_a_reworked_part_gets_a_new_size_and_is_good_if_that_is() -> None:
    """Drift -3 um from 3: sizes 3 (bad), back to the mill, 0 (good)."""
    line = mill({"offset": "3 um", "drift": "-3 um/part"})
    line["stations"]["gauge"]["inspection"] = {"rework": {"to": "mill"}}
    played = play(line, horizon_s=25)
    assert played.rows(What.SIZE) == [(10, "mill.1", 1, 3000), (22, "mill.1", 1, 0)]
    assert played.departures() == [(24, 1, "good")]


def test_the_first_bad_size_names_the_defect_and_a_chance_defect_goes_before_it() -> None:
    line = mill({"offset": "9 um"})
    line["stations"]["mill"]["characteristics"]["face"] = {"tolerance": "1 um", "spread": "0 um", "offset": "1 um"}
    played = play(line, horizon_s=13)
    assert [played.ledger.defects[value] for *_, value in played.rows(What.END)[:1]] == [("mill", "bore")]
    line["stations"]["mill"]["defects"] = {"burr": "100 %"}
    played = play(line, horizon_s=13)
    assert [played.ledger.defects[value] for *_, value in played.rows(What.END)[:1]] == [("mill", "burr")]


def test_limits_need_not_be_centred() -> None:
    """-1 to 5 um, sizes 4, 5, 6: the third is out."""
    line = mill({"tolerance": {"low": "-1 um", "high": "5 um"}, "offset": "4 um", "drift": "1 um/part"})
    assert [fate for *_, fate in play(line, horizon_s=33).departures()] == ["good", "good", "scrapped"]


def test_chance_is_normal_around_the_setting_with_the_spread_given() -> None:
    """2,000 sizes: their mean within 4 standard errors, their deviation within 4 of its own, s / sqrt(2 n)."""
    line = mill({"tolerance": "99 um", "spread": "2 um", "offset": "1 um"})
    sizes = np.array(sizes_um(play(line, horizon_s=20_001)))
    assert len(sizes) == 2000
    assert sizes.mean() == pytest.approx(1, abs=4 * 2 / np.sqrt(2000))
    assert sizes.std() == pytest.approx(2, abs=4 * 2 / np.sqrt(4000))
    assert (np.abs(sizes - 1) < 2).mean() == pytest.approx(0.6827, abs=4 * np.sqrt(0.6827 * 0.3173 / 2000))
