"""The warm-up of a study: pilot runs, one cut for all, and what is refused."""

from typing import Any

import pandas as pd
import pytest

import linesim
from linesim.line import LineError
from linesim.results.warm_up import Pilot
from linesim.study.warm_up import common_cut_h, run_pilot

STEADY: dict[str, Any] = {"route": ["turn"], "stations": {"turn": {"cycle": "600 s"}}}  # 6 parts/h, without chance
TIMES: dict[str, Any] = {"seed": 1, "engine": "simpy"}


def pilot(cut_h: int, of_h: int = 50, weekly: bool = False) -> Pilot:
    """One whose output settles after `cut_h`, WIP at once."""
    low = [0.0] * cut_h + [6.0] * (of_h - cut_h)
    hours = [float(h) for h in range(of_h)]
    step = 168.0 if weekly else 1.0
    table = pd.DataFrame({"replication": 1, "from_h": hours, "throughput_per_h": low, "wip_parts": 1.0})
    return Pilot(table.assign(from_h=table["from_h"] * step, to_h=(table["from_h"] + 1) * step), weekly)


def test_a_pilot_runs_from_empty_as_long_as_the_measured_time_is_to_be() -> None:
    found = run_pilot(linesim.load_line(STEADY), hours=2, seed=1, engine="simpy")
    assert found.hours == pytest.approx(2)
    assert sorted(set(found.windows["replication"])) == list(range(1, 11))
    assert len(found.windows) == 10 * 100, "a short one has 100 windows"


def test_a_pilot_that_has_not_settled_is_made_again_twice_and_four_times_as_long() -> None:
    """Two feed machines make 6 parts/h each for a mill of 6 parts/h: the buffer between grows without an end."""
    growing = {
        "route": ["turn", "park", "mill"],
        "stations": {"turn": {"cycle": "600 s", "machines": 2}, "mill": {"cycle": "600 s"}},
        "buffers": {"park": {"capacity": 1000}},
    }
    with pytest.raises(LineError, match=r"the WIP settles after .* of 8 h"):
        linesim.simulate(linesim.load_line(growing), hours=2, warmup="auto", **TIMES)


def test_the_latest_cut_of_all_lines_is_taken() -> None:
    assert common_cut_h({"a": pilot(5), "b": pilot(20), "c": pilot(0)}) == 20
    assert common_cut_h({"shifts": pilot(3, 20, weekly=True)}) == 3 * 168


def test_a_cut_in_the_second_half_is_refused_with_the_line_and_series_that_has_it() -> None:
    with pytest.raises(LineError, match=r"the output of slow settles after 30 of 60 h") as caught:
        common_cut_h({"quick": pilot(5), "slow": pilot(30, 60)})
    assert len(caught.value.problems) == 1


def test_a_line_with_shifts_needs_ten_weeks() -> None:
    early = {"early": {"from": "6:00", "to": "14:00", "days": "mon to fri"}}
    with pytest.raises(LineError, match="takes 10 weeks"):
        linesim.simulate(linesim.load_line({**STEADY, "shifts": early}), weeks=9, warmup="auto", **TIMES)


def test_results_keep_the_pilot_and_are_measured_after_its_cut() -> None:
    """Two machines of 600 s in a row: full after 20 min, a part every 10 min from then on. 10 h in windows of 6 min,
    batches of half an hour with 3 parts each, but one in the first: so that is cut off."""
    line = linesim.load_line({"route": ["turn", "mill"], "stations": {n: {"cycle": "600 s"} for n in ("turn", "mill")}})
    found = linesim.simulate(line, hours=10, warmup="auto", replications=2, **TIMES)
    assert found.about["warmup_hours"] == 0.5
    assert found.about["hours"] == 10
    assert found.about["warmup"]["cuts_h"]["throughput_per_h"] == 0.5
    assert len(found.warm_up) == 10 * 100
    assert "warm-up found by MSER-5" in found.text_summary()
    given = linesim.simulate(line, hours=10, warmup_hours=0.5, replications=2, **TIMES)
    pd.testing.assert_frame_equal(found.replications, given.replications)
    assert given.about["warmup"] is None
    assert given.warm_up.empty


def test_compared_lines_have_one_cut() -> None:
    short = linesim.load_line(STEADY)
    parts = {f"m{number}": {"cycle": "600 s"} for number in range(5)}
    long = linesim.load_line({"route": list(parts), "stations": parts})
    both = linesim.compare({"short": short, "long": long}, hours=10, warmup="auto", replications=2, **TIMES)
    cuts = [max(each.about["warmup"]["cuts_h"].values()) for each in both.results.values()]
    assert cuts == [0.5, 1.0], "two of three parts in the first half hour; the first part of the long one after 50 min"
    assert {each.about["warmup_hours"] for each in both.results.values()} == {1.0}
    assert "longest warm-up of all lines" in both.text_summary()
