"""Shifts, breaks and planned stops by hand: whole seconds on a Monday that begins at 0:00, when every run starts."""

from __future__ import annotations

import pytest

from linesim.engine.contract.lockup import LockUp
from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, alone, breakdown, loader, seconds, serial, shift
from tests.helpers.running import Play, play

TWO_SHIFTS = {"first": shift("0:00", "0:02"), "second": shift("0:04", "0:06")}  # 0 to 120 s, 240 to 360 s


def test_a_machine_ends_the_part_in_hand_and_begins_no_other_until_the_next_shift() -> None:
    """Parts start at 0, 50 and 100; the third ends at 150, half a minute after the shift. The next starts at 240."""
    seen = play(alone(50, shifts=TWO_SHIFTS), 400)
    assert seen.operations("mill.1") == [
        (0, 50, 1),
        (50, 100, 2),
        (100, 150, 3),
        (240, 290, 4),
        (290, 340, 5),
        (340, 390, 6),
    ]
    assert seen.states("mill.1") == [(0, "working"), (150, "off_shift"), (240, "working"), (390, "off_shift")]


def test_a_machine_that_pauses_leaves_its_work_half_done_until_the_next_shift() -> None:
    """The third part has 20 of its 50 s behind it at 120, and gets the other 30 from 240 on."""
    seen = play(alone({"cycle": "50 s", "at_shift_end": "pause"}, shifts=TWO_SHIFTS), 400)
    assert seen.operations("mill.1")[2:] == [(100, 270, 3), (270, 320, 4)]
    assert seen.states("mill.1") == [(0, "working"), (120, "off_shift"), (240, "working"), (360, "off_shift")]


def test_a_cycle_that_ends_with_the_shift_is_the_last_one() -> None:
    seen = play(alone(40, shifts=TWO_SHIFTS), 300)
    assert seen.operations("mill.1") == [(0, 40, 1), (40, 80, 2), (80, 120, 3), (240, 280, 4)]
    assert seen.states("mill.1") == [(0, "working"), (120, "off_shift"), (240, "working")]


def test_a_break_is_a_planned_stop_and_a_machine_may_run_through_it() -> None:
    """The break is from 60 to 120: the lathe stands; the mill works on what it has, until 80."""
    week = {"day": shift("0:00", "0:05", lunch=("0:01", "60 s"))}
    stations = {"lathe": 20, "mill": {"cycle": "20 s", "through_breaks": True}}
    seen = play(serial(stations, [2], shifts=week), 240)
    assert seen.states("lathe.1") == [(0, "working"), (60, "planned_stop"), (120, "working")]
    assert seen.operations("mill.1")[:4] == [(20, 40, 1), (40, 60, 2), (60, 80, 3), (140, 160, 4)]
    assert seen.states("mill.1")[-3:] == [(20, "working"), (80, "starved"), (140, "working")]


def test_a_station_may_work_in_some_of_the_shifts_only() -> None:
    """mill has the second shift alone: a part waits in it, another in the lathe, which is blocked from 40 on."""
    stations = {"lathe": 20, "mill": {"cycle": "30 s", "shifts": ["second"]}}
    seen = play(serial(stations, [0], shifts=TWO_SHIFTS), 300)
    assert seen.operations("mill.1") == [(240, 270, 1)]
    assert seen.states("mill.1") == [(0, "off_shift"), (240, "working")]
    assert seen.states("lathe.1")[:3] == [(0, "working"), (40, "blocked"), (120, "off_shift")]


def test_a_planned_stop_halts_the_whole_line_but_not_its_crews() -> None:
    """The jam at 50 is repaired from 50 to 130, into the stop from 60 to 120; then 10 s of the part are left."""
    jam = {"jam": breakdown(50, 80, crew="fitter")}
    line = alone({"cycle": "60 s", "breakdowns": jam}, crews={"fitter": {}})
    seen = play({**line, "planned_stops": {"service": {"days": "mon", "at": "0:01", "takes": "60 s"}}}, 150)
    assert seen.states("mill.1") == [
        (0, "working"), (50, "under_repair"), (60, "planned_stop"), (120, "under_repair"), (130, "working"),
    ]  # fmt: skip
    assert seen.operations("mill.1") == [(0, 140, 1)]


def test_a_night_shift_passes_midnight_and_the_end_of_the_week() -> None:
    """The shift of Sunday 23:59 to Monday 0:01 runs as the week begins; that of Monday begins at 86,340 s."""
    night = {"night": shift("23:59", "0:01", days="sun to mon")}
    seen = play(alone(50, shifts=night), 86_500)
    assert [start for start, *_ in seen.operations("mill.1")] == [0, 50, 86_340, 86_390, 86_440]
    assert seen.ledger.planned.tolist() == [[0, 60_000_000], [86_340_000_000, 86_460_000_000]]


def test_the_second_week_is_like_the_first() -> None:
    """An hour a week, twenty minutes a part: three parts each Tuesday at noon."""
    seen = play(alone(1200, shifts={"noon": shift("12:00", "13:00", days="tue")}), 2 * 604_800)
    tuesday_s = 36 * 3600
    begun = [start for start, *_ in seen.operations("mill.1")]
    assert begun == [week * 604_800 + tuesday_s + n * 1200 for week in (0, 1) for n in range(3)]


