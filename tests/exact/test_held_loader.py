"""Stops that hold the loader, as to bring a master part, worked out by hand in whole seconds.

stocker 0 m, turn 2 m, tray 4 m, one gripper. The loader makes 1 m/s at once and needs 1 s to pick or place, 2 s to load
or unload. Part 1: pick 0-1, go -3, load -5, turn 5-15; unload 15-17, go -19, place -20; part 2: go -24, pick -25, go
-27, load -29, turn 29-39.
"""

from __future__ import annotations

import itertools
from typing import Any

from linesim.engine.contract.ledger import US
from tests.helpers.lines import Plain, breakdown, loader, serial, shift
from tests.helpers.running import Play, play

AT = {"stocker": 0, "turn": 2, "tray": 4}


def cell(every: str, takes_s: int, turn: Plain | None = None, gantry: Plain | None = None, **stop: Any) -> Plain:
    master = {"every": every, "takes": f"{takes_s} s", "holds": "loader", **stop}
    if "age" not in master:
        master["age"] = "0 parts" if "part" in every else "0 s"
    station = {"cycle": "10 s", "measuring": {"master": master}, **(turn or {})}
    given = loader(AT, load="2 s", unload="2 s", exchange="3 s", **(gantry or {}))
    return serial({"turn": station}, loaders={"gantry": given}, crews={"setter": {"response": "4 s"}})


def spans(played: Play, owner: str, state: str) -> list[tuple[float, float]]:
    told = [*played.states(owner), (played.ledger.horizon_us / US, "")]
    return [(since, until) for (since, name), (until, _) in itertools.pairwise(told) if name == state]


def test_machine_and_loader_are_busy_with_it_and_then_go_on() -> None:
    """Due with the first part at 15 s, the loader stands idle in front: 15-21, unload -23, go -25, place -26."""
    played = play(cell("1 part", 6), horizon_s=27)
    assert spans(played, "turn.1", "measuring_stop") == [(15, 21)]
    assert (15, 23) in spans(played, "gantry.1", "handling")
    assert played.departures() == [(26, 1, "good")]
    (stop,) = played.ledger.stoppages.to_dict("records")
    assert (stop["begun"], stop["waiting_us"], stop["lasting_us"]) == (1, 0, 6 * US)


def test_it_waits_for_the_end_of_a_leg_and_the_loader_keeps_what_it_carries() -> None:
    """Due at 18 s, with turn empty since 17 s and the loader on its way to the tray: 19-25; place -26."""
    played = play(cell("18 s", 6), horizon_s=27)
    assert spans(played, "turn.1", "waiting_setter") == [(18, 19)]
    assert spans(played, "turn.1", "measuring_stop") == [(19, 25)]
    assert played.departures() == [(26, 1, "good")]


def test_it_waits_for_the_end_of_handling() -> None:
    """Due at 16 s while part 1 is unloaded: 17-23, go -25, place -26."""
    played = play(cell("16 s", 6), horizon_s=27)
    assert spans(played, "turn.1", "measuring_stop") == [(17, 23)]
    assert played.departures() == [(26, 1, "good")]


def test_the_loader_goes_on_while_the_setter_comes() -> None:
    """Due at 18 s, the setter is there at 22 s: 22-28. Part 1 is placed -20. Go -32, pick -33, go -35, load -37."""
    played = play(cell("18 s", 6, crew="setter"), horizon_s=37.5)
    assert spans(played, "turn.1", "waiting_setter") == [(18, 22)]
    assert spans(played, "turn.1", "measuring_stop") == [(22, 28)]
    assert played.carried()[1:] == [(17, 20, 1, "turn.1", "tray"), (33, 37, 2, "stocker", "turn.1")]


def test_a_loader_that_is_down_can_not_help() -> None:
    """Down from 18 to 28 s, in its leg to the tray, which then takes 1 s more: 29-35, place -36."""
    trip = {"trip": breakdown(18, 10, clock="calendar")}
    played = play(cell("18 s", 6, gantry={"breakdowns": trip}), horizon_s=36.5)
    assert spans(played, "turn.1", "measuring_stop") == [(29, 35)]
    assert played.departures() == [(36, 1, "good")]


