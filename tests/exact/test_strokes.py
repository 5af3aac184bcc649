"""Work of so many strokes a part, worked out by hand in whole seconds; what is random is checked against its shares."""

from __future__ import annotations

import numpy as np
import pytest

import linesim
from linesim.engine.contract.ledger import Fate
from linesim.engine.contract.trace import What
from linesim.line.capacity import pace_stage, stages
from linesim.line.lead_time import least_lead_time_s
from linesim.results.measures.losses import lost_behind
from tests.helpers.lines import Plain, alone, breakdown, seconds, serial
from tests.helpers.running import play


def press(number: dict[int, str], **rest: object) -> Plain:
    """Cycle 2 s, a stroke 3 s."""
    return {"cycle": seconds(2), "strokes": {"number": number, "takes": seconds(3), **rest}}


def test_each_stroke_lengthens_the_cycle() -> None:
    """Two strokes for every part: 2 + 2 x 3 = 8 s a part."""
    played = play(alone(press({2: "100 %"})), horizon_s=25)
    assert played.left_at() == [8, 16, 24]
    assert played.rows(What.STROKES) == [
        (0, "mill.1", 1, 2),
        (8, "mill.1", 2, 2),
        (16, "mill.1", 3, 2),
        (24, "mill.1", 4, 2),
    ]


def test_a_part_that_needs_too_many_is_scrapped_after_the_most_and_charged_here_under_a_name_of_its_own() -> None:
    """All need three of which two are made: scrapped at 8 and 16 s; the gauge behind sees none of them."""
    line = serial({"mill": press({3: "100 %"}, at_most=2, defect="bent"), "gauge": 1})
    played = play(line, horizon_s=17)
    assert played.departures() == [(8, 1, "scrapped"), (16, 2, "scrapped")]
    assert played.ledger.defects == (("mill", "bent"),)
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"mill": 2, "gauge": 0}
    assert (
        lost_behind(played.ledger, played.line, "mill", Fate.SCRAPPED),
        lost_behind(played.ledger, played.line, "gauge", Fate.SCRAPPED),
    ) == (2, 0)


def test_as_many_strokes_as_are_allowed_do_not_reject_a_part() -> None:
    assert play(alone(press({2: "100 %"}, at_most=2)), horizon_s=9).departures() == [(8, 1, "good")]


def test_no_stroke_at_all_may_be_allowed() -> None:
    """Measured for 2 s and rejected."""
    played = play(alone(press({1: "100 %"}, at_most=0)), horizon_s=5)
    assert played.departures() == [(2, 1, "scrapped"), (4, 2, "scrapped")]


def test_a_part_that_was_bad_before_keeps_its_first_defect() -> None:
    line = serial({"saw": {"cycle": seconds(1), "defects": {"short": "100 %"}}, "mill": press({1: "100 %"}, at_most=0)})
    played = play(line, horizon_s=4)
    assert played.ledger.departures[:, 4].tolist() == [0]
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"saw": 0, "mill": 1}


def test_a_rejected_part_still_counts_for_a_tool_change_and_takes_no_false_alarm() -> None:
    """Scrapped at 5 s, and the change after every part follows at once: 5 to 9 s, then 9 to 14 s."""
    station = press({2: "100 %"}, at_most=1)
    station |= {
        "inspection": {"false_alarms": "100 %"},
        "tool_change": {"die": {"every": "1 parts", "takes": seconds(4), "age": "0 parts"}},
    }
    played = play(alone(station), horizon_s=15)
    assert played.departures() == [(5, 1, "scrapped"), (14, 2, "scrapped")]
    assert played.ledger.stations["false_alarms"].tolist() == [0]
    assert played.states("mill.1")[1] == (5, "tool_change")


def test_a_restart_makes_the_same_strokes_again() -> None:
    """8 s of work; jam after 5 s at work for 1 s: never done; with 9 s it is."""
    station = press({2: "100 %"}) | {"breakdowns": {"jam": breakdown(9, 1, part="restart")}}
    played = play(alone(station), horizon_s=20)
    assert played.left_at() == [8, 18]  # 8-9 jam 9-10, again 10-18


def test_the_shares_are_those_of_the_file() -> None:
    """4000 parts: each share within four standard errors (0.031 at 50 %)."""
    line = alone(press({0: "50 %", 1: "20 %", 4: "30 %"}, at_most=3))
    needed = [value for *_, value in play(line, horizon_s=4000 * 5.3).rows(What.STROKES)]
    counts = np.bincount(needed, minlength=5) / len(needed)
    assert counts == pytest.approx([0.5, 0.2, 0, 0, 0.3], abs=0.031)


def test_the_rough_cut_sheet_has_the_mean_number_that_is_made_and_the_share_rejected() -> None:
    """0.5 x 0 + 0.2 x 1 + 0.3 x 3 = 1.1 strokes of 3 s: 5.3 s; 30 % are rejected."""
    line = linesim.load_line(serial({"mill": press({0: "50 %", 1: "20 %", 4: "30 %"}, at_most=3), "saw": 5}))
    mill = stages(line)[0]
    assert (mill.cycle_s, mill.lost_share) == (pytest.approx(5.3), pytest.approx(0.3))
    assert mill.capacity_per_h == pytest.approx(0.7 * 3600 / 5.3)
    assert (pace_stage(line), least_lead_time_s(line)) == ("mill", pytest.approx(10.3))
