"""The books of one replication, audited: the ledger against the trace, to the microsecond."""

from __future__ import annotations

import numpy as np

from linesim.engine.contract.ledger import CarriageState, Fate, Ledger, MachineState
from linesim.engine.contract.trace import Trace, What
from linesim.line.at_start import parts_at_start
from linesim.line.model import Line
from tests.helpers.books_of_batches import check_batches
from tests.helpers.books_of_cold_starts import check_cold_starts
from tests.helpers.books_of_crews import check_crews
from tests.helpers.books_of_drawers import check_drawers
from tests.helpers.books_of_ends import check_ends
from tests.helpers.books_of_hands import check_hands
from tests.helpers.books_of_held_loaders import check_held_loaders
from tests.helpers.books_of_overstay import check_overstay
from tests.helpers.books_of_owners import check_legs, check_operations, check_stoppages, check_strokes
from tests.helpers.books_of_parts import check_part_types
from tests.helpers.books_of_readings import check_readings
from tests.helpers.books_of_routes import check_routes
from tests.helpers.books_of_sizes import check_sizes
from tests.helpers.books_of_start_up import check_start_up
from tests.helpers.books_of_week import check_week
from tests.helpers.replay import Story, replay, time_at, value_before


def check_books(ledger: Ledger, trace: Trace, line: Line) -> Story:
    """Raise AssertionError at the first entry that doesn't balance; hand back the replayed story for more questions."""
    assert trace.rows.dtype == np.int64
    assert trace.rows.shape[1:] == (5,)
    assert trace.owners == ledger.owners
    if len(trace.rows):
        assert trace.rows[-1, 0] < ledger.horizon_us, "something happens at the horizon or after it"
    story = replay(trace, line)
    _check_parts(ledger, story, sum(parts_at_start(line).values()))
    _check_wip(ledger, story)
    _check_levels(ledger, story, line)
    _check_states(ledger, story)
    check_operations(ledger, trace, story, line)
    check_strokes(trace, line)
    check_stoppages(ledger, trace)
    check_crews(ledger, trace, line)
    check_hands(trace, line)
    check_cold_starts(trace, line)
    check_batches(trace, line)
    check_overstay(trace, line)
    check_legs(trace, story, line)
    check_held_loaders(trace, story, line)
    check_sizes(ledger, trace, line)
    check_readings(ledger, trace, line)
    check_part_types(ledger, trace, line)
    check_routes(trace, line)
    check_start_up(trace, line)
    check_drawers(ledger, trace, line)
    check_ends(ledger, trace, line, story.inside)
    if line.shifts or line.planned_stops:
        check_week(ledger, trace, story, line)
    else:
        assert ledger.planned.tolist() == [[0, ledger.horizon_us]]
    _check_spells(ledger)
    return story


def _check_parts(ledger: Ledger, story: Story, at_start: int) -> None:
    """Parts in = good + scrapped + still inside; each row of `departures` says what the trace says.

    at_start: so many parts, the first ones, were inside before anything happened.
    """
    told = [(d.time_us, d.part, d.entered_us, int(d.fate), d.reworks) for d in story.departures]
    booked = [tuple(row) for row in ledger.departures[:, [0, 1, 2, 3, 6]].tolist()]
    assert booked == told, "departures differ from the trace"
    names = [*ledger.stations["station"], ""]  # that of -1 stands last
    where = [(row[1], names[row[8]]) for row in ledger.departures.tolist()]
    assert where == [(d.part, d.station) for d in story.departures], "stations where parts became scrap"
    in_window = [entered for entered in list(story.entered_us.values())[at_start:] if entered >= ledger.warmup_us]
    left = [departure for departure in story.departures if departure.time_us >= ledger.warmup_us]
    assert ledger.entered == len(in_window), "entered"
    inside_before = value_before(story.inside, ledger.warmup_us) if ledger.warmup_us else at_start
    assert ledger.inside_start == inside_before, "inside_start"
    assert ledger.inside_end == value_before(story.inside, ledger.horizon_us), "inside_end"
    assert ledger.inside_start + ledger.entered == len(left) + ledger.inside_end, "parts appear or vanish"
    scrapped = [departure for departure in left if departure.fate == Fate.SCRAPPED]
    assert int(ledger.stations["scrapped"].sum()) == len(scrapped), "scrap is charged once, to one station"
    charged = ledger.departures[:, 5]
    assert ((charged >= 0) == (ledger.departures[:, 3] == Fate.SCRAPPED)).all(), "charged_to of good or scrapped parts"


