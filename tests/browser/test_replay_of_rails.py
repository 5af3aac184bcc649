"""The replay of carriages that share a rail, with zones, chutes and shifts: all told, and as the ledger has it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from linesim.engine.contract.ledger import HOUR_US, Fate
from linesim.engine.contract.times import Times
from linesim.engine.simpy import run
from linesim.line import Line
from tests.browser.conftest import RAIL_FROM_US, asking

if TYPE_CHECKING:
    from selenium.webdriver import Chrome


@pytest.fixture
def ask(browser: Chrome, rail_page: Path) -> Any:
    return asking(browser, rail_page)


def test_counters_and_times_in_states_are_those_of_the_ledger(ask: Any, rail_line: Line) -> None:
    ledger = run(rail_line, 5, 1, Times(RAIL_FROM_US, 9 * HOUR_US, HOUR_US))[0]
    told = ask("story.goTo(story.data.to_us); return [story.counts, story.data.owners.map(([name, kind], n) => [name, "
               "(story.data.states[kind] ?? []).map((_, state) => story.timeIn(n, state))])]")  # fmt: skip
    left = ledger.departures[ledger.departures[:, 0] >= RAIL_FROM_US, 3]
    assert told[0]["good"] == int((left == Fate.GOOD).sum()) > 0
    assert told[0]["scrapped"] == int((left == Fate.SCRAPPED).sum()) > 0
    times = {name: spent for name, spent in told[1] if spent}
    assert times == {name: [int(spent) for spent in states] for name, states in ledger.states.items()}


def test_the_clock_tells_the_day_and_the_time_of_day(ask: Any) -> None:
    clock = "return document.getElementById('replay-clock').textContent"
    assert ask(f"show(''); {clock}") == "mon 6:30:00"
    assert ask(f"story.goTo(story.data.to_us); show(''); {clock}") == "mon 9:00:00"


def test_carriages_have_their_names_on_the_plan_and_beside_their_tracks(ask: Any) -> None:
    names = ask("return [...document.querySelectorAll('#replay .carriage text')].map((each) => each.textContent)")
    assert names == ["left", "right"]
    legend = ask("show(''); return document.querySelector('#replay-ways .legend').textContent")
    assert legend.split(" ") == ["", "gantry.left,", "the", "lowest", "gantry.right"]


def test_carriages_keep_their_order_and_distance(ask: Any) -> None:
    """At least 1 m, at each of the 9,000 seconds."""
    least = ask("let least = Infinity; const [left, right] = Object.keys(story.data.loaders);"
                "for (let t = story.data.from_us; t < story.data.to_us; t += 1e6)"
                "least = Math.min(least, story.position(right, t) - story.position(left, t));"
                "return least")  # fmt: skip
    assert least >= 1 - 1e-6


def test_open_zone_and_break_are_among_the_states_that_the_legend_explains(ask: Any) -> None:
    legend = ask("return [...document.querySelectorAll('#replay ul.legend li')].map((each) => each.textContent.trim())")
    assert {"zone open", "planned stop", "working"} <= set(legend)
