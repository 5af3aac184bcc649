"""Part types that skip places, in a line file: what is refused, and what the rough-cut sheet makes of them."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.line import load_line, summary
from linesim.line.capacity import capacity_sheet, entering_per_h, ideal_interval_s
from linesim.line.lead_time import least_lead_time_s
from linesim.line.loader_work import load_s, loader_works
from linesim.line.model import Line
from linesim.line.ways import all_ways, places_of_loop
from tests.unit.line.lines import cell, problems

MIX = "parts={small: {share: 60 %}, large: {share: 40 %}}"
PAST_GRIND = "parts.small.skips=[park, grind]"
NO_LOADER = "loaders=null"


def skipping(*overrides: str, skips: str = "[park, grind]") -> Line:
    return load_line(cell(), [MIX, f"parts.small.skips={skips}", *overrides])


def two_gantries(left: list[str], right: list[str]) -> dict[str, Any]:
    gantry = cell()["loaders"]["gantry"]
    return {
        name: gantry | {"stops": {place: gantry["stops"][place] for place in own}}
        for name, own in (("left", left), ("right", right))
    }


@pytest.mark.parametrize(
    ("overrides", "key", "rule"),
    [
        (("parts.small.skips=grnd",), "parts.small.skips", "grnd is not on the route"),
        (("parts.small.skips=[grind, grnd]",), "parts.small.skips[1]", "grnd is not on the route"),
        (("parts.small.skips=blanks",), "parts.small.skips", "every part begins its way at blanks"),
        (("parts.small.skips=tray",), "parts.small.skips", "every part ends its way at tray"),
        (
            ("parts.small.skips=turn", "route=[turn, park, grind, tray]", "infeed=null", NO_LOADER),
            "parts.small.skips",
            "every part begins its way at turn",
        ),
        (
            ("parts.small.skips=grind", "route=[blanks, turn, park, grind]", "outfeed=null", NO_LOADER),
            "parts.small.skips",
            "every part ends its way at grind",
        ),
        (("parts.small.skips=[turn, grind]",), "parts.small.skips", "no station works on small"),
        ((PAST_GRIND, "stations.turn.cycle=0 s", NO_LOADER), "parts.small.skips", "pass in no time at all"),
        (
            (PAST_GRIND, "stations.turn.cycle={small: 0 s, large: 9 s}", NO_LOADER),
            "parts.small.skips",
            "pass in no time at all",
        ),
        (
            ("parts.small.skips=turn", "stations.grind.inspection={rework: {to: turn}}"),
            "parts.small.skips",
            "grind sends rejects back to turn, which small skips",
        ),
        (("parts.small.skips=park", "parts.large.skips=park"), "buffers.park", "every part type skips it"),
        ((PAST_GRIND, "buffers.park.at_start=2 parts"), "buffers.park.at_start", "small would skip it"),
        ((PAST_GRIND, "filled=50 %"), "buffers.park.at_start", "can't hold parts when a run begins"),
        (
            (PAST_GRIND, "loaders.gantry.next_call={fixed: [grind, turn, blanks]}", "loaders.gantry.grippers=1"),
            "loaders.gantry.next_call",
            "a fixed round can't serve part types that skip park and grind",
        ),
    ],
)
def test_what_makes_no_sense_about_skipping_is_told(overrides: tuple[str, ...], key: str, rule: str) -> None:
    found = {problem.key: problem.rule for problem in problems(cell(), MIX, *overrides)}
    assert list(found) == [key]
    assert rule in found[key]


def test_a_way_must_lead_past_what_is_skipped() -> None:
    """The left gantry ends at the park, where the right one begins; no other place is served by both."""
    line = cell(loaders=two_gantries(["blanks", "turn", "park"], ["park", "grind", "tray"]))
    (problem,) = problems(line, MIX, "parts.small.skips=park")
    assert problem.key == "parts.small.skips"
    assert "no way leads small from turn to grind" in problem.rule
    assert "left carries from turn to park" in problem.rule
    assert problems(line, MIX, "parts.small.skips=grind") == []  # from the park to the tray by the right one


def test_one_loader_only_may_lead_past_what_is_skipped() -> None:
    """Both serve turn and tray, which are no neighbours; parts that skip what is between could go by either."""
    line = cell(loaders=two_gantries(["blanks", "turn", "park", "tray"], ["turn", "grind", "tray"]))
    (problem,) = problems(line, MIX, PAST_GRIND)
    assert "skip what is between turn and tray could go by left or right" in problem.rule


def test_a_fixed_round_may_serve_another_stretch_of_the_line() -> None:
    left, right = ["blanks", "turn", "park"], ["park", "grind", "tray"]
    line = cell(loaders=two_gantries(left, right))
    line["loaders"]["left"]["next_call"] = {"fixed": ["turn", "blanks"]}
    assert problems(line, MIX, "parts.small.skips=grind") == []


def test_a_gantry_may_be_there_for_parts_that_skip_alone() -> None:
    """It joins turn and tray; all the rest hand over directly."""
    past = {"past": cell()["loaders"]["gantry"] | {"stops": {"turn": "0 m", "tray": "3 m"}}}
    assert [problem.rule.partition(":")[0] for problem in problems(cell(loaders=past), MIX)] == [
        "past never serves turn",
        "past never serves tray",
    ]
    assert problems(cell(loaders=past), MIX, PAST_GRIND) == []


def test_skips_may_be_one_name_several_or_none() -> None:
    assert skipping(skips="grind").parts["small"].skips == ("grind",)
    assert skipping().parts["small"].skips == ("park", "grind")
    assert skipping(skips="[]").parts["small"].skips == ()


def test_a_cycle_by_type_needs_no_time_for_those_that_skip_the_station() -> None:
    """Of the large ones alone comes the mean of grind; of a change that only adds `skips` the mean changes too."""
    assert skipping("stations.grind.cycle={large: 95 s}").stations["grind"].cycle.mean == 95
    assert skipping("stations.grind.cycle={small: 20 s, large: 95 s}").stations["grind"].cycle.mean == 95
    rule = "has no time for the part large"
    assert [p.rule for p in problems(cell(), MIX, PAST_GRIND, "stations.grind.cycle={small: 9 s}")] == [rule]


def test_the_ways_are_those_that_some_part_goes() -> None:
    told = [(way.start, way.end) for way in all_ways(skipping(skips="grind"))]
    assert told == [("blanks", "turn"), ("turn", "park"), ("park", "grind"), ("park", "tray"), ("grind", "tray")]


def test_a_loop_has_room_where_no_part_within_it_passes_by() -> None:
    """Small parts that skip only the park pass by it; those that skip grind too never come to both sides of it."""
    assert places_of_loop(skipping(skips="park"), "turn", "grind") == ["turn", "grind"]
    assert places_of_loop(skipping(), "turn", "grind") == ["turn", "park", "grind"]


def test_flows_follow_the_types() -> None:
    """grind finds 10 % bad parts of its own. Of 100 blanks 60 skip it, 36 of the others are good: 96. At a demand of 96
    an hour turn starts 100 and grind 40, of which it must make 36 good."""
    bad = ["stations.grind.defects={size: 10 %}", "stations.grind.inspection={}"]
    line = skipping(*bad, "demand={volume: 96000 /year, planned: 1000 h/year}")
    turn, grind = capacity_sheet(line).stages
    assert (turn.starts_per_h, grind.starts_per_h) == pytest.approx((100, 40))
    assert (turn.needed_per_h, grind.needed_per_h) == pytest.approx((100, 36))
    assert (turn.lost_share, grind.lost_share) == pytest.approx((0, 0.1))
    assert entering_per_h(line) == pytest.approx(100)


def test_defects_that_only_a_skipped_station_would_find_are_lost_of_those_that_come_there() -> None:
    """turn makes 10 % bad parts, grind finds all: of small ones none, 0.4 x 10 % of all."""
    bad = ["stations.turn.defects={size: 10 %}", "stations.grind.inspection={}"]
    turn, grind = capacity_sheet(skipping(*bad)).stages
    assert turn.lost_share == pytest.approx(0.04)
    assert grind.lost_share == 0


def test_the_pace_counts_the_share_that_comes() -> None:
    """turn 60 + 7 s for each part; grind 50 + 7 s for 40 % of them."""
    assert ideal_interval_s(skipping()) == pytest.approx({"turn": 67, "grind": 0.4 * 57})
    assert [row.visits for row in capacity_sheet(skipping()).stages] == pytest.approx([1, 0.4])


def test_the_least_lead_time_is_the_mean_over_the_types() -> None:
    """Without a loader 60 s and 60 + 50 s; each type with its own cycles where these differ."""
    assert least_lead_time_s(skipping(NO_LOADER)) == pytest.approx(0.6 * 60 + 0.4 * 110)
    by_type = "stations.turn.cycle={small: 30 s, large: 80 s}"
    assert least_lead_time_s(skipping(NO_LOADER, by_type)) == pytest.approx(0.6 * 30 + 0.4 * 130)


def test_a_loader_has_the_mean_work_of_the_types() -> None:
    """Small: pick 3, exchange 7, place 4; 2 m in 2 s, 6 m in 4, back 8 m in 5. Large: 21 and 12 s."""
    (row,) = loader_works(skipping(), {"turn": 50.0, "grind": 20.0})
    assert row.handling_s == pytest.approx(0.6 * 14 + 0.4 * 21)
    assert row.travel_s == pytest.approx(0.6 * 11 + 0.4 * 12)
    assert row.share == pytest.approx(50 * (16.8 + 11.4) / 3600)


def test_a_station_is_loaded_as_its_types_go() -> None:
    """turn hands over to the park directly; the gantry fetches small parts only from it: 6 s to unload."""
    past = {"past": cell()["loaders"]["gantry"] | {"stops": {"turn": "0 m", "tray": "3 m"}}}
    line = load_line(cell(loaders=past), [MIX, PAST_GRIND])
    assert load_s(line, "turn") == pytest.approx(0.6 * 6)
    assert load_s(line, "grind") == 0


def test_a_station_changes_over_for_those_that_come_to_it() -> None:
    """grind makes large parts only, and so never changes over."""
    takes = "{takes: {small: {large: 20 min}, large: {small: 15 min}}}"
    orders = "orders=[{part: small, size: 30}, {part: large, size: 20}]"
    given = ["parts={small: {skips: [park, grind]}, large: {}}", orders]
    changing = [f"stations.turn.changeover={takes}", f"stations.grind.changeover={takes}"]
    turn, grind = capacity_sheet(load_line(cell(), [*given, *changing])).stages
    assert turn.stop_s == pytest.approx(35 * 60 / 50)
    assert grind.stop_s == 0
    mixed = capacity_sheet(skipping(*changing)).stages
    assert [row.stop_s for row in mixed] == pytest.approx([0.24 * 35 * 60, 0])


def test_the_summary_tells_what_is_skipped_and_the_way_past_it() -> None:
    shown = summary(skipping())
    assert "small skips park and grind: turn to tray by gantry" in shown
    assert "x share of the parts that come to it" in shown
