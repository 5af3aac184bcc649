"""What the end of an operation brings: defects, inspection, rework, scrap, and what each is charged to."""

from __future__ import annotations

import pytest

from linesim.engine.contract import records as r
from linesim.engine.contract.work import end_operation, start_operations
from tests.helpers.lines import serial
from tests.unit.engine.floors import Hand, every, jam

PPB = 10**9  # draws are whole numbers below this
NEVER = PPB - 1


def inspected(**rework: object) -> Hand:
    """Turn makes chips (10 %) and dents (5 %), grind makes burns (20 %); the gauge catches 90 %, false alarms 1 %."""
    gauge = {"catches": "90 %", "false_alarms": "1 %"} | ({"rework": rework} if rework else {})
    stations = {
        "turn": {"cycle": "5 s", "defects": {"chip": "10 %", "dent": "5 %"}},
        "grind": {"cycle": "5 s", "defects": {"burn": "20 %"}},
        "gauge": {"cycle": "5 s", "inspection": gauge},
    }
    return Hand(serial(stations))


def end(hand: Hand, machine: str, defect_draw: int = -1, gauge_draw: int = -1) -> int:
    """End an operation on a fresh part there; returns the part."""
    part = hand.work(machine)
    end_operation(hand.floor, hand.at(machine), defect_draw, gauge_draw)
    return part


def defect(hand: Hand, part: int) -> tuple[str, str] | None:
    number = hand.floor[part + r.DEFECT]
    return hand.layout.defects[number] if number >= 0 else None


def at_gauge(hand: Hand, gauge_draw: int, made_at: str | None = None, reworks: int = 0) -> int:
    """The gauge ends its work on a part, bad by that station if one is named. Returns the part."""
    part = hand.work("gauge.1")
    if made_at:
        hand.layout.set(part, DEFECT=0, MADE_AT=hand.steps[made_at])
    hand.layout.set(part, REWORKS=reworks)
    end_operation(hand.floor, hand.at("gauge.1"), -1, gauge_draw)
    return part


@pytest.mark.parametrize(
    ("draw", "made"),
    [
        (0, ("turn", "chip")),
        (100_000_000 - 1, ("turn", "chip")),
        (100_000_000, ("turn", "dent")),
        (150_000_000 - 1, ("turn", "dent")),
        (150_000_000, None),
        (NEVER, None),
    ],
)
def test_one_draw_tells_which_defect_was_made_if_any(draw: int, made: tuple[str, str] | None) -> None:
    hand = inspected()
    assert defect(hand, end(hand, "turn.1", draw)) == made


def test_a_second_defect_does_not_replace_the_first() -> None:
    hand = inspected()
    part = hand.work("grind.1")
    hand.layout.set(part, DEFECT=1, MADE_AT=hand.steps["turn"])
    end_operation(hand.floor, hand.at("grind.1"), 0, -1)
    assert defect(hand, part) == ("turn", "dent")
    assert hand.floor[part + r.MADE_AT] == hand.steps["turn"]


@pytest.mark.parametrize(("draw", "scrapped"), [(900_000_000 - 1, 1), (900_000_000, 0)])
def test_a_bad_part_is_rejected_as_often_as_the_gauge_catches(draw: int, scrapped: int) -> None:
    hand = inspected()
    at_gauge(hand, draw, made_at="grind")
    assert [hand.step(name, "SCRAPPED") for name in ("turn", "grind", "gauge")] == [0, scrapped, 0]
    assert hand.get("gauge.1", "PHASE") == (r.EMPTY if scrapped else r.FINISHED)


@pytest.mark.parametrize(("draw", "scrapped"), [(10_000_000 - 1, 1), (10_000_000, 0)])
def test_a_good_part_is_rejected_by_false_alarm_and_charged_to_the_station_that_inspected(
    draw: int, scrapped: int
) -> None:
    hand = inspected()
    at_gauge(hand, draw)
    assert [hand.step(name, "SCRAPPED") for name in ("turn", "grind", "gauge")] == [0, 0, scrapped]
    assert hand.step("gauge", "FALSE_REJECTS") == scrapped


def test_a_caught_reject_is_no_false_alarm() -> None:
    hand = inspected()
    at_gauge(hand, 0, made_at="turn")
    assert (hand.step("turn", "SCRAPPED"), hand.step("gauge", "FALSE_REJECTS")) == (1, 0)


def test_a_reject_that_may_be_reworked_stays_in_the_machine_and_will_go_back() -> None:
    hand = inspected(to="grind")
    part = at_gauge(hand, 0, made_at="grind")
    assert hand.get("gauge.1", "PART_TO") == hand.steps["grind"]
    assert (hand.get("gauge.1", "PHASE"), hand.floor[part + r.REWORKS]) == (r.FINISHED, 1)
    assert [hand.step("grind", field) for field in ("REWORKED", "SCRAPPED")] == [1, 0]


def test_a_part_that_was_reworked_as_often_as_allowed_is_scrapped() -> None:
    hand = inspected(to="grind", at_most=2)
    at_gauge(hand, 0, made_at="grind", reworks=2)
    assert [hand.step("grind", field) for field in ("REWORKED", "SCRAPPED")] == [0, 1]
    assert hand.get("gauge.1", "PHASE") == r.EMPTY


