"""Tools that break, wheels that wear by dressing: worked out by hand in whole seconds."""

from __future__ import annotations

import linesim
from linesim.engine.contract.trace import What
from linesim.line.capacity import stages
from tests.helpers.lines import Plain, alone, breakdown, constant, loader, seconds, serial
from tests.helpers.running import Play, play

LIFE_3_PARTS = {"takes": seconds(1), "life": "3 parts"}


def mill(insert: Plain, cycle_s: float = 2, **rest: object) -> Plain:
    return alone({"cycle": seconds(cycle_s), "tool_change": {"insert": insert}, **rest})


def counts(played: Play) -> dict[tuple[str, str], int]:
    told = played.ledger.stoppages
    return {(kind, name): count for kind, name, count in zip(told["kind"], told["name"], told["begun"], strict=True)}


def test_a_tool_breaks_with_the_part_that_reaches_its_life_and_takes_it_along() -> None:
    """Cycle 2 s, life 3 parts, change 1 s: part 3 is lost at 6 s, part 4 starts at 7 s, part 6 is lost at 13 s."""
    played = play(mill(LIFE_3_PARTS), horizon_s=16)
    assert played.departures() == [
        (2, 1, "good"),
        (4, 2, "good"),
        (6, 3, "scrapped"),
        (9, 4, "good"),
        (11, 5, "good"),
        (13, 6, "scrapped"),
    ]
    assert played.states("mill.1") == [
        (0, "working"),
        (6, "tool_change"),
        (7, "working"),
        (13, "tool_change"),
        (14, "working"),
    ]
    assert counts(played) == {("breakage", "insert"): 2}
    assert played.ledger.stations["scrapped"].tolist() == [2]


def test_a_begun_part_of_a_life_counts_whole() -> None:
    """Life 2.2 parts: it breaks with part 3."""
    life = {"family": "constant", "value": "2.2 parts"}
    assert play(mill({"takes": seconds(1), "life": life}), horizon_s=7).departures()[-1] == (6, 3, "scrapped")


def test_the_change_after_a_break_may_take_longer_and_another_crew() -> None:
    """Breakage 5 s by the setter, who comes after 2 s: waiting 6-8, change 8-13 s. No planned change is made."""
    insert = LIFE_3_PARTS | {"crew": "operator", "breakage": {"takes": seconds(5), "crew": "setter"}}
    line = mill(insert)
    line["crews"] = {"operator": {}, "setter": {"response": seconds(2)}}
    played = play(line, horizon_s=14)
    assert played.states("mill.1")[1:4] == [(6, "waiting_setter"), (8, "tool_change"), (13, "working")]
    assert played.ledger.crews.set_index("crew")["calls"].to_dict() == {"operator": 0, "setter": 1}


def test_a_planned_change_in_time_keeps_the_tool_from_breaking() -> None:
    """Changed every 2 parts; a life of 3 parts is never reached, as each change brings a new tool."""
    played = play(mill(LIFE_3_PARTS | {"every": "2 parts"}), horizon_s=25)
    assert counts(played) == {("breakage", "insert"): 0, ("tool_change", "insert"): 5}
    assert played.left_at() == [2, 5, 7, 10, 12, 15, 17, 20, 22]


def test_a_life_that_ends_with_the_part_of_the_planned_change_is_a_break_and_a_break_starts_the_count_again() -> None:
    """Every 3 parts and life 3 parts: the tool breaks with parts 3 and 6, and no planned change is left over."""
    played = play(mill(LIFE_3_PARTS | {"every": "3 parts"}), horizon_s=14)
    assert counts(played) == {("breakage", "insert"): 2, ("tool_change", "insert"): 0}
    assert played.states("mill.1")[1:3] == [(6, "tool_change"), (7, "working")]


def test_a_part_that_leaves_the_line_in_its_machine_is_lost_too() -> None:
    """A route without outfeed: part 3 is scrapped, not good."""
    line = mill(LIFE_3_PARTS) | {"route": ["stocker", "mill"], "outfeed": {}}
    assert [fate for *_, fate in play(line, horizon_s=8).departures()] == ["good", "good", "scrapped"]


def test_a_life_in_time_ends_in_the_midst_of_an_operation() -> None:
    """Cycle 4 s, life 6 s of work, change 3 s: broken at 6 s with part 2, next part 9-13 s; broken again at 15 s."""
    insert = {"takes": seconds(3), "life": constant(6)}
    played = play(mill(insert, cycle_s=4), horizon_s=19)
    assert played.departures() == [(4, 1, "good"), (6, 2, "scrapped"), (13, 3, "good"), (15, 4, "scrapped")]
    assert played.operations("mill.1") == [(0, 4, 1), (9, 13, 3)]
    assert played.ledger.stations["processed"].tolist() == [2]


def test_a_life_in_time_that_ends_with_an_operation_leaves_its_part_whole() -> None:
    """Cycle 4 s, life 8 s: part 2 is finished at 8 s and stays on board for the change; it leaves at 11 s."""
    played = play(mill({"takes": seconds(3), "life": constant(8)}, cycle_s=4), horizon_s=12)
    assert played.departures() == [(4, 1, "good"), (11, 2, "good")]
    assert counts(played) == {("breakage", "insert"): 1}


def test_a_planned_change_by_working_time_begins_anew_after_a_break() -> None:
    """Cycle 4 s, life 6 s, planned every 10 s of work, 3 s: at 6 s it breaks; planned would be due after 10 s of work
    of the new tool, which breaks at 15 s too."""
    insert = {"takes": seconds(3), "life": constant(6), "every": "10 s", "clock": "working"}
    played = play(mill(insert, cycle_s=4), horizon_s=30)
    assert counts(played) == {("breakage", "insert"): 3, ("tool_change", "insert"): 0}


