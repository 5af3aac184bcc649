"""The replay in a real browser: its counters and state times are those of the ledger, and it obeys mouse and keys."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from linesim.engine.contract.ledger import HOUR_US, Fate, Ledger
from linesim.engine.contract.times import Times
from linesim.engine.simpy import run
from linesim.line import Line
from tests.browser.conftest import asking

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

FROM_US, TO_US, SEED = HOUR_US, 5 * HOUR_US, 5


@pytest.fixture
def ask(browser: Chrome, run_page: Path) -> Any:
    return asking(browser, run_page)


@pytest.fixture(scope="module")
def ledger(line: Line) -> Ledger:
    return run(line, SEED, 1, Times(FROM_US, TO_US, HOUR_US))[0]


def test_at_its_end_the_counters_are_those_of_the_ledger(ask: Any, ledger: Ledger) -> None:
    shown = ask("story.goTo(story.data.to_us); show(''); return Object.fromEntries([...document.querySelectorAll("
                "'#replay [data-count]')].map((each) => [each.dataset.count, Number(each.textContent)]))")  # fmt: skip
    left = ledger.departures[ledger.departures[:, 0] >= FROM_US, 3]
    assert shown == {
        "good": int((left == Fate.GOOD).sum()),
        "scrapped": int((left == Fate.SCRAPPED).sum()),
        "sampled": 0,
        "reworked": int(ledger.stations["reworked"].sum()),
        "entered": ledger.entered,
        "inside": ledger.inside_end,
    }
    assert min(count for what, count in shown.items() if what != "sampled") > 0


def test_times_in_states_are_those_of_the_ledger_to_the_microsecond(ask: Any, ledger: Ledger) -> None:
    told = ask("story.goTo(story.data.to_us); return story.data.owners.map(([name, kind], n) => [name, "
               "(story.data.states[kind] ?? []).map((_, state) => story.timeIn(n, state))])")  # fmt: skip
    times = {name: spent for name, spent in told if spent}
    assert times == {name: [int(spent) for spent in states] for name, states in ledger.states.items()}


def test_going_back_tells_the_same_as_going_on(ask: Any) -> None:
    stands = "[story.counts, story.states, story.contents, story.position(Object.keys(story.data.loaders)[0])]"
    once = ask(f"story.goTo(story.data.from_us + 1.5e9); return {stands}")
    again = ask(f"story.goTo(story.data.to_us); story.goTo(story.data.from_us + 1.5e9); return {stands}")
    assert again == once


def test_a_carriage_passes_on_its_way_and_carries_parts(ask: Any) -> None:
    seen = ask("const found = new Set(), held = new Set(), n = Object.keys(story.data.loaders)[0];"
               "for (let t = 0; t < 600; t++) { story.goTo(story.data.from_us + t * 1e6);"
               "found.add(story.position(n).toFixed(2)); held.add(story.contents[n].length); }"
               "return [found.size, [...held].sort()]")  # fmt: skip
    assert seen[0] > 50  # far more positions than the rail has stops
    assert seen[1] == [0, 1]  # an exchange swaps two in an instant


def test_it_plays_pauses_steps_and_jumps_by_keys_alone(browser: Chrome, ask: Any) -> None:
    from selenium.webdriver.common.keys import Keys

    clock = "return story.time"
    ask("document.getElementById('replay-play').focus()")
    begin = ask(clock)
    focused = browser.switch_to.active_element
    focused.send_keys("p")
    deadline = time.monotonic() + 20
    while ask(clock) == begin and time.monotonic() < deadline:
        time.sleep(0.1)
    focused.send_keys("p")
    paused = ask(clock)
    assert paused > begin
    time.sleep(0.3)
    assert ask(clock) == paused

    focused.send_keys("s")
    stepped = ask(clock)
    assert stepped > paused
    focused.send_keys("b")
    assert ask(clock) > stepped
    assert "breaks down" in ask("return document.getElementById('replay-now').textContent")

    focused.send_keys("+")
    assert ask("return document.getElementById('replay-speed').value") == "300"
    ask("document.getElementById('replay-time').focus()")
    at = ask(clock)
    browser.switch_to.active_element.send_keys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT)
    assert ask(clock) > at
    focused.send_keys(Keys.SPACE)  # a button obeys the space bar
    assert ask("return document.getElementById('replay-play').textContent") == "Pause"


def test_every_control_is_reached_by_the_tabulator_and_has_a_name(ask: Any) -> None:
    named = ask("return [...document.querySelectorAll('#replay :is(button, select, input)')].map((each) =>"
                " [each.tabIndex, each.textContent + (each.closest('label')?.textContent ?? '')])")  # fmt: skip
    assert len(named) == 6
    assert all(index >= 0 and words.strip() for index, words in named)


def test_the_frame_shows_a_row_for_each_machine_and_carriage_and_the_way_of_each_loader(ask: Any) -> None:
    rows, ways, cursors = ask("show(''); return [document.querySelectorAll('#replay-states rect').length, "
                              "document.querySelectorAll('#replay-ways .track').length, "
                              "document.querySelectorAll('#replay .cursor').length]")  # fmt: skip
    assert rows > 50
    assert ways > 50
    assert cursors == 2