def test_clocks_stand_still_off_shift() -> None:
    """A check every 100 s by the calendar is due at 100, then after 20 s more of this shift and 80 s of the next."""
    check = {"check": {"every": "100 s", "takes": "0 s", "age": "0 s"}}
    idle = serial({"lathe": 500, "mill": {"cycle": "1 s", "cleaning": check}}, shifts=TWO_SHIFTS)
    assert [time for time, owner, *_ in play(idle, 400).rows(What.STOP) if owner == "mill.1"] == [100, 320]


def test_a_breakdown_after_the_shift_ends_the_overtime() -> None:
    """The part of 100 s starts at 100 and fails at 150; nobody sees to it before 240, then 20 s; 50 s are left."""
    line = alone({"cycle": "100 s", "breakdowns": {"jam": breakdown(150, 20, crew="fitter")}}, shifts=TWO_SHIFTS)
    seen = play({**line, "crews": {"fitter": {}}}, 320)
    assert seen.states("mill.1") == [(0, "working"), (150, "off_shift"), (240, "under_repair"), (260, "working")]
    assert seen.operations("mill.1") == [(0, 100, 1), (100, 310, 2)]


def test_people_take_no_call_in_a_break_then_the_oldest_first() -> None:
    """The break is from 60 to 120. b fails at 70, a at 80; at 120 b goes first though a stands first in the file."""
    week = {"day": shift("0:00", "0:10", rest=("0:01", "60 s"))}
    through = {"cycle": "100 s", "through_breaks": True}
    stations = {
        "a": {**through, "breakdowns": {"jam": breakdown(80, 10, clock="calendar", crew="fitter")}},
        "b": {**through, "breakdowns": {"jam": breakdown(70, 10, clock="calendar", crew="fitter")}},
    }
    seen = play(serial(stations, shifts=week, crews={"fitter": {}}), 142)
    assert [(time, seen.trace.stoppages[n][0]) for time, _, _, n in seen.rows(What.CREW)] == [
        (120, "b.1"),
        (130, "a.1"),
    ]
    assert seen.ledger.crews.iloc[0].to_dict() == {
        "crew": "fitter", "people": 1, "duty_us": 82_000_000, "busy_us": 20_000_000, "all_busy_us": 20_000_000,
        "calls": 2, "calls_waited": 2, "waited_us": 100_000_000,
    }  # fmt: skip


def night_of(technicians: int) -> Play:
    """Two mills that each fail 60 s after every repair of 20 s; two people by day (to 120 s), some by night."""
    jam = {"jam": breakdown(60, 20, clock="calendar", crew="technician")}
    stations = {name: {"cycle": "1000 s", "breakdowns": jam} for name in "ab"}
    week = {"day": shift("0:00", "0:02"), "night": shift("0:02", "0:04")}
    people = {"day": 2, "night": technicians}
    return play(serial(stations, shifts=week, crews={"technician": {"people": people}}), 239)


def test_nights_with_one_technician_let_the_second_machine_wait() -> None:
    """Both fail at 60 and are repaired together by day. At 140 one of them waits until 160 for the only technician."""
    one, two = night_of(1), night_of(2)
    assert [at for at in two.states("b.1") if at[1] != "starved"] == [
        (60, "under_repair"),
        (140, "under_repair"),
        (220, "under_repair"),
    ]
    assert [at for at in one.states("b.1") if at[1] != "starved"] == [
        (60, "under_repair"),
        (140, "waiting_repair"),
        (160, "under_repair"),
    ]
    assert one.states("a.1") == two.states("a.1")
    assert one.ledger.crews["duty_us"].tolist() == [(2 * 120 + 119) * 10**6]
    assert two.ledger.crews["waited_us"].tolist() == [0]
    assert one.ledger.crews["waited_us"].tolist() == [20 * 10**6]


def test_people_finish_after_their_shift_what_they_began() -> None:
    """Fails at 110, repaired until 160; the part's last 10 s wait for the next shift."""
    line = alone({"cycle": "120 s", "breakdowns": {"jam": breakdown(110, 50, crew="fitter")}}, shifts=TWO_SHIFTS)
    seen = play({**line, "crews": {"fitter": {}}}, 300)
    assert [(time, what) for time, what, *_ in seen.rows(What.REPAIRED)] == [(160, "mill.1")]
    assert seen.states("mill.1") == [(0, "working"), (110, "under_repair"), (120, "off_shift"), (240, "working")]
    assert seen.operations("mill.1") == [(0, 250, 1)]
    assert seen.ledger.crews["busy_us"].tolist() == [50_000_000]
    assert seen.ledger.crews["duty_us"].tolist() == [180_000_000]


def test_a_stop_that_a_machine_does_by_itself_falls_due_with_the_last_part_and_is_done_after_the_shift() -> None:
    """The third part ends at 150, its dressing at 180; then the machine is off shift."""
    line = alone({"cycle": "50 s", "dressing": {"wheel": {"every": "3 parts", "takes": "30 s", "age": "0 parts"}}})
    seen = play({**line, "shifts": TWO_SHIFTS}, 260)
    assert seen.states("mill.1") == [(0, "working"), (150, "dressing"), (180, "off_shift"), (240, "working")]


