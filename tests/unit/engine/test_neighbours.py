"""Which steps depend on which, written out by hand for two small lines."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from tests.helpers.lines import Plain
from tests.unit.engine.floors import Hand, gantry_line


def listed(hand: Hand, step: str, field: str) -> str:
    """The members of a step's list by name, in route order."""
    names = {record: name for name, record in hand.steps.items()}
    first = hand.step(step, field)
    members = hand.floor[first : first + hand.step(step, f"N_{field}")]
    assert members == sorted(members)
    return " ".join(names[member] for member in members)


def ring() -> Hand:
    """Stocker, turn, park (may be passed over), grind, tray; all by one gantry."""
    return Hand(gantry_line(park=2))


def mixed(dwell: str = "0 s") -> Hand:
    """Stocker to turn and turn to park directly; gantry from park to grind and gauge; gauge directly to the tray.

    The gauge sends rejects back to the park by gantry.
    """
    line: Plain = gantry_line(park=2, dwell=dwell)
    line["route"].insert(4, "gauge")
    line["stations"]["gauge"] = {"cycle": "5 s", "inspection": {"rework": {"to": "park_1"}}}
    line["loaders"]["gantry"]["stops"] = {"park_1": "5 m", "grind": "6 m", "gauge": "7 m"}
    return Hand(line)


@pytest.mark.parametrize(
    ("step", "callers", "feeders", "viewers"),
    [
        ("stocker", "stocker", "", "turn"),
        ("turn", "stocker turn", "stocker", "turn grind"),
        ("park_1", "turn park_1", "turn", "turn grind"),
        ("grind", "turn park_1 grind", "turn park_1", "turn grind"),
        ("tray", "grind", "grind", "grind"),
    ],
)
def test_under_one_gantry_changes_reach_past_the_park(step: str, callers: str, feeders: str, viewers: str) -> None:
    hand = ring()
    assert listed(hand, step, "CALLERS") == callers
    assert listed(hand, step, "FEEDERS") == feeders
    assert listed(hand, step, "VIEWERS") == viewers
    assert listed(hand, step, "SENDERS") == ""


@pytest.mark.parametrize(
    ("step", "senders", "callers", "feeders"),
    [
        ("stocker", "", "", ""),
        ("turn", "stocker", "", ""),
        ("park_1", "turn", "park_1 gauge", "gauge"),
        ("grind", "", "park_1 grind gauge", "park_1 gauge"),
        ("gauge", "", "grind gauge", "grind"),
        ("tray", "gauge", "gauge", "gauge"),
    ],
)
def test_direct_and_carried_ways_are_told_apart(step: str, senders: str, callers: str, feeders: str) -> None:
    """Senders may be a step too many (turn can't really send to grind: it ends at the park), but none too few."""
    hand = mixed()
    assert set(senders.split()) <= set(listed(hand, step, "SENDERS").split())
    assert listed(hand, step, "CALLERS") == callers
    assert listed(hand, step, "FEEDERS") == feeders


def test_a_park_with_a_least_stay_hides_what_lies_behind_it() -> None:
    hand = mixed(dwell="60 s")
    assert listed(hand, "grind", "CALLERS") == "park_1 grind"
    assert listed(hand, "grind", "VIEWERS") == "grind gauge"  # the gauge, as grind's own part may now call for it
    assert listed(Hand(gantry_line(park=2)), "grind", "VIEWERS") == "turn grind"


def test_only_steps_without_a_loader_on_their_way_move_directly() -> None:
    hand = mixed()
    assert [name for name in hand.steps if hand.step(name, "MOVES_DIRECTLY")] == ["stocker", "turn", "gauge"]
    assert [name for name in hand.steps if hand.step(name, "PASSABLE")] == ["park_1"]
    assert hand.step("gauge", "REWORK_WAY") == hand.at("gantry.1")
    assert hand.step("gauge", "WAY_OUT") == r.NONE
