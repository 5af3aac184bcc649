"""Long tests are left out unless they are asked for: `pytest tests/differential -m long`."""

from __future__ import annotations

import pytest


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "long: takes minutes; runs only when asked for by -m long")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "long" in config.option.markexpr:
        return
    left_out = [item for item in items if item.get_closest_marker("long")]
    if left_out:
        items[:] = [item for item in items if item not in left_out]
        config.hook.pytest_deselected(items=left_out)
