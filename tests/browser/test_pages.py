"""Pages in a real browser: they open without a network, take names as text, fit a tablet, and print on A4."""

from __future__ import annotations

import base64
import io
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image

from tests.browser.window import interactive_s
from tests.unit.report.pages import HOSTILE

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

MOST_BYTES, QUICK_S = 3_000_000, 2.0
PAGES = ["run_page", "compare_page", "sweep_page", "sensitivity_page", "acceptance_page"]


@pytest.fixture(params=PAGES)
def page(request: pytest.FixtureRequest) -> Path:
    found: Path = request.getfixturevalue(request.param)
    return found


def test_a_page_opens_without_network_and_without_complaint(browser: Chrome, page: Path) -> None:
    assert page.stat().st_size < MOST_BYTES
    browser.get(page.as_uri())
    assert browser.get_log("browser") == []
    assert browser.execute_script("return performance.getEntriesByType('resource').length") == 0
    assert browser.execute_script("return document.querySelectorAll('main section').length") > 3


def test_a_hostile_name_is_text_and_no_script_of_it_runs(browser: Chrome, page: Path) -> None:
    browser.get(page.as_uri())  # an alert would make the next command fail
    words = browser.execute_script("return document.body.innerText")
    assert HOSTILE.split('"')[0].strip()[:30] in words
    assert browser.execute_script("return document.querySelectorAll('main b, main script:not([type])').length") == 0


def test_a_script_that_got_in_all_the_same_would_be_refused(browser: Chrome, page: Path, tmp_path: Path) -> None:
    tampered = tmp_path / "tampered.html"
    text = page.read_text(encoding="utf-8")
    tampered.write_text(text.replace("</main>", "<script>window.gotIn = true</script></main>"), encoding="utf-8")
    browser.get(tampered.as_uri())
    assert browser.execute_script("return window.gotIn === undefined")
    assert any("Content Security Policy" in entry["message"] for entry in browser.get_log("browser"))


@pytest.mark.parametrize("width", [1280, 768])
def test_nothing_sticks_out_at_the_side(browser: Chrome, page: Path, width: int) -> None:
    browser.set_window_size(width, 900)
    browser.get(page.as_uri())
    wide, room = browser.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert wide <= room


def test_the_table_of_stations_fits_a_tablet(browser: Chrome, run_page: Path) -> None:
    browser.set_window_size(800, 900)
    browser.get(run_page.as_uri())
    table = "document.querySelector('#stations .sheet')"
    wide, room, columns = browser.execute_script(
        f"return [{table}.scrollWidth, {table}.clientWidth, {table}.querySelectorAll('thead th').length]"
    )
    assert columns == 10
    assert wide <= room


def test_a_table_that_goes_on_has_a_shadow_there_and_none_at_its_end(browser: Chrome, sweep_page: Path) -> None:
    browser.set_window_size(520, 900)
    browser.get(sweep_page.as_uri())
    table = browser.find_element("css selector", "#points .sheet")

    def edge() -> int:
        """How light the right edge of what is seen of the table is, in the middle of its values (255: white)."""
        picture = Image.open(io.BytesIO(table.screenshot_as_png)).convert("L")
        last = picture.crop((picture.width - 2, 0, picture.width - 1, picture.height))
        return sorted(last.tobytes())[picture.height // 2]

    assert browser.execute_script("return arguments[0].scrollWidth > arguments[0].clientWidth + 50", table)
    assert edge() < 215
    browser.execute_script("arguments[0].scrollLeft = 10000", table)
    assert edge() > 250


def test_a_page_is_there_soon(browser: Chrome, page: Path) -> None:
    """The best of three, since others may be at work on this machine."""
    times = []
    for _ in range(3):
        browser.get(page.as_uri())
        times.append(interactive_s(browser))
    assert 0 < min(times) < QUICK_S


def test_it_prints_on_a4(browser: Chrome, page: Path) -> None:
    browser.get(page.as_uri())
    printed = base64.b64decode(browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})["data"])
    sizes = set(re.findall(rb"/MediaBox\s*\[([^\]]+)\]", printed))
    assert sizes
    for size in sizes:
        width, height = (float(number) for number in size.split()[2:])
        assert (width, height) == (pytest.approx(595.3, abs=1.5), pytest.approx(841.9, abs=1.5))


def test_points_of_a_sweep_are_filtered_and_sorted(browser: Chrome, sweep_page: Path) -> None:
    browser.get(sweep_page.as_uri())
    rows = "document.querySelectorAll('.filterable tbody tr:not([hidden])')"
    shown = f"return [...{rows}].map((row) => row.cells[0].innerText)"
    assert browser.execute_script(shown) == ["4", "2", "3", "1"]
    browser.find_element("css selector", ".filter input").send_keys("slow")
    assert browser.execute_script(shown) == ["3", "1"]
    browser.find_element("css selector", ".filter input").clear()
    browser.find_element("css selector", ".filter input").send_keys(" ")
    browser.find_element("css selector", ".filterable thead th:first-child button").click()
    assert browser.execute_script(shown) == ["1", "2", "3", "4"]
    browser.find_element("css selector", ".filterable thead th:first-child button").click()
    assert browser.execute_script(shown) == ["4", "3", "2", "1"]
