"""The kernel never reaches outside its rows. Equal traces alone don't prove that: a wrong address may go unnoticed."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
PLAY = """
import numpy as np
from tests.differential import checked_rows
from linesim.engine.compiled.kernel import advance
advance(np.zeros(60, dtype=np.int64), np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64), 1)
"""


def python(*words: str) -> subprocess.CompletedProcess[str]:
    """Run Python without compiling, in the project's folder."""
    environment = {**os.environ, "NUMBA_DISABLE_JIT": "1", "LINESIM_RANDOM_LINES": "100"}
    command = [sys.executable, *words]
    return subprocess.run(command, cwd=PROJECT, env=environment, capture_output=True, encoding="utf-8", timeout=3600)


@pytest.mark.long
def test_the_kernel_never_reaches_outside_its_rows() -> None:
    """Every tiny line and 100 random ones again, uncompiled, with a look at every index; some minutes."""
    tests = [f"tests/differential/test_{name}.py" for name in ("each_feature", "random_lines")]
    ran = python("-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "tests.differential.checked_rows", *tests)
    assert ran.returncode == 0, ran.stdout[-4000:] + ran.stderr[-2000:]
    looked_at = re.search(r"indices looked at: (\d+)", ran.stdout)
    assert looked_at is not None
    assert int(looked_at[1]) > 1_000_000, "the kernel did not run on checked rows"


@pytest.mark.long
def test_an_index_outside_a_row_is_found() -> None:
    """The guard of the test above: a tree of one number has no second one to look at."""
    ran = python("-c", PLAY)
    assert ran.returncode == 1
    assert "is outside a row of 1 numbers" in ran.stderr
