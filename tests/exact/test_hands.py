"""People who load machines by hand, worked out by hand in whole seconds.

A tour by hand takes time at the machines alone: `load` into an empty one, `unload` out of it, `exchange` for both.
"""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import US
from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, breakdown, serial, shift
from tests.helpers.running import Play, play

TIMES = {"load": "4 s", "unload": "3 s", "exchange": "5 s"}


def by_hand(cycle_s: float, crew: Any = "operator", times: Plain = TIMES, **rest: Any) -> Plain:
    """A station that these people load by hand."""
    called = {key: rest.pop(key) for key in ("people", "priority") if key in rest}
    return {"cycle": f"{cycle_s} s", "by_hand": {"crew": crew, **times, **called}, **rest}


def gauging(turn_s: float, gauge: Plain, operator: Plain | None = None, places: int = 1, **rest: Any) -> Plain:
    """stocker, turn, park_1, gauge, tray; turn hands over directly."""
    crews = {"operator": operator or {}, **rest.pop("crews", {})}
    return serial({"turn": turn_s, "gauge": gauge}, [places], crews=crews, **rest)


def crew_of(played: Play) -> Plain:
    (crew,) = played.ledger.crews.to_dict("records")
    return {str(key): value for key, value in crew.items()}


def test_finished_part_out_and_next_one_in_is_one_visit_where_the_next_one_is_there() -> None:
    """turn ends a part every 10 s, gauge works 6 s. Load 10-14, work 14-20. Parts 1 and 2 are finished at 20 s, so part
    2 is in park_1 as the call is taken: exchange 20-25. Work 25-31; part 3 is in park_1 since 30 s: exchange 31-36.

    The operator is busy 4 + 5 + 5 s, in three calls that are taken at once.
    """
    played = play(gauging(10, by_hand(6)), horizon_s=37)
    assert played.left_at() == [25, 36]
    assert played.operations("gauge.1") == [(14, 20, 1), (25, 31, 2)]
    assert played.states("gauge.1") == [
        (0, "starved"),
        (10, "loading"),
        (14, "working"),
        (20, "loading"),
        (25, "working"),
        (31, "loading"),
        (36, "working"),
    ]
    crew = crew_of(played)
    assert (crew["calls"], crew["calls_waited"], crew["busy_us"]) == (3, 0, 14 * US)


def test_without_a_next_part_the_finished_one_is_unloaded_and_the_next_one_loaded_later() -> None:
    """turn ends at 20, 40 s: load 20-24, work 24-30, unload 30-33; load 40-44, work 44-50, unload 50-53."""
    played = play(gauging(20, by_hand(6)), horizon_s=54)
    assert played.left_at() == [33, 53]
    assert played.states("gauge.1")[1:6] == [
        (20, "loading"),
        (24, "working"),
        (30, "loading"),
        (33, "starved"),
        (40, "loading"),
    ]


def test_people_need_their_response_and_the_machine_waits_for_them_meanwhile() -> None:
    """2 s to come: load 12-16, work 16-22; parts 2 since 20 s: exchange 24-29. States of the hands likewise."""
    played = play(gauging(10, by_hand(6), {"response": "2 s"}), horizon_s=29)
    assert played.states("gauge.1") == [
        (0, "starved"),
        (10, "waiting_operator"),
        (12, "loading"),
        (16, "working"),
        (22, "waiting_operator"),
        (24, "loading"),
    ]
    assert played.states("hands_of_gauge.1") == [
        (0, "idle"),
        (10, "moving_empty"),
        (12, "handling"),
        (16, "idle"),
        (22, "moving_empty"),
        (24, "handling"),
    ]
    assert crew_of(played)["busy_us"] == (6 + 7) * US


def washed(jam: Plain, gauge: Plain, **rest: Any) -> Plain:
    """turn (8 s) hands on by hand to gauge, that to park_1 and wash, which jams on the calendar while it is empty."""
    wash = {"cycle": "1 s", "breakdowns": {"jam": {**jam, "crew": "operator"}}}
    return serial({"turn": 8, "gauge": gauge, "wash": wash}, [0, 1], crews={"operator": {}}, **rest)


def test_calls_of_one_instant_are_taken_after_those_for_repairs() -> None:
    """Part 1 is finished and wash jams at 8 s: repair 8-13, then load 13-17. One call of two waited, 5 s."""
    played = play(washed(breakdown(8, 5, clock="calendar"), by_hand(6)), horizon_s=18)
    assert played.states("wash.1")[:3] == [(0, "starved"), (8, "under_repair"), (13, "starved")]
    assert played.states("gauge.1") == [(0, "starved"), (8, "waiting_operator"), (13, "loading"), (17, "working")]
    assert played.states("turn.1") == [(0, "working"), (8, "waiting_operator"), (13, "working")]
    crew = crew_of(played)
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (2, 1, 5 * US)


