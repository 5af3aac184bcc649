"""Part types: orders, cycles by type and changeovers, worked out by hand in whole seconds."""

from __future__ import annotations

from typing import Any

import pytest

from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import What
from linesim.line import load_line
from linesim.line.capacity import capacity_sheet
from linesim.results import Results
from tests.helpers.lines import Plain, alone, breakdown, loader, seconds, serial
from tests.helpers.running import Play, play

BOTH: Plain = {"small": {}, "large": {}}
BY_TYPE = {"small": "2 s", "large": "3 s"}


def ordered(*orders: tuple[int, str]) -> Plain:
    """Orders of so many parts of a type."""
    return {"parts": BOTH, "orders": [{"part": part, "size": f"{size} parts"} for size, part in orders]}


def changes(to_large_s: float = 5, to_small_s: float | None = 4, **rest: Any) -> Plain:
    takes = {"small": {"large": seconds(to_large_s)}}
    return {"takes": takes | ({} if to_small_s is None else {"large": {"small": seconds(to_small_s)}}), **rest}


def types(played: Play) -> list[str]:
    """The types of the parts that entered, in order."""
    return [played.trace.part_types[value] for *_, value in played.rows(What.PART_TYPE)]


def test_orders_come_one_after_the_other_and_then_from_the_first_again() -> None:
    """2 small of 2 s, 1 large of 3 s, again and again; the last order and the first are of one type."""
    played = play(alone({"cycle": BY_TYPE}, **ordered((2, "small"), (1, "large"), (1, "small"))), horizon_s=20)
    assert types(played) == ["small", "small", "large", "small"] * 2 + ["small"]
    assert played.left_at() == [2, 4, 7, 9, 11, 13, 16, 18]
    assert played.ledger.departures[:, 7].tolist() == [0, 0, 1, 0] * 2


def test_a_machine_changes_over_with_the_part_on_board_before_it_starts() -> None:
    """Small until 4 s, 5 s for large, done at 12 s; then 4 s for small, done at 18 and 20 s, and 5 s again."""
    station = {"cycle": BY_TYPE, "changeover": changes()}
    played = play(alone(station, **ordered((2, "small"), (1, "large"))), horizon_s=26)
    assert played.left_at() == [2, 4, 12, 18, 20]
    assert played.states("mill.1") == [
        (0, "working"),
        (4, "changeover"),
        (9, "working"),
        (12, "changeover"),
        (16, "working"),
        (20, "changeover"),
        (25, "working"),
    ]
    (stop,) = played.ledger.stoppages.itertuples()
    assert (stop.kind, stop.begun, stop.waiting_us, stop.lasting_us) == ("changeover", 3, 0, 14 * US)


def test_the_first_part_needs_no_changeover_and_a_pair_that_is_not_named_takes_none() -> None:
    """Large comes first: from 0 s on. Only small to large takes time: large 3, small 5, 5 s of changeover, large 13."""
    station = {"cycle": BY_TYPE, "changeover": changes(to_small_s=None)}
    played = play(alone(station, **ordered((1, "large"), (1, "small"))), horizon_s=14)
    assert played.left_at() == [3, 5, 13]


def test_a_changeover_waits_while_its_crew_is_busy_at_another_machine() -> None:
    """Both stations change over for the large part: at the first from 2 to 7 s, then it works until 10 s.

    At 7 s the crew goes on to nothing, since the part comes to the second station at 10 s; the next small part comes
    to the first at that very instant. Both call at 10 s, and the first in file order is served: a from 10 to 14 s, b
    from 14 to 19 s.
    """
    station = {"cycle": BY_TYPE, "changeover": changes(crew="setter")}
    line = serial({"a": station, "b": station}, **ordered((1, "small"), (1, "large")), crews={"setter": {}})
    played = play(line, horizon_s=20)
    assert played.states("a.1")[:5] == [
        (0, "working"),
        (2, "changeover"),
        (7, "working"),
        (10, "changeover"),
        (14, "working"),
    ]
    assert played.states("b.1")[:5] == [
        (0, "starved"),
        (2, "working"),
        (4, "starved"),
        (10, "waiting_setter"),
        (14, "changeover"),
    ]
    assert played.ledger.crews.iloc[0]["waited_us"] == 4 * US


def test_a_tool_change_that_is_due_goes_before_the_changeover() -> None:
    """Tool change after 2 parts, 2 s: from 4 to 6 s the machine is empty, since nothing may be loaded meanwhile."""
    stop = {"insert": {"every": "2 parts", "takes": "2 s", "age": "0 parts"}}
    station = {"cycle": BY_TYPE, "changeover": changes(), "tool_change": stop}
    line = alone(station, **ordered((2, "small"), (1, "large")))
    states = [(0, "working"), (4, "tool_change"), (6, "changeover"), (11, "working")]
    assert play(line, horizon_s=14).states("mill.1") == states
    stop["insert"]["overlaps"] = "loading"  # the part is put in at 4 s, and the changeover follows all the same
    played = play(line, horizon_s=14)
    assert played.states("mill.1") == states
    assert played.rows(What.STOP)[:2] == [(4, "mill.1", 2, 0), (6, "mill.1", 3, 1)]