def test_a_setter_off_shift_lets_the_tool_change_wait_for_the_next_shift() -> None:
    change = {"insert": {"every": "3 parts", "takes": "30 s", "age": "0 parts", "crew": "setter"}}
    line = alone({"cycle": "50 s", "tool_change": change}, crews={"setter": {}}, shifts=TWO_SHIFTS)
    seen = play(line, 280)
    assert seen.states("mill.1") == [(0, "working"), (150, "off_shift"), (240, "tool_change"), (270, "working")]


def test_a_loader_ends_its_tour_after_the_shift_and_chooses_no_other() -> None:
    """Pick 1 s, 10 m at 1 m/s, load 1 s: the first part is in the mill at 12, and ready at 112. Unloaded until 113 it
    is at the tray at 123 and placed there at 124, 4 s after the shift. At 240 the loader sets out for the stocker."""
    line = alone(100, loaders={"gantry": loader({"stocker": 0, "mill": 10, "tray": 20})}, shifts=TWO_SHIFTS)
    seen = play(line, 300)
    assert seen.carried() == [
        (1, 12, 1, "stocker", "mill.1"), (113, 124, 1, "mill.1", "tray"), (261, 272, 2, "stocker", "mill.1"),
    ]  # fmt: skip
    assert [at for at in seen.states("gantry.1") if 113 <= at[0] <= 260] == [
        (113, "moving_loaded"), (123, "handling"), (124, "off_shift"), (240, "moving_empty"), (260, "handling"),
    ]  # fmt: skip


def test_a_loader_that_would_have_to_wait_at_a_machine_goes_off_shift_there_and_goes_on_later() -> None:
    """A fixed round: the loader waits at the mill from 12 on for the part that is ready at 212, in a shift to 120."""
    rule = {"fixed": ["stocker", "mill"]}
    line = alone(200, loaders={"gantry": loader({"stocker": 0, "mill": 10, "tray": 20}, next_call=rule)})
    seen = play({**line, "shifts": TWO_SHIFTS}, 300)
    assert [at for at in seen.states("gantry.1") if 12 <= at[0] <= 252] == [
        (12, "waiting_at_machine"), (120, "off_shift"), (240, "handling"), (241, "moving_loaded"), (251, "handling"),
        (252, "moving_empty"),
    ]  # fmt: skip


def test_a_line_that_stands_at_night_has_not_locked_up() -> None:
    seen = play(alone(50, shifts={"day": shift("0:00", "0:01")}), 3 * 86_400)
    assert seen.operations("mill.1") == [(0, 50, 1), (50, 100, 2)]


def test_a_line_that_really_locks_up_says_so_on_shift() -> None:
    """The round wants a part from the mill, and nobody ever brings one there."""
    rule = {"fixed": ["mill"]}
    line = alone(20, loaders={"gantry": loader({"stocker": 0, "mill": 10, "tray": 20}, next_call=rule)})
    with pytest.raises(LockUp, match=r"t = 0\.000 s"):
        play({**line, "shifts": TWO_SHIFTS}, 300)


def test_one_that_locks_up_with_somebody_always_off_shift_says_so_within_three_weeks() -> None:
    """The setter never works when the line does; the loader waits for a part that nobody brings."""
    week = {"day": shift("0:00", "0:02"), "other": shift("1:00", "1:01", days="tue")}
    rule = {"fixed": ["mill"]}
    line = alone({"cycle": "20 s", "shifts": ["day"]})
    line["loaders"] = {"gantry": loader({"stocker": 0, "mill": 10, "tray": 20}, next_call=rule, shifts=["day"])}
    with pytest.raises(LockUp) as stand:
        play({**line, "shifts": week, "crews": {"setter": {"shifts": ["other"]}}}, 5 * 604_800)
    assert 2 * 604_800 <= stand.value.time_us / 1e6 <= 3 * 604_800


def test_a_line_that_pauses_makes_the_same_parts_as_one_that_runs_through_with_the_time_off_cut_out() -> None:
    """Nothing here goes on after the shift, so it comes as if the 120 s between the shifts had never been."""

    def line(**station: str) -> Plain:
        stations = {
            name: {
                "cycle": seconds(cycle),
                "dressing": {"wheel": {"every": "4 parts", "takes": "7 s", "age": "1 parts"}},
                "cleaning": {"chips": {"every": "100 s", "takes": "5 s", "age": "10 s"}},
                "breakdowns": {"jam": breakdown(37, 0)},
                **station,
            }
            for name, cycle in (("a", 11), ("b", 13), ("c", 9))
        }
        return serial(stations, [1, 2])

    through = play(line(), 230).departures()
    paused = play({**line(at_shift_end="pause"), "shifts": TWO_SHIFTS}, 350).departures()
    assert len(through) > 10
    assert paused == [(time if time <= 120 else time + 120, part, fate) for time, part, fate in through]
