"""For each feature of a line a tiny line on which both engines tell the same story, to the last bit."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

import pytest

import linesim
from linesim.engine.contract.ledger import CarriageState
from linesim.engine.contract.trace import Trace, What
from linesim.line import model
from tests.differential.lines_of_batches import BATCHES, FEEDS
from tests.differential.lines_of_crews import CREWS
from tests.differential.lines_of_ends import ENDS
from tests.differential.lines_of_hands import HANDS
from tests.differential.lines_of_loaders import LOADERS, RULES_AND_GRIPPERS
from tests.differential.lines_of_parts import PARTS
from tests.differential.lines_of_quality import DISTRIBUTIONS, QUALITY
from tests.differential.lines_of_skips import SKIPS
from tests.differential.lines_of_stations import BREAKDOWNS, FLOW, STOPS, TOOLS, Case, State
from tests.differential.lines_of_weeks import WEEKS
from tests.differential.same_run import Span, assert_same_run
from tests.helpers.lines import serial

CASES = (
    FLOW
    | BREAKDOWNS
    | STOPS
    | TOOLS
    | QUALITY
    | DISTRIBUTIONS
    | RULES_AND_GRIPPERS
    | LOADERS
    | ENDS
    | WEEKS
    | PARTS
    | SKIPS
    | CREWS
    | HANDS
    | BATCHES
    | FEEDS
)

# Keys that say what a line is worth or called, not what happens on it.
TELL_NOTHING_OF_TIME = {
    "price",
    "cost",
    "price_per_place",
    "size",
    "side",
    "planned_cycle",
    "paid",
    "power",
    "name",
    "demand",
    "money",
    "assumptions",
}


@pytest.mark.parametrize("name", CASES)
def test_both_engines_tell_the_same_story_of(name: str) -> None:
    case = CASES[name]
    outcome = assert_same_run(case.line)
    assert bool(outcome.stand) == case.comes_to_a_stand
    if outcome.trace is not None:
        missing = [what for what in case.shows if not _is_shown(outcome.trace, what)]
        assert missing == [], "the line never comes to what it is named after"


@pytest.mark.parametrize("name", CASES)
def test_both_engines_keep_the_same_books_after_a_warm_up_that_cuts_everything(name: str) -> None:
    assert_same_run(CASES[name].line, Span(horizon_s=307, warmup_s=83, window_s=50), replication=3, trace=False)


_FLOW = serial({"a": 5, "b": 3, "c": 5}, [2, 1])


@pytest.mark.parametrize(
    "span",
    [
        Span(100, 50, 10),  # all on the instants at which cycles end
        Span(100, 0, 100),
        Span(100, 95, 7),
        Span(100, 99.999999, 0.5),
        Span(3, 0, 50),  # nothing has left yet
        Span(40, 13, 1000),  # one window, longer than the run
    ],
    ids=str,
)
def test_warm_up_windows_and_horizon_cut_both_runs_alike(span: Span) -> None:
    assert_same_run(_FLOW, span)


def test_a_line_that_goes_round_in_no_time_ends_both_runs_alike() -> None:
    """A line file can't hold it; made by hand: every cycle takes no time."""
    line = linesim.load_line(_FLOW)
    at_once = {name: dataclasses.replace(station, cycle=model.NO_TIME) for name, station in line.stations.items()}
    outcome = assert_same_run(dataclasses.replace(line, stations=at_once))
    assert "rounds" in outcome.stand


def test_every_key_of_a_line_file_that_time_depends_on_stands_in_a_tiny_line() -> None:
    wanted = {
        f"{kind.__name__}.{field.name}"
        for kind in _kinds(model.Line)
        for field in dataclasses.fields(kind)
        if field.name not in TELL_NOTHING_OF_TIME and len(field.metadata.get("one_of", "ab")) > 1
    }
    seen: set[str] = set()
    for case in CASES.values():
        seen |= set(_keys_in_use(linesim.load_line(case.line)))
    assert wanted - seen == set(), "give each a tiny line"


def _is_shown(trace: Trace, what: What | State) -> bool:
    if isinstance(what, What):
        return bool((trace.rows[:, 1] == what).any())
    kind = "carriage" if isinstance(what, CarriageState) else "machine"
    owners = [number for number, owner in enumerate(trace.owners) if owner.kind == kind]
    states = trace.rows[trace.rows[:, 1] == What.STATE]
    return any(owner in owners for owner in states[states[:, 4] == what, 2])


def _kinds(kind: type) -> Iterator[Any]:
    """The dataclasses that a line is made of, money and the like left out."""
    yield kind
    inner = (model.Station, model.Buffer, model.Loader, model.Crew, model.Shift, model.Break, model.PlannedStop)
    if kind is model.Line:
        yield from inner
        yield from (
            model.Breakdown,
            model.Stop,
            model.ColdStart,
            model.Breakage,
            model.Inspection,
            model.Rework,
            model.Batch,
            model.ThroughFeed,
            model.Strokes,
            model.Zone,
            model.ByHand,
            model.Characteristic,
            model.Tolerance,
            model.LoaderStop,
            model.NextCall,
        )
        yield from (model.Infeed, model.Outfeed, model.EndJob, model.Arrivals, model.Drawer, model.Samples)
        yield from (model.PartType, model.Order, model.Changeover)


def _keys_in_use(thing: Any) -> Iterator[str]:
    """`Station.cycle` and so on, for every field that does not stand at its default."""
    for field in dataclasses.fields(thing):
        value = getattr(thing, field.name)
        if field.default_factory is not dataclasses.MISSING:
            default = field.default_factory()
        else:
            default = field.default
        if value != default:
            yield f"{type(thing).__name__}.{field.name}"
        for inner in value.values() if hasattr(value, "values") else value if isinstance(value, tuple) else [value]:
            if dataclasses.is_dataclass(inner):
                yield from _keys_in_use(inner)


def test_the_cases_of_one_table_do_not_hide_those_of_another() -> None:
    tables: list[dict[str, Case]] = [FLOW, BREAKDOWNS, STOPS, TOOLS, QUALITY, DISTRIBUTIONS, RULES_AND_GRIPPERS]
    tables += [LOADERS, ENDS, WEEKS, PARTS, SKIPS, CREWS, HANDS, BATCHES, FEEDS]
    assert len(CASES) == sum(len(table) for table in tables)
