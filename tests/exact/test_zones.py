"""Zones of a loader that people open while the machines go on, worked out by hand in whole seconds.

stocker 0 m, turn 2 m, tray 4 m, one gripper. The loader makes 1 m/s at once and needs 1 s to pick or place, 2 s to load
or unload. Part 1: pick 0-1, go -3, load -5; turn works 5-15; unload 15-17, go -19, place -20; back for part 2.
"""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from linesim.engine.contract.ledger import US, CarriageState
from linesim.line.loader_work import loader_works
from tests.helpers.lines import Plain, breakdown, loader, serial
from tests.helpers.running import Play, play

STOPS = {"stocker": 0, "turn": 2, "tray": 4}


def cell(zones: Plain, cycle_s: float = 10, crews: Plain | None = None, **keys: Any) -> Plain:
    gantry = loader(STOPS, load="2 s", unload="2 s", exchange="3 s", zone=zones, **keys)
    return serial({"turn": cycle_s}, loaders={"gantry": gantry}, crews=crews or {})


def drawer(every_s: int, takes_s: int, **rest: Any) -> Plain:
    return {"every": f"{every_s} s", "takes": f"{takes_s} s", "age": "0 s", **rest}


def open_times(played: Play) -> list[tuple[float, float]]:
    told = [*played.states("gantry.1"), (played.ledger.horizon_us / US, "")]
    return [(since, until) for (since, state), (until, _) in itertools.pairwise(told) if state == "zone_open"]


def test_the_loader_finishes_its_leg_then_stands_with_its_part_while_the_machine_goes_on() -> None:
    """Due at 18 s, on the way to the tray: open from 19 to 24 s. The next time counts from then: due at 42 s."""
    played = play(cell({"drawer": drawer(18, 5)}), horizon_s=45)
    assert played.carried()[1:] == [(17, 25, 1, "turn.1", "tray"), (30, 34, 2, "stocker", "turn.1")]
    assert open_times(played) == [(19, 24), (42, 45)]
    assert played.states("turn.1")[-2:] == [(34, "working"), (44, "waiting_loader")]


def test_the_loader_finishes_its_handling() -> None:
    """Due at 16 s while it unloads from 15 to 17 s."""
    assert open_times(play(cell({"drawer": drawer(16, 5)}), horizon_s=30)) == [(17, 22)]


def test_a_zone_due_at_the_very_end_of_a_leg_is_opened_then() -> None:
    """Due at 19 s, when the loader arrives at the tray: people go first, the part is placed 24-25 s."""
    played = play(cell({"drawer": drawer(19, 5)}), horizon_s=26)
    assert open_times(played) == [(19, 24)]
    assert played.left_at() == [25]


def test_a_zone_opens_at_once_while_the_loader_is_idle_and_calls_wait_for_its_end() -> None:
    """Due at 8 s, open until 17 s; turn is finished at 15 s, so it is unloaded 17-19 s."""
    played = play(cell({"drawer": drawer(8, 9)}), horizon_s=20)
    assert open_times(played) == [(8, 17)]
    assert played.states("turn.1")[-4:-1] == [(5, "working"), (15, "waiting_loader"), (17, "loading")]


def test_the_loader_works_on_until_the_crew_is_there() -> None:
    """Called at 8 s, there at 16 s: the unloading that began at 15 s is finished first. The crew is busy 8 to 22 s."""
    crews = {"operator": {"response": "8 s"}}
    played = play(cell({"drawer": drawer(8, 5, crew="operator")}, crews=crews), horizon_s=29)
    assert open_times(played) == [(17, 22)]
    assert played.ledger.crews["busy_us"].tolist() == [14 * US]


def test_of_two_zones_one_is_open_at_a_time_in_file_order() -> None:
    played = play(cell({"left": drawer(8, 2), "right": drawer(8, 3)}), horizon_s=15)
    assert open_times(played) == [(8, 13)]
    told = played.ledger.stoppages.set_index("name")
    assert (told.loc["left", "lasting_us"], told.loc["right", "lasting_us"]) == (2 * US, 3 * US)


def test_a_zone_may_be_opened_while_the_loader_is_down_and_holds_it_after_the_repair() -> None:
    """Called at 17 s, there at 20 s; down from 18 to 24 s, one second before the tray.

    Open from 20 to 26 s, so the loader is there at 27 s and has placed its part at 28 s. Down goes before open.
    """
    trip = {"trip": breakdown(18, 6, clock="calendar")}
    crews = {"operator": {"response": "3 s"}}
    played = play(cell({"drawer": drawer(17, 6, crew="operator")}, breakdowns=trip, crews=crews), horizon_s=29)
    assert played.left_at() == [28]
    assert played.states("gantry.1")[5:9] == [
        (17, "moving_loaded"),
        (18, "under_repair"),
        (24, "zone_open"),
        (26, "moving_loaded"),
    ]


def test_who_waits_at_the_zone_of_a_loader_that_is_down_may_be_the_one_who_repairs_it() -> None:
    """Called at 18 s for the drawer, there at 19 s. The loader trips at 18.5 s, half a second before the tray.

    The zone is open from 19 to 24 s, then the same person repairs, there at 25 s, until 27 s; the tray at 27.5 s.
    """
    trip = {"trip": breakdown(18.5, 2, clock="calendar", crew="operator")}
    zones = {"drawer": drawer(18, 5, crew="operator")}
    crews = {"operator": {"response": "1 s"}}
    played = play(cell(zones, breakdowns=trip, crews=crews), horizon_s=30)
    assert played.left_at() == [28.5]


@pytest.mark.parametrize("grippers", [1, 2])
def test_a_loader_that_is_always_at_work_loses_the_share_of_a_stop_by_time(grippers: int) -> None:
    """Open for takes / (every + takes) of the time (availability of what stops by time, common practice).

    People wait for the end of a leg of 4 s at most, so the share is a little lower: between 25/129 and 25/125. What is
    left is worth as many parts as without the zone, but for the one under way. The rough-cut sheet says the same.
    """
    horizon_s = 5_000
    free = play(cell({}, cycle_s=1, grippers=grippers), horizon_s)
    played = play(cell({"drawer": drawer(100, 25)}, cycle_s=1, grippers=grippers), horizon_s)
    shut_s = played.ledger.states["gantry.1"][CarriageState.ZONE_OPEN] / US
    assert 25 / 129 * horizon_s - 25 <= shut_s <= 25 / 125 * horizon_s  # the end may cut one opening off
    assert len(played.left_at()) == pytest.approx(len(free.left_at()) * (1 - shut_s / horizon_s), abs=1)
    work = loader_works(played.line, {})[0]
    assert work.ceiling_per_h == pytest.approx(3600 / work.work_s * (1 - 25 / 125))


def test_two_zones_and_a_repair_by_one_person_never_wait_for_each_other() -> None:
    """Both zones are due at 6 s. Others open the aisle until 12 s; the loader trips at 7 s; the operator comes at 8 s.

    The drawer is open from 12 to 14 s. Then the same person repairs, there at 16 s, until 18 s; turn waits since 15 s.
    """
    zones = {"drawer": drawer(6, 2, crew="operator"), "aisle": drawer(6, 6)}
    trip = {"trip": breakdown(7, 2, clock="calendar", crew="operator")}
    played = play(cell(zones, breakdowns=trip, crews={"operator": {"response": "2 s"}}), horizon_s=19)
    assert played.states("gantry.1")[4:] == [
        (6, "zone_open"),
        (7, "waiting_repair"),
        (16, "under_repair"),
        (18, "handling"),
    ]
