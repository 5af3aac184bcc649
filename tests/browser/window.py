"""A real browser without a window and without a network."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

BROWSERS, DRIVER = ("chromium", "chromium-browser", "google-chrome"), "chromedriver"
NEEDS = "no chromium with chromedriver on this machine; Debian's packages are chromium and chromium-driver"


def opened() -> Chrome | None:
    """None where there is no browser; `quit` ends it."""
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    driver = shutil.which(DRIVER)
    if found is None or driver is None:
        return None
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    options.binary_location = found
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"):
        options.add_argument(word)
    options.add_argument("--host-resolver-rules=MAP * ~NOTFOUND")  # no network
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    return webdriver.Chrome(options=options, service=webdriver.ChromeService(driver))


def interactive_s(window: Chrome) -> float:
    """How long the page that is open took until all its scripts had run [s]."""
    found: float = window.execute_script("return performance.getEntriesByType('navigation')[0].loadEventEnd")
    return found / 1000
