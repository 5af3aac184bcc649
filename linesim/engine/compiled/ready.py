"""Compile before the first run, with a word to whoever waits."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import numba

from linesim.engine.compiled.cache import cache_folder
from linesim.engine.compiled.engine import run
from linesim.engine.contract.lockup import LockUp
from linesim.engine.contract.times import Times
from linesim.line.model import Line

PROJECT = Path(__file__).resolve().parents[3]


def make_ready(line: Line, say: Callable[[str], None]) -> None:
    """Compile the engine, or load it from where it was kept; from then on replications may run in several threads.

    say: gets a text when compiling begins and one when it is over, if it must be done at all.
    Raises: ValueError for a line that this engine does not take.
    """
    began_s = time.monotonic()
    must_compile = not _is_kept()
    if must_compile:
        say("compiling the engine for this machine, once: about a minute ...")
        _compile_apart()
    load_or_compile(line)
    if must_compile:
        say(f"compiled in {time.monotonic() - began_s:.0f} s")


def load_or_compile(line: Line) -> None:
    """Run the line for no time: this loads what was kept, and compiles what is not there."""
    with suppress(LockUp):  # that comes again in the run
        run(line, seed=0, replication=0, times=Times(0, 1, 1))


def _is_kept() -> bool:
    settings: Any = numba.config
    return bool(settings.DISABLE_JIT) or any(cache_folder().rglob("kernel.advance-*.nbi"))


def _compile_apart() -> None:
    """Compile in a process of its own, so that this one loads what was kept.

    In the process that compiles, functions go on calling copies that were made of each other one by one, and the
    kernel runs a third slower. Where no process can be started, that has to do.
    """
    path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
    with suppress(OSError):
        subprocess.run(
            [sys.executable, "-m", "linesim.engine.compiled"], env={**os.environ, "PYTHONPATH": path}, check=False
        )
