"""A trace of eight made-up rows, picked and printed."""

from dataclasses import replace

import numpy as np
import pytest

from linesim.cli.trace_table import clock, selected, table
from linesim.engine.contract import Trace
from linesim.engine.contract.ledger import CarriageState, MachineState, Owner
from linesim.engine.contract.trace import What
from linesim.engine.contract.trace_words import WORDS
from linesim.line import LineError

OWNERS = (
    Owner("stock", "infeed", "stock"),
    Owner("turn.1", "machine", "turn"),
    Owner("turn.2", "machine", "turn"),
    Owner("", "outfeed", ""),
    Owner("gantry.1", "carriage", "gantry"),
    Owner("fitter", "crew", "fitter"),
)
HOUR_US = 3_600_000_000
ROWS = [
    (0, What.LEG, 4, 1, 1_500_000),
    (HOUR_US, What.LEAVE, 0, 7, 4),
    (HOUR_US, What.ARRIVE, 1, 7, 4),
    (HOUR_US, What.STATE, 1, -1, MachineState.WORKING),
    (HOUR_US, What.START, 1, 7, 88_250_000),
    (2 * HOUR_US, What.FAIL, 2, -1, 0),
    (2 * HOUR_US, What.CREW, 5, -1, 0),
    (3 * HOUR_US, What.SCRAP, 1, 7, 0),
]
TRACE = Trace(np.array(ROWS, dtype=np.int64), OWNERS, (("turn.2", "breakdown", "jam"),), (("turn", "surface"),))


def picked(from_h: float = 0, to_h: float = 9, part: int | None = None, name: str | None = None) -> list[int]:
    return list(selected(TRACE, from_h, to_h, part, name))


def test_both_edges_of_the_time_window_are_inside() -> None:
    assert picked(from_h=1, to_h=2) == [1, 2, 3, 4, 5, 6]


def test_an_instant_on_the_edge_is_found_whatever_its_fraction_of_an_hour() -> None:
    for minute in range(2 * 24 * 60):
        at_us = minute * HOUR_US // 60
        trace = replace(TRACE, rows=np.array([(at_us, What.FAIL, 2, -1, 0)], dtype=np.int64))
        assert list(selected(trace, at_us / HOUR_US, at_us / HOUR_US, None, None)) == [0]


def test_a_part_is_followed_and_the_target_of_a_leg_is_no_part() -> None:
    assert picked(part=7) == [1, 2, 4, 7]
    assert picked(part=1) == []


def test_a_machine_shows_the_leg_that_leads_to_it() -> None:
    assert picked(name="turn.1") == [0, 2, 3, 4, 7]


def test_a_carriage_shows_what_it_took_and_brought() -> None:
    assert picked(name="gantry.1") == [0, 1, 2]


def test_a_station_stands_for_all_its_machines() -> None:
    assert picked(name="turn") == [0, 2, 3, 4, 5, 7]


def test_an_unknown_name_is_refused_with_the_nearest_one() -> None:
    with pytest.raises(LineError, match=r"Did you mean turn\.1\?"):
        picked(name="turn1")


def test_the_table_says_in_words_what_the_numbers_mean() -> None:
    lines = [" ".join(line.split()) for line in table(TRACE, np.arange(8))]
    assert lines == [
        "time who what part detail",
        "0:00:00.000 gantry.1 moves to turn.1, 1.5 s",
        "1:00:00.000 stock part leaves 7 by gantry.1",
        "turn.1 part arrives 7 by gantry.1",
        "turn.1 is now working",
        "turn.1 starts 7 88.25 s",
        "2:00:00.000 turn.2 breaks down jam",
        "fitter takes call jam of turn.2",
        "3:00:00.000 turn.1 scraps part 7 defect surface of turn",
    ]


def test_states_are_told_without_underscores() -> None:
    """Each state that there is, of machines and of carriages."""
    owners = {each.kind: number for number, each in enumerate(TRACE.owners)}
    rows = [(0, What.STATE, owners["machine"], -1, int(state)) for state in MachineState]
    rows += [(0, What.STATE, owners["carriage"], -1, int(state)) for state in CarriageState]
    told = list(table(replace(TRACE, rows=np.array(rows, dtype=np.int64)), np.arange(len(rows))))[1:]
    assert len(told) == len(MachineState) + len(CarriageState)
    assert not any("_" in line for line in told)
    assert sum(line.endswith("waiting for loader") for line in told) == 1


def test_every_kind_of_row_has_words() -> None:
    assert list(WORDS) == list(What)


@pytest.mark.parametrize(("time_s", "text"), [(0, "0:00:00.000"), (59.9996, "0:01:00.000"), (93784.5, "26:03:04.500")])
def test_times_are_printed_as_hours_minutes_seconds(time_s: float, text: str) -> None:
    assert clock(time_s) == text