@pytest.mark.parametrize(("made_at", "still_bad"), [("turn", True), ("grind", False), ("gauge", False)])
def test_rework_heals_only_a_defect_made_where_the_part_passes_again(made_at: str, still_bad: bool) -> None:
    hand = inspected(to="grind")
    assert (defect(hand, at_gauge(hand, 0, made_at=made_at)) is not None) == still_bad


def test_a_good_part_sent_back_by_false_alarm_is_charged_to_the_gauge() -> None:
    hand = inspected(to="grind")
    part = at_gauge(hand, 0)
    assert (hand.step("gauge", "REWORKED"), hand.step("gauge", "FALSE_REJECTS")) == (1, 1)
    assert defect(hand, part) is None


def test_the_station_that_inspects_can_catch_a_defect_it_made_itself() -> None:
    line = serial({"mill": {"cycle": "5 s", "defects": {"chip": "10 %"}, "inspection": {"catches": "100 %"}}})
    hand = Hand(line)
    end(hand, "mill.1", 0, NEVER)
    assert hand.step("mill", "SCRAPPED") == 1


def test_an_escaped_bad_part_goes_on_to_the_next_step() -> None:
    hand = inspected(to="grind")
    part = at_gauge(hand, NEVER, made_at="grind")
    assert hand.get("gauge.1", "PART_TO") == hand.steps["tray"]
    assert defect(hand, part) is not None


def test_a_part_lost_at_its_operation_still_counts_for_the_tool() -> None:
    hand = Hand(serial({"gauge": {"cycle": "5 s", "inspection": {}, "tool_change": {"tip": every(1)}}}))
    part = hand.work("gauge.1")
    hand.layout.set(part, DEFECT=0, MADE_AT=hand.steps["gauge"])
    end_operation(hand.floor, hand.at("gauge.1"), -1, 0)
    assert hand.get("gauge.1", "PHASE") == r.EMPTY
    assert hand.name(hand.get("gauge.1", "STOP")) == "gauge.1 tip"


def test_without_an_outfeed_a_part_leaves_as_good_when_the_last_station_ends() -> None:
    line = serial({"turn": 5, "grind": 5})
    line["route"].remove("tray")
    line["outfeed"] = {}
    hand = Hand(line)
    end(hand, "turn.1")
    assert hand.floor[r.N_DEPARTURES] == 0
    end(hand, "grind.1")
    assert (hand.floor[r.N_DEPARTURES], hand.get("grind.1", "PHASE")) == (1, r.EMPTY)


def test_each_operation_that_ends_is_counted_once_by_its_machine_and_by_the_line() -> None:
    hand = inspected()
    end(hand, "turn.1")
    end(hand, "grind.1")
    at_gauge(hand, 0, made_at="turn")  # scrapped, but worked on
    assert [hand.get(name, "PROCESSED") for name in ("turn.1", "grind.1", "gauge.1")] == [1, 1, 1]
    assert hand.floor[r.VISITS] == 3


# ---- starts ----


def start(hand: Hand) -> list[tuple[int, str]]:
    """Bring every station into view and let machines start."""
    hand.view()
    start_operations(hand.floor)
    return hand.wakes()


def test_a_machine_with_a_part_starts_unless_it_is_down_or_in_a_stop_even_an_overlapping_one() -> None:
    mill = {"cycle": "5 s", "machines": 4, "breakdowns": jam(), "cleaning": {"wash": every(9, overlaps="loading")}}
    hand = Hand(serial({"mill": mill}))
    for n in (1, 2, 3):
        hand.fill(f"mill.{n}")
    hand.break_down("mill.1", progress=r.CALLED)
    hand.stop("mill.2", "wash")
    assert start(hand) == [(r.START_OPERATION, "mill.3")]
    assert hand.get("mill.3", "PHASE") == r.WORKING


def test_blocking_before_service_waits_for_room_and_reserves_it() -> None:
    hand = Hand(serial({"turn": {"cycle": "5 s", "blocking": "before_service"}, "grind": 5}, [1]))
    hand.fill("turn.1")
    hand.work("grind.1")
    hand.fill("park_1")
    assert start(hand) == []
    hand.set("park_1", LEVEL=0, RIPE=0)
    assert start(hand) == [(r.START_OPERATION, "turn.1")]
    assert (hand.name(hand.get("turn.1", "ROOM")), hand.get("park_1", "ROOM_TAKEN")) == ("park_1", 1)


def test_a_reject_sent_back_gives_up_the_room_reserved_before_service() -> None:
    gauge = {"cycle": "5 s", "blocking": "before_service", "inspection": {"rework": {"to": "grind"}}}
    hand = Hand(serial({"grind": 5, "gauge": gauge, "wash": 5}, [0, 1]))
    part = hand.work("gauge.1")
    hand.layout.set(part, DEFECT=0, MADE_AT=hand.steps["grind"])
    hand.set("gauge.1", ROOM=hand.at("park_2"))
    hand.set("park_2", ROOM_TAKEN=1)
    end_operation(hand.floor, hand.at("gauge.1"), -1, 0)
    assert (hand.get("gauge.1", "ROOM"), hand.get("park_2", "ROOM_TAKEN")) == (r.NONE, 0)
