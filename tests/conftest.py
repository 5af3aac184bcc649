"""What all tests share."""

import subprocess
import sys

import pytest


def pytest_configure(config: pytest.Config) -> None:
    """Tests that run side by side would each compile the engine; so it is compiled before they begin."""
    if getattr(config.option, "numprocesses", None):  # the process that starts the others
        subprocess.run([sys.executable, "-m", "linesim.engine.compiled"], check=True)