def test_the_call_that_has_waited_longest_is_taken_first_and_people_finish_what_they_began() -> None:
    """Part 1 is finished at 8 s: load 8-12. wash jams at 9 s and is repaired from 12 to 17 s."""
    played = play(washed(breakdown(9, 5, clock="calendar"), by_hand(6)), horizon_s=18)
    assert played.states("gauge.1")[:3] == [(0, "starved"), (8, "loading"), (12, "working")]
    assert played.states("wash.1")[1:4] == [(9, "waiting_repair"), (12, "under_repair"), (17, "starved")]


def test_calls_to_load_have_a_priority_like_others() -> None:
    """wash jams at 7 s: repair 7-9. Another jam waits since 8.5 s, part 1 since 8 s, but with low priority: the jam is
    repaired 9-14, then load 14-18."""
    line = washed(breakdown(7, 2, clock="calendar"), by_hand(6, priority="low"))
    line["stations"]["wash"]["machines"] = {"wash_1": {}, "wash_2": {"breakdowns": {"jam": breakdown(8.5, 5)}}}
    line["stations"]["wash"]["machines"]["wash_2"]["breakdowns"]["jam"] |= {"clock": "calendar", "crew": "operator"}
    played = play(line, horizon_s=18)
    assert played.states("gauge.1") == [(0, "starved"), (8, "waiting_operator"), (14, "loading")]


def test_people_who_are_on_their_way_load_a_machine_that_has_gone_down_and_then_repair_it() -> None:
    """Part 1 is finished at 8 s; the operator is there at 11 s. gauge jams at 9 s: loaded 11-15, then repaired by the
    same person, there at 18 s, until 28 s. Were they to wait for the repair, it would never come."""
    jam = {"jam": breakdown(9, 10, clock="calendar", crew="operator")}
    line = serial({"turn": 8, "gauge": by_hand(6, breakdowns=jam)}, crews={"operator": {"response": "3 s"}})
    played = play(line, horizon_s=29)
    assert played.carried() == [(11, 15, 1, "turn.1", "gauge.1")]
    assert played.states("gauge.1") == [
        (0, "starved"),
        (8, "waiting_operator"),
        (9, "waiting_repair"),
        (18, "under_repair"),
        (28, "working"),
    ]


def test_each_of_two_people_loads_a_machine_at_the_same_time_and_a_third_one_waits() -> None:
    """Three machines, blanks at hand: two are loaded 0-4, the third 4-8. They work 20 s, exchanges 24-29, 29-34 by
    whoever is free: 1 and 2 at 24 s, 3 at 29 s (finished at 28 s)."""
    line = serial({"mill": by_hand(20, machines=3)}, crews={"operator": {"people": 2}})
    played = play(line, horizon_s=35)
    assert [played.operations(f"mill.{n}")[0][:2] for n in (1, 2, 3)] == [(4, 24), (4, 24), (8, 28)]
    assert played.left_at() == [29, 29, 34]
    assert played.states("mill.3")[-3:] == [(28, "waiting_operator"), (29, "loading"), (34, "working")]
    crew = crew_of(played)
    assert (crew["calls"], crew["calls_waited"], crew["waited_us"]) == (6, 2, 5 * US)


def test_the_same_people_carry_from_machine_to_machine() -> None:
    """a and b work 5 s each; load 2, unload 2, exchange 3 s; one operator, blanks at hand.

    Load a 0-2, work 2-7. Part 1 goes on to b and part 2 into a: exchange at a 7-10, load b 10-12. b ends at 17 s, a
    waits since 15 s with no room: at 17 s part 2 is taken out of a 17-19 and exchanged at b 19-22, part 1 leaves. Load
    a 22-24. b ends at 27 s: unload 27-29. a ends at 29 s: exchange there 29-32, load b 32-34.
    """
    times = {"load": "2 s", "unload": "2 s", "exchange": "3 s"}
    line = serial({"a": by_hand(5, times=times), "b": by_hand(5, times=times)}, crews={"operator": {}})
    played = play(line, horizon_s=35)
    assert played.carried() == [
        (0, 2, 1, "stocker", "a.1"),
        (7, 10, 2, "stocker", "a.1"),
        (10, 12, 1, "a.1", "b.1"),
        (19, 22, 2, "a.1", "b.1"),
        (22, 22, 1, "b.1", "tray"),
        (22, 24, 3, "stocker", "a.1"),
        (29, 29, 2, "b.1", "tray"),
        (29, 32, 4, "stocker", "a.1"),
        (32, 34, 3, "a.1", "b.1"),
    ]
    assert played.states("a.1")[2:6] == [(7, "loading"), (10, "working"), (15, "blocked"), (17, "loading")]
    owners = [owner.name for owner in played.ledger.owners if owner.kind == "carriage"]
    assert owners == ["hands_of_a.1"]


def test_an_empty_buffer_between_two_machines_of_the_same_people_is_passed_over() -> None:
    """Part 1 goes straight from a to b; part 2, finished while b works, is put into park_1 and exchanged from there."""
    times = {"load": "2 s", "unload": "2 s", "exchange": "3 s"}
    line = serial({"a": by_hand(5, times=times), "b": by_hand(20, times=times)}, [1], crews={"operator": {}})
    played = play(line, horizon_s=40)
    assert played.carried()[1:6] == [
        (7, 10, 2, "stocker", "a.1"),
        (10, 12, 1, "a.1", "b.1"),
        (15, 18, 3, "stocker", "a.1"),
        (18, 18, 2, "a.1", "park_1"),
        (32, 35, 2, "park_1", "b.1"),
    ]


