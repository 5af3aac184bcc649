"""The replay of people who load by hand: they have no rail, but parts and states are told as the ledger has them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from linesim.engine.contract.ledger import HOUR_US, Fate, MachineState
from linesim.engine.contract.times import Times
from linesim.engine.simpy import run
from linesim.line import Line, load_line
from linesim.report.page import write_page
from linesim.report.parts import Page, Section
from linesim.report.replay import replay_of
from tests.browser.conftest import asking
from tests.helpers.lines import serial

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

FROM_US, TO_US = HOUR_US // 2, 2 * HOUR_US


@pytest.fixture(scope="module")
def hand_line() -> Line:
    by_hand = {"crew": "operator", "load": "8 s", "unload": "6 s", "exchange": "11 s"}
    turn = {"cycle": "60 s", "machines": 2, "by_hand": by_hand}
    gauge = {"cycle": "25 s", "by_hand": by_hand}
    return load_line(serial({"turn": turn, "gauge": gauge}, [2], crews={"operator": {"response": "3 s"}}))


@pytest.fixture
def ask(browser: Chrome, hand_line: Line, tmp_path: Path) -> Any:
    trace = run(hand_line, 5, 1, Times(0, TO_US, HOUR_US), trace=True)[1]
    assert trace is not None
    part = replay_of(trace, hand_line, 1, FROM_US, TO_US)
    page = write_page(Page("by hand", "", [Section("replay", "Replay", [part])]), tmp_path / "report.html")
    return asking(browser, page)


def test_counters_and_times_in_states_are_those_of_the_ledger(ask: Any, hand_line: Line) -> None:
    ledger = run(hand_line, 5, 1, Times(FROM_US, TO_US, HOUR_US))[0]
    told = ask("story.goTo(story.data.to_us); return [story.counts, story.data.owners.map(([name, kind], n) => "
               "[name, (story.data.states[kind] ?? []).map((_, state) => story.timeIn(n, state))])]")  # fmt: skip
    left = ledger.departures[ledger.departures[:, 0] >= FROM_US, 3]
    assert told[0]["good"] == int((left == Fate.GOOD).sum()) > 0
    times = {name: spent for name, spent in told[1] if spent}
    assert times == {name: [int(spent) for spent in states] for name, states in ledger.states.items()}
    assert ledger.states["gauge.1"][MachineState.WAITING_OPERATOR] > 0


def test_ways_by_hand_are_drawn_and_no_rail_is(ask: Any) -> None:
    count = "return document.querySelectorAll('#replay {}').length"
    assert ask(count.format(".way")) == 4
    assert ask(count.format(".carriage")) == 0