def test_a_planned_change_that_waits_for_the_end_of_an_operation_is_dropped_when_the_tool_breaks_in_it() -> None:
    """Cycle 4 s; planned after 5 s of work, due at 5 s and waiting for 8 s; the tool breaks at 6 s. One change, 6-9 s.

    Then again: due at 14 s, broken at 15 s.
    """
    insert = {"takes": seconds(3), "life": constant(6), "every": "5 s", "clock": "working"}
    played = play(mill(insert, cycle_s=4), horizon_s=19)
    assert counts(played) == {("breakage", "insert"): 2, ("tool_change", "insert"): 0}
    assert played.states("mill.1")[1:4] == [(6, "tool_change"), (9, "working"), (15, "tool_change")]


def test_a_repair_does_not_make_a_tool_new() -> None:
    """Cycle 2 s, life 3 parts, jam after 5 s of work for 4 s: part 3 is worked on 4-5 and 9-10 s, and lost at 10 s."""
    line = mill(LIFE_3_PARTS, breakdowns={"jam": breakdown(5, 4)})
    assert play(line, horizon_s=11).departures()[-1] == (10, 3, "scrapped")


def test_a_wheel_is_changed_after_so_many_dressings() -> None:
    """Cycle 2 s, dressing 1 s every part, wheel change 5 s every 3 dressings: 2-3, 5-6, 8-9 dressed, wheel 9-14 s."""
    station = {
        "cycle": seconds(2),
        "dressing": {"wheel": {"every": "1 parts", "takes": seconds(1)}},
        "tool_change": {"wheel": {"every": "3 dressings", "takes": seconds(5), "age": "0 dressings"}},
    }
    played = play(alone(station), horizon_s=26)
    assert played.left_at() == [3, 6, 14, 17, 20]
    assert counts(played) == {("tool_change", "wheel"): 2, ("dressing", "wheel"): 8 - 2}


def test_of_two_dressings_the_named_one_wears_the_wheel() -> None:
    """fine every 2 parts, rough every part; worn by fine, 2 of them: after part 4, at 4 x 2 + 4 x 1 + 2 x 1 = 14 s."""
    job = {"takes": seconds(1), "age": "0 parts"}
    station = {
        "cycle": seconds(2),
        "dressing": {"rough": job | {"every": "1 parts"}, "fine": job | {"every": "2 parts"}},
        "tool_change": {
            "wheel": {"every": "2 dressings", "worn_by": "fine", "takes": seconds(5), "age": "0 dressings"}
        },
    }
    played = play(alone(station), horizon_s=20)
    stops = [(time, played.trace.stoppages[value][1:]) for time, _, _, value in played.rows(What.STOP)]
    assert (14, ("tool_change", "wheel")) in stops
    assert counts(played)["tool_change", "wheel"] == 1


def test_a_called_loader_whose_part_is_lost_puts_the_next_one_in() -> None:
    """With call_ahead the gantry waits at the machine; the third part breaks the tool, and a blank goes in after it."""
    line = serial({"mill": {"cycle": seconds(9), "call_ahead": seconds(4), "tool_change": {"insert": LIFE_3_PARTS}}})
    line["loaders"] = {"gantry": loader({"stocker": 0, "mill": 2, "tray": 4}, grippers=2)}
    played = play(line, horizon_s=100)
    assert [fate for *_, fate in played.departures()][:6] == ["good", "good", "scrapped", "good", "good", "scrapped"]


def test_the_rough_cut_sheet_has_the_changes_and_the_lost_parts() -> None:
    """Life 40 or 120 parts, equally likely, planned every 100: mean age 0.5 x 40 + 0.5 x 100 = 70 parts, half break.

    Change 140 s, after a break 280 s: 210 s in 70 parts = 3 s a part; one part in 140 is lost.
    """
    life = {"family": "empirical", "values": ["40 parts", "120 parts"]}
    insert = {"every": "100 parts", "takes": "140 s", "life": life, "breakage": {"takes": "280 s"}, "cost": "18 each"}
    (stage,) = stages(linesim.load_line(mill(insert, cycle_s=30)))
    assert (round(stage.stop_s, 9), round(stage.lost_share, 9)) == (3, round(1 / 140, 9))


def test_the_rough_cut_sheet_has_wheel_changes_by_dressing() -> None:
    """Dressing 28 s every 12 parts; the wheel, 1200 s, every 50 dressings: 28/12 + 1200/600 s a part."""
    station = {
        "cycle": "41 s",
        "dressing": {"wheel": {"every": "12 parts", "takes": "28 s"}},
        "tool_change": {"wheel": {"every": "50 dressings", "takes": "1200 s"}},
    }
    (stage,) = stages(linesim.load_line(alone(station)))
    assert round(stage.stop_s, 9) == round(28 / 12 + 2, 9)


def test_sizes_drift_anew_after_a_change_for_either_reason() -> None:
    """2 um a part, every 2 parts planned, life 3 parts: sizes 0, 2, 0, 2; broken or not."""
    line = mill(LIFE_3_PARTS | {"every": "2 parts"})
    line["stations"]["mill"]["characteristics"] = {
        "bore": {"tolerance": "50 um", "spread": "0 um", "drift": "2 um/part", "after": {"insert": "0 um"}}
    }
    sizes = [value for *_, value in play(line, horizon_s=11).rows(What.SIZE)]
    assert sizes == [0, 2000, 0, 2000]
    line["stations"]["mill"]["tool_change"]["insert"]["life"] = "2 parts"
    sizes = [value for *_, value in play(line, horizon_s=11).rows(What.SIZE)]
    assert sizes == [0, 2000, 0, 2000]