def test_a_breakdown_in_a_changeover_holds_it_unless_people_are_at_it() -> None:
    """Calendar clock, 6 s, repair 2 s: a changeover from 4 to 9 s that the machine does itself ends at 11 s."""
    jam = {"jam": breakdown(6, 2, clock="calendar")}
    for crew, ends in ((None, 11), ("setter", 9)):
        station = {"cycle": BY_TYPE, "changeover": changes(crew=crew), "breakdowns": jam}
        line = alone(station, **ordered((2, "small"), (9, "large")), crews={"setter": {}} if crew else {})
        played = play(line, horizon_s=13)
        assert [at for at, *_ in played.rows(What.STOP_OVER)] == [ends]
        assert played.rows(What.START)[2][0] == ends


def test_a_scrapped_part_has_set_the_machine_up_for_its_type() -> None:
    """The jam at 10 s of work scraps the first large part in work since 9 s; the next large needs no changeover."""
    jam = {"jam": breakdown(5, 1, part="scrap")}
    station = {"cycle": BY_TYPE, "changeover": changes(), "breakdowns": jam}
    played = play(alone(station, **ordered((2, "small"), (9, "large"))), horizon_s=15)
    assert played.departures() == [(2, 1, "good"), (4, 2, "good"), (10, 3, "scrapped"), (14, 4, "good")]
    assert len(played.rows(What.STOP)) == 1


def test_machines_side_by_side_change_over_each_by_itself() -> None:
    """Orders of one part: a small and a large at 0 s, each first on its machine; small to the first one at 2 and 4 s,
    large to the other at 3 s. At 6 s both end, and the sixth part, a large one, goes to the first in file order, since
    the choice of a machine heeds no types: both change over, for 5 and for 4 s."""
    station = {"machines": 2, "cycle": BY_TYPE, "changeover": changes()}
    played = play(alone(station, **ordered((1, "small"), (1, "large"))), horizon_s=12)
    assert played.rows(What.STOP) == [(6, "mill.1", 6, 0), (6, "mill.2", 7, 1)]
    assert [at for at, *_ in played.rows(What.STOP_OVER)] == [10, 11]


def test_a_loader_brings_parts_as_they_are_ordered_and_swaps_before_the_changeover() -> None:
    """Stocker 0, mill 2, tray 4 m, 1 s to handle, two grippers.

    Part 1 is picked at 1 s and in the mill at 4 s, done at 6 s. The gantry goes back at 6 s, picks part 2 (large) at
    9 s, swaps at 12 s, and the mill changes over from 12 to 17 s.
    """
    station = {"cycle": BY_TYPE, "changeover": changes()}
    gantry = {"gantry": loader({"stocker": 0, "mill": 2, "tray": 4}, grippers=2)}
    played = play(alone(station, **ordered((1, "small"), (1, "large")), loaders=gantry), horizon_s=18)
    assert played.carried()[:2] == [(1, 4, 1, "stocker", "mill.1"), (9, 12, 2, "stocker", "mill.1")]
    assert played.states("mill.1")[-2:] == [(12, "changeover"), (17, "working")]


def test_a_share_of_nothing_never_comes_and_one_of_all_always_does() -> None:
    parts = {"small": {"share": "0 %"}, "large": {"share": "100 %"}, "huge": {"share": "0 %"}}
    line = alone({"cycle": {**BY_TYPE, "huge": "9 s"}}, parts=parts)
    assert set(types(play(line, horizon_s=90))) == {"large"}


def test_cycles_of_a_type_do_not_depend_on_what_else_is_made() -> None:
    """Random cycles have a stream for each type: the third small part takes as long with large ones in between."""
    law = {"family": "gamma", "mean": "2 s", "cv": 0.5}

    def small_cycles(*orders: tuple[int, str]) -> list[int]:
        played = play(alone({"cycle": {"small": law, "large": law}}, **ordered(*orders)), horizon_s=60)
        of = {part: value for _, _, part, value in played.rows(What.PART_TYPE)}
        return [value for _, _, part, value in played.rows(What.START) if of[part] == 0][:5]

    assert small_cycles((1, "small"), (9, "large"))[:2] == small_cycles((9, "small"), (1, "large"))[:2]
    assert small_cycles((2, "small"), (1, "large")) == small_cycles((9, "small"), (1, "large"))


def test_the_line_makes_what_the_formula_of_batches_and_setups_says() -> None:
    """30 small of 2 s, 20 large of 3 s, 5 and 4 s to change over: 50 parts in 60 + 60 + 9 = 129 s (common practice)."""
    station = {"cycle": BY_TYPE, "changeover": changes()}
    line = load_line(alone(station, **ordered((30, "small"), (20, "large"))))
    (stage,) = capacity_sheet(line).stages
    assert stage.capacity_per_h == pytest.approx(3600 * 50 / 129)
    played = play(alone(station, **ordered((30, "small"), (20, "large"))), horizon_s=3 * 129, warmup_s=129)
    assert len(played.ledger.departures[played.ledger.departures[:, 0] >= 129 * US]) == 100


def test_the_results_tell_parts_and_lead_time_of_each_type() -> None:
    """Small parts spend 2 s in the mill, large ones 5 s of changeover and 3 s; three of each five are small."""
    station = {"cycle": BY_TYPE, "changeover": changes(to_small_s=0)}
    played = play(alone(station, **ordered((3, "small"), (1, "large"))), horizon_s=28 + 1)
    results = Results(played.line, [played.ledger])
    small, large = results.parts.itertuples()
    assert (small.part, small.good_parts, small.lead_time_mean_s) == ("small", 6, 2)
    assert (large.part, large.good_parts, large.lead_time_mean_s) == ("large", 2, 8)
    assert (small.share_of_good, large.scrapped_parts) == (0.75, 0)
    assert small.throughput_per_h == pytest.approx(6 / 29 * 3600)
    assert "large: output" in results.text_summary()
