"""A real browser without a window, and the pages that it looks at. Without one these tests are skipped."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import yaml

from linesim import compare, load_line, simulate
from linesim.line import Line
from linesim.line.loading import line_mapping
from linesim.report.making import write_reports
from linesim.report.page import write_page
from linesim.report.sweep_page import sweep_page as page_of_sweep
from linesim.study.again import traced_again
from tests.unit.report.pages import HOSTILE
from tests.unit.report.sweeps import sweep

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

BROWSERS, DRIVER = ("chromium", "chromium-browser", "google-chrome"), "chromedriver"
NEEDS = "no chromium with chromedriver on this machine; Debian's packages are chromium and chromium-driver"
RUN = {"hours": 4.0, "warmup_hours": 1.0, "replications": 2, "seed": 5, "engine": "simpy"}
BUSY = [  # more happens in these few hours than in the shipped line
    "loaders.gantry.breakdowns.trip={mtbf: 40 min, mttr: 4 min}",
    "stations.grind.defects={size: 20 %}",
    "stations.gauge.inspection={rework: {to: grind, at_most: 1}}",
    "stations.turn.breakdowns.stop.mtbf=30 min",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Chrome]:
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    driver = shutil.which(DRIVER)
    if found is None or driver is None:
        pytest.skip(NEEDS)
    webdriver = pytest.importorskip("selenium.webdriver")
    options = webdriver.ChromeOptions()
    options.binary_location = found
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"):
        options.add_argument(word)
    options.add_argument("--host-resolver-rules=MAP * ~NOTFOUND")  # no network
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    window = webdriver.Chrome(options=options, service=webdriver.ChromeService(driver))
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
