"""One replication of a line on the engine that was chosen, and the seed of a study that was given none."""

from __future__ import annotations

import secrets
from collections.abc import Callable

from linesim.engine.contract import Ledger, Times, Trace
from linesim.line import Line

Run = tuple[Ledger, Trace | None]


def drawn_seed() -> int:
    """A seed for a study that was given none; short enough to be copied by hand."""
    return secrets.randbelow(10**6)


def run_once(
    engine: str,
    line: Line,
    seed: int,
    replication: int,
    times: Times,
    trace: bool = False,
    on_progress: Callable[[int], None] | None = None,
) -> Run:
    """One replication on "simpy" or "compiled". `on_progress` gets the time reached [us]."""
    run = _compiled() if engine == "compiled" else _readable()
    return run(line, seed, replication, times, trace, on_progress)


def _readable() -> Callable[..., Run]:
    from linesim.engine.simpy import run

    return run


def _compiled() -> Callable[..., Run]:
    from linesim.engine.compiled import run

    return run