def test_in_a_break_nobody_loads_and_a_machine_that_runs_through_it_waits_for_its_people() -> None:
    """Break from 60 to 90 s. Load 0-10, work 10-65 through the break; exchange only at 90-100."""
    week = {"day": shift("0:00", "8:00", lunch=("0:01", "30 s"))}
    times = {"exchange": "10 s"}
    line = serial({"mill": by_hand(55, times=times, through_breaks=True)}, crews={"operator": {}}, shifts=week)
    played = play(line, horizon_s=101)
    assert played.states("mill.1") == [
        (0, "loading"),
        (10, "working"),
        (65, "waiting_operator"),
        (90, "loading"),
        (100, "working"),
    ]
    assert played.states("hands_of_mill.1")[-3:] == [(60, "off_shift"), (90, "handling"), (100, "idle")]


def test_people_finish_a_tour_that_they_began_before_their_break() -> None:
    """Load 0-10, work 10-55, exchange 55-65, five seconds into the break; the part leaves, and they are off then."""
    week = {"day": shift("0:00", "8:00", lunch=("0:01", "30 s"))}
    line = serial({"mill": by_hand(45, times={"exchange": "10 s"})}, crews={"operator": {}}, shifts=week)
    played = play(line, horizon_s=70)
    assert played.left_at() == [65]
    assert played.states("hands_of_mill.1")[-2:] == [(55, "handling"), (65, "off_shift")]
    assert crew_of(played)["busy_us"] == 20 * US


def test_two_people_who_are_both_needed_come_together() -> None:
    """One of two repairs wash from 7 to 9 s. Part 1, finished at 8 s, needs both: load 9-13."""
    line = washed(breakdown(7, 2, clock="calendar"), by_hand(6, people=2))
    line["crews"]["operator"] = {"people": 2}
    played = play(line, horizon_s=14)
    assert played.states("gauge.1")[1:3] == [(8, "waiting_operator"), (9, "loading")]
    assert crew_of(played)["busy_us"] == (2 + 2 * 4) * US


def test_a_call_to_load_ends_as_the_machine_goes_down_and_begins_anew_after_the_repair() -> None:
    """The operator is at wash from 6 to 20 s. gauge, called for since 8 s, is down from 10 to 15 s: the call is open
    from 8 to 10 s and from 15 s on, and counts as one that waited 5 s: load 20-24."""
    jam = {"jam": breakdown(10, 5, clock="calendar")}
    played = play(washed(breakdown(6, 14, clock="calendar"), by_hand(6, breakdowns=jam)), horizon_s=24)
    calls = [(time, part) for time, _, part, _ in played.rows(What.CALL_HANDS)]
    assert calls == [(8, 8 * US), (10, -1), (15, 15 * US)]
    assert played.states("gauge.1")[1:] == [
        (8, "waiting_operator"),
        (10, "under_repair"),
        (15, "waiting_operator"),
        (20, "loading"),
    ]
    assert crew_of(played)["waited_us"] == 5 * US


def test_a_machine_that_reserves_its_way_on_before_it_starts_gives_that_room_to_the_people() -> None:
    """turn starts only with room in gauge: part 1 works 0-8; load gauge 8-12, work 12-18, unload 18-21. turn begins
    part 2 once gauge is empty, at 21 s."""
    line = serial({"turn": {"cycle": "8 s", "blocking": "before_service"}, "gauge": by_hand(6)})
    played = play({**line, "crews": {"operator": {}}}, horizon_s=30)
    assert played.operations("turn.1") == [(0, 8, 1), (21, 29, 2)]
    assert played.carried()[0] == (8, 12, 1, "turn.1", "gauge.1")


def test_rejects_go_back_by_hand() -> None:
    """Every part is rejected once. mill works 8 s, gauge 6 s, all by one operator: load 4, unload 3, exchange 5 s.

    Part 1: load mill 0-4, work 4-12. Only one part may be in the loop of two places, so it is carried alone: out of
    mill 12-15, into gauge 15-19, work 19-25, rejected: out 25-28, into mill 28-32, work 32-40, out 40-43, in 43-47,
    work 47-53, scrapped, as it may go back once.
    """
    gauge = by_hand(6, inspection={"catches": "100 %", "rework": {"to": "mill", "at_most": 1}})
    mill = by_hand(8, defects={"burr": "100 %"})
    played = play(serial({"mill": mill, "gauge": gauge}, crews={"operator": {}}), horizon_s=54)
    assert played.carried()[:4] == [
        (0, 4, 1, "stocker", "mill.1"),
        (15, 19, 1, "mill.1", "gauge.1"),
        (28, 32, 1, "gauge.1", "mill.1"),
        (43, 47, 1, "mill.1", "gauge.1"),
    ]
    assert played.departures() == [(53, 1, "scrapped")]
