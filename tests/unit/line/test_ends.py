"""Infeed, outfeed and the limit of parts inside: what a file may say, and what the rough-cut sheet makes of it."""

import pytest

from linesim.line import load_line, summary
from linesim.line.at_start import parts_at_start
from linesim.line.capacity import capacity_sheet
from linesim.line.supply import ceilings
from tests.unit.line.lines import cell, messages, problems

REFILL = "infeed.blanks={capacity: 60 parts, refill: {every: 2 h, takes: 3 min}}"


def test_a_stock_may_be_given_with_parts_or_as_a_bare_count() -> None:
    for given in ("60 parts", "60"):
        line = load_line(cell(), [REFILL, f"infeed.blanks.capacity={given}", f"wip_limit={given}"])
        assert (line.infeed["blanks"].capacity, line.wip_limit) == (60, 60)


@pytest.mark.parametrize(
    ("override", "key", "rule"),
    [
        ("infeed.blanks={capacity: 60}", "infeed.blanks.capacity", "without refill it would run empty for good"),
        ("outfeed.tray={capacity: 60}", "outfeed.tray.capacity", "without emptied it would stay full for good"),
        ("infeed.blanks={refill: {at: 3 parts, takes: 3 s}}", "infeed.blanks.refill", "needs a limited stock"),
        ("infeed.blanks={capacity: 5, refill: {takes: 3 s}}", "infeed.blanks.refill", "must have every"),
        (
            "infeed.blanks={capacity: 5, refill: {takes: 3 s, every: 1 h, at: 1 part}}",
            "infeed.blanks.refill",
            "not both",
        ),
        (
            "infeed.blanks={capacity: 5, arrivals: {every: 40 s}}",
            "infeed.blanks.arrivals",
            "blanks either arrive or are refilled",
        ),
        (
            "infeed.blanks={capacity: 5, refill: {takes: 3 s, at: 5 parts}}",
            "infeed.blanks.refill.at",
            "must be below the capacity",
        ),
        (
            "outfeed.tray={capacity: 5, emptied: {takes: 3 s, at: 6 parts}}",
            "outfeed.tray.emptied.at",
            "must be between 1 part and the capacity",
        ),
        (
            "outfeed.tray={capacity: 5, emptied: {takes: 3 s, at: 0 parts}}",
            "outfeed.tray.emptied.at",
            "must be between 1 part and the capacity",
        ),
        ("infeed.blanks={arrivals: {every: 0 s}}", "infeed.blanks.arrivals.every", "must be above 0 s"),
        ("infeed.blanks={arrivals: {every: 9 s, batch: 0}}", "infeed.blanks.arrivals.batch", "must be 1 part or more"),
        ("wip_limit=0", "wip_limit", "must be 1 part or more"),
        ("buffers.park.at_start=3 parts", "buffers.park.at_start", "is more than the capacity of 2"),
        ("filled=101 %", "filled", "must be at most 100 %"),
        ("wip_limit=5 pieces", "wip_limit", "must be a number of parts in parts or part"),
    ],
)
def test_what_makes_no_sense_at_an_end_is_told(override: str, key: str, rule: str) -> None:
    (problem,) = problems(cell(), override)
    assert problem.key == key
    assert rule in problem.rule


def test_a_limit_and_a_fixed_round_do_not_go_together() -> None:
    (message,) = messages(cell(), "wip_limit=3", "loaders.gantry.next_call={fixed: [grind, turn, blanks]}")
    assert "can't be kept with the fixed round of gantry" in message


def test_a_refill_names_a_crew_of_the_line_and_all_it_needs() -> None:
    (message,) = messages(cell(), REFILL, "infeed.blanks.refill.crew=nobody")
    assert "nobody is no crew of this line" in message
    (message,) = messages(cell(), "infeed.blanks={capacity: 60 parts, refill: {every: 2 h}}")
    assert "A refill or emptying needs it" in message


def test_a_crew_that_only_refills_is_no_stranger() -> None:
    assert problems(cell(), REFILL, "infeed.blanks.refill.crew=operator", "crews.operator={people: 1}") == []


def test_the_sheet_holds_what_the_ends_let_through() -> None:
    """60 parts in 2 h + 3 min + 2 min of response are 28.8 an hour; 4 each 6 min; 5 inside for 130 s: 138.5."""
    crew = {"operator": {"response": "2 min"}}
    line = load_line(cell(crews=crew), [REFILL, "infeed.blanks.refill.crew=operator"])
    (stock,) = ceilings(line)
    assert (stock.what, stock.per_h) == ("blanks", pytest.approx(60 / (125 / 60)))
    (emptied,) = ceilings(load_line(cell(), ["outfeed.tray={capacity: 9, emptied: {at: 5 parts, takes: 3 min}}"]))
    assert emptied.per_h == pytest.approx(180)
    (arriving,) = ceilings(load_line(cell(), ["infeed.blanks={arrivals: {every: 6 min, batch: 4}}"]))
    assert arriving.per_h == pytest.approx(40)
    plain = {"route": ["a", "b"], "stations": {"a": {"cycle": "80 s"}, "b": {"cycle": "50 s"}}, "wip_limit": 5}
    (inside,) = ceilings(load_line(plain))
    assert inside.per_h == pytest.approx(5 * 3600 / 130)


def test_an_end_that_can_not_carry_the_demand_is_warned_of() -> None:
    demand = {"volume": "40000 /year", "planned": "1000 h/year"}
    assert capacity_sheet(load_line(cell(demand=demand))).warnings == ()
    line = load_line(cell(demand=demand), [REFILL])
    assert capacity_sheet(line).warnings == ("blanks lets 29.3 parts/h through at best; 40.0 must pass",)
    assert "blanks: at most 29.3 parts/h (60 parts each refill)" in summary(line)


def test_parts_at_the_start_count_towards_the_limit_of_parts() -> None:
    (problem,) = problems(cell(), "filled=100 %", "wip_limit=1")
    assert (problem.key, problem.rule) == ("wip_limit", "is below the 2 parts that buffers hold at the start")
    assert not problems(cell(), "filled=100 %", "wip_limit=1", "buffers.park.at_start=1 part")


@pytest.mark.parametrize(("override", "key"), [("filled=50 %", "filled"), ("buffers.park.at_start=1 part", "at_start")])
def test_parts_at_the_start_do_not_go_with_a_fixed_round(override: str, key: str) -> None:
    fixed = "loaders.gantry.next_call={fixed: [blanks, turn, park, grind]}"
    (problem,) = problems(cell(), override, fixed)
    assert problem.key.endswith(key)
    assert "fixed round of gantry, which counts on an empty line" in problem.rule
    assert not problems(cell(), "filled=10 %", fixed), "that is no part at all"


def test_a_share_of_the_places_that_is_a_whole_number_is_that_number() -> None:
    line = load_line(cell(), ["buffers.park.capacity=100", "filled=57 %"])
    assert parts_at_start(line) == {"park": 57}


def test_a_level_that_can_not_be_read_is_told_once():
    (problem,) = problems(cell(), "infeed.blanks={capacity: 60, refill: {at: few, takes: 3 min}}")
    assert problem.key == "infeed.blanks.refill.at"