def test_people_who_have_come_do_without_a_loader_that_is_down() -> None:
    """Due at 18 s, the setter is there at 22 s: 22-32. The loader is up at 28 s, but held; its leg takes 1 s more, and
    part 1 is placed at 34 s."""
    trip = {"trip": breakdown(18, 10, clock="calendar")}
    played = play(cell("18 s", 10, gantry={"breakdowns": trip}, crew="setter"), horizon_s=34.5)
    assert spans(played, "turn.1", "measuring_stop") == [(22, 32)]
    assert spans(played, "gantry.1", "handling")[-2:] == [(28, 32), (33, 34)]
    assert played.departures() == [(34, 1, "good")]


def test_people_never_wait_for_a_loader_that_they_must_repair() -> None:
    """The only setter is there for the stop at 18 s, and the loader breaks down in its leg at 18.5 s: stop 18.5-24.5 s,
    repair 24.5-34.5 s. If the stop waited for the loader, nothing would ever move again."""
    trip = {"trip": breakdown(18.5, 10, clock="calendar", crew="setter")}
    line = cell("18 s", 6, gantry={"breakdowns": trip}, crew="setter")
    played = play({**line, "crews": {"setter": {}}}, horizon_s=36)
    assert spans(played, "turn.1", "measuring_stop") == [(18.5, 24.5)]
    assert spans(played, "gantry.1", "under_repair") == [(24.5, 34.5)]
    assert played.departures() == [], "0.5 s of its leg are left, then 1 s to place: 36 s"


def test_what_a_machine_does_with_the_loader_goes_on_while_the_machine_is_down() -> None:
    """Down from 17 to 20 s of a stop from 15 to 21 s; then unload -23, go -25, place -26."""
    jam = {"jam": breakdown(17, 3, clock="calendar")}
    played = play(cell("1 part", 6, {"breakdowns": jam}), horizon_s=29.5)
    assert spans(played, "turn.1", "measuring_stop") == [(15, 17), (20, 21)]
    assert spans(played, "gantry.1", "handling")[-2:] == [(15, 23), (25, 26)]


def test_two_machines_that_need_the_same_loader_take_turns() -> None:
    """Both stop at 8 s, still empty, with the loader idle: the first of the file 8-14, the other 14-20."""
    master = {"master": {"every": "8 s", "takes": "6 s", "age": "0 s", "holds": "loader"}}
    grind = {"cycle": "2 s", "machines": 2, "measuring": master}
    at = {"stocker": 0, "turn": 1, "grind": [2, 3], "tray": 9}
    played = play(serial({"turn": 30, "grind": grind}, loaders={"gantry": loader(at)}), horizon_s=21)
    assert spans(played, "grind.1", "measuring_stop") == [(8, 14)]
    assert spans(played, "grind.2", "waiting_setter") == [(8, 14)]
    assert spans(played, "grind.2", "measuring_stop") == [(14, 20)]


WEEK = {"early": shift("0:00", "0:01"), "late": shift("0:03", "0:09")}  # to 60 s; from 180 s on


def test_a_loader_off_duty_begins_none() -> None:
    """Part 3 is in turn from 53 to 63 s; due at 58 s, the stop can begin at 63 s, but the loader went at 60 s."""
    played = play({**cell("58 s", 6), "shifts": WEEK}, horizon_s=190)
    assert spans(played, "turn.1", "measuring_stop") == [(180, 186)]
    assert spans(played, "turn.1", "off_shift") == [(63, 180)]


def test_what_holds_the_loader_at_the_end_of_its_shift_is_ended() -> None:
    """Due with part 2 at 39 s, for 30 s."""
    played = play({**cell("2 parts", 30), "shifts": WEEK}, horizon_s=185)
    assert spans(played, "turn.1", "measuring_stop") == [(39, 69)]
    assert (39, 69) in spans(played, "gantry.1", "handling")
    assert spans(played, "gantry.1", "off_shift") == [(69, 180)]


def test_a_machine_that_pauses_lets_the_loader_go_home_too() -> None:
    """21 of the 30 s are done at 60 s, the rest from 180 to 189 s."""
    played = play({**cell("2 parts", 30, {"at_shift_end": "pause"}), "shifts": WEEK}, horizon_s=191)
    assert spans(played, "turn.1", "measuring_stop") == [(39, 60), (180, 189)]
    assert spans(played, "gantry.1", "off_shift") == [(60, 180)]
