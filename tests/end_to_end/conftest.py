"""The real command line, in a temporary folder."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
Shell = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def linesim(tmp_path: Path) -> Shell:
    """Runs `linesim WORDS` in `tmp_path`; gives its exit status, stdout and stderr."""
    path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
    clean = {key: value for key, value in os.environ.items() if key != "LINESIM_CONF"}

    def run(*words: str, **environment: str) -> "subprocess.CompletedProcess[str]":
        return subprocess.run(
            [sys.executable, "-m", "linesim", *words],
            cwd=tmp_path,
            env={**clean, "PYTHONPATH": path, **environment},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=800,  # only for what hangs: the compiler may have to run first, on a busy machine
        )

    return run