def _check_wip(ledger: Ledger, story: Story) -> None:
    told = time_at(story.inside, ledger.warmup_us, ledger.horizon_us, max(len(ledger.wip), _highest(story) + 1))
    booked = np.zeros_like(told)
    booked[: len(ledger.wip)] = ledger.wip
    assert booked.tolist() == told.tolist(), "WIP histogram differs from the trace"
    assert int(ledger.wip.sum()) == ledger.measured_us, "WIP times don't add up to the window"
    left_us = {departure.part: departure.time_us for departure in story.departures}
    stays_us = sum(
        max(0, left_us.get(part, ledger.horizon_us) - max(entered, ledger.warmup_us))
        for part, entered in story.entered_us.items()
    )
    integral_us = int(np.arange(len(ledger.wip)) @ ledger.wip)
    assert integral_us == stays_us, f"integral of WIP {integral_us} is not the sum of the parts' stays {stays_us}"
    _check_windows(ledger, story)


def _check_windows(ledger: Ledger, story: Story) -> None:
    """Output windows follow each other from zero, and again from the end of the warm-up, with the WIP of the trace."""
    ends = ledger.windows[:, 0].tolist()
    before = {*range(ledger.window_us, ledger.warmup_us, ledger.window_us), ledger.warmup_us} - {0}
    after = {*range(ledger.warmup_us + ledger.window_us, ledger.horizon_us, ledger.window_us), ledger.horizon_us}
    assert ends == sorted(before | after), "ends of the output windows"
    values = _highest(story) + 1
    for from_us, (end_us, wip_us, inside) in zip([0, *ends], ledger.windows.tolist(), strict=False):
        assert wip_us == int(np.arange(values) @ time_at(story.inside, from_us, end_us, values)), f"window to {end_us}"
        assert inside == value_before(story.inside, end_us), f"parts inside at the end of the window to {end_us}"


def _check_levels(ledger: Ledger, story: Story, line: Line) -> None:
    for index, owner in enumerate(ledger.owners):
        if owner.kind == "buffer":
            values = line.buffers[owner.name].capacity + 1
            told = time_at(story.levels[index], ledger.warmup_us, ledger.horizon_us, values)
            assert ledger.levels[owner.name].tolist() == told.tolist(), f"levels of {owner.name} differ from the trace"
            assert int(told.sum()) == ledger.measured_us, f"level times of {owner.name} don't add up to the window"


def _check_states(ledger: Ledger, story: Story) -> None:
    for index, owner in enumerate(ledger.owners):
        if owner.kind in ("machine", "carriage"):
            values = len(MachineState) if owner.kind == "machine" else len(CarriageState)
            assert story.states[index][0][0] == 0, f"{owner.name} has no state at time 0"
            told = time_at(story.states[index], ledger.warmup_us, ledger.horizon_us, values)
            booked = ledger.states[owner.name]
            assert booked.tolist() == told.tolist(), f"states of {owner.name} differ from the trace"
            assert int(booked.sum()) == ledger.measured_us, f"state times of {owner.name} don't add up to the window"


def _check_spells(ledger: Ledger) -> None:
    """Active spells are real stretches of time, in order of their ends, and those of one owner never touch."""
    last_end: dict[int, int] = {}
    ends = ledger.spells[:, 2].tolist()
    assert ends == sorted(ends), "spells are not in order of their ends"
    for owner, from_us, to_us in ledger.spells.tolist():
        assert last_end.get(owner, -1) < from_us < to_us <= ledger.horizon_us, f"spell {from_us} to {to_us} of {owner}"
        last_end[owner] = to_us


def _highest(story: Story) -> int:
    return max((value for _, value in story.inside), default=0)


def count_rows(trace: Trace, what: What, from_us: int = 0) -> int:
    """Rows of this kind from a time on."""
    return int(((trace.rows[:, 1] == what) & (trace.rows[:, 0] >= from_us)).sum())
