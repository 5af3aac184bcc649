"""A real browser without a window, and the pages that it looks at. Without one these tests are skipped."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml

from linesim import compare, load_line, simulate
from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.times import Times
from linesim.engine.simpy import run
from linesim.line import Line
from linesim.line.loading import line_mapping
from linesim.report.acceptance_page import acceptance_page as page_of_acceptance
from linesim.report.making import write_reports
from linesim.report.page import write_page
from linesim.report.parts import Page, Section
from linesim.report.replay import replay_of
from linesim.report.sensitivity_page import sensitivity_page as page_of_sensitivity
from linesim.report.sweep_page import sweep_page as page_of_sweep
from linesim.study.again import traced_again
from tests.browser.window import NEEDS, opened
from tests.unit.line.lines import two_carriages
from tests.unit.report.pages import HOSTILE
from tests.unit.report.studies import acceptance, sensitivity
from tests.unit.report.sweeps import sweep

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

RUN = {"hours": 4.0, "warmup_hours": 1.0, "replications": 2, "seed": 5, "engine": "simpy"}
RAIL_FROM_US = HOUR_US * 13 // 2
BUSY = [  # more happens in these few hours than in the shipped line
    "loaders.gantry.breakdowns.trip={mtbf: 40 min, mttr: 4 min}",
    "stations.grind.defects={size: 20 %}",
    "stations.gauge.inspection={rework: {to: grind, at_most: 1}}",
    "stations.turn.breakdowns.stop.mtbf=30 min",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Chrome]:
    pytest.importorskip("selenium.webdriver")
    window = opened()
    if window is None:
        pytest.skip(NEEDS)
    yield window
    window.quit()


def hostile(name: str, overrides: list[str]) -> dict[str, object]:
    return {**line_mapping(name, overrides=overrides), "name": HOSTILE}


@pytest.fixture(scope="session")
def line() -> Line:
    return load_line(hostile("ring_cell", BUSY))


@pytest.fixture(scope="session")
def run_page(line: Line, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("run")
    text = yaml.safe_dump(hostile("ring_cell", BUSY), sort_keys=False)
    simulate(line, **RUN).save(folder, line_text=text, plots=False)  # type: ignore[arg-type]
    return write_reports(folder, traced_again)[0]


@pytest.fixture(scope="session")
def compare_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("comparison")
    lines = {HOSTILE: load_line("two_machines"), "roomy": load_line("two_machines", ["buffers.park.capacity=9"])}
    compare(lines, **RUN).save(folder, plots=False)  # type: ignore[arg-type]
    return write_reports(folder)[0]


@pytest.fixture(scope="session")
def sweep_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_page(page_of_sweep(sweep(HOSTILE)), tmp_path_factory.mktemp("sweep") / "report.html")


@pytest.fixture(scope="session")
def sensitivity_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_page(page_of_sensitivity(sensitivity()), tmp_path_factory.mktemp("sensitivity") / "report.html")


@pytest.fixture(scope="session")
def acceptance_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_page(page_of_acceptance(acceptance(), {}), tmp_path_factory.mktemp("acceptance") / "report.html")


@pytest.fixture(scope="session")
def rail_line() -> Line:
    """Two carriages on one rail, a zone, a chute, and a shift with a break."""
    zone = {"door": {"every": "20 min", "takes": "2 min"}}
    plain = two_carriages()
    plain["loaders"]["gantry"]["carriages"]["right"] |= {"stops": ["park", "grind", "bin", "tray"], "zone": zone}
    plain["loaders"]["gantry"]["stops"]["bin"] = "7 m"
    plain["stations"]["grind"] |= {"defects": {"size": "10 %"}, "inspection": {}, "chute": "bin"}
    early = {"days": "mon to fri", "from": "6:00", "to": "14:00", "breaks": {"meal": {"at": "8:00", "takes": "30 min"}}}
    return load_line({**plain, "shifts": {"early": early}})


@pytest.fixture(scope="session")
def rail_page(rail_line: Line, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The replay of this line alone, from 6:30 to 9:00 on Monday."""
    trace = run(rail_line, 5, 1, Times(0, 9 * HOUR_US, HOUR_US), trace=True)[1]
    assert trace is not None
    part = replay_of(trace, rail_line, 1, RAIL_FROM_US, 9 * HOUR_US)
    page = Page("two carriages", "", [Section("replay", "Replay", [part])])
    return write_page(page, tmp_path_factory.mktemp("rail") / "report.html")


def asking(browser: Chrome, page: Path) -> Callable[[str], Any]:
    """Open a page with a replay; returns what runs a script that knows its `story` and `show`."""
    browser.set_window_size(1280, 900)
    browser.get(page.as_uri())

    def asked(script: str) -> Any:
        return browser.execute_script(f"const {{ story, show }} = window.linesimReplay; {script}")

    return asked
