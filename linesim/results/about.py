"""What was run: name, seed, times, demand, how the loaders chose, and the versions of what ran it."""

from __future__ import annotations

import platform
from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from linesim.engine.contract.ledger import HOUR_US, Ledger
from linesim.line.capacity import ideal_interval_s, pace_stage
from linesim.line.demand import needed_per_h
from linesim.line.hands import hands
from linesim.line.lead_time import least_lead_time_s
from linesim.line.model import Line, Loader
from linesim.line.money import investment
from linesim.line.ways import carriers_and_hands
from linesim.results.measures.planned import planned_us

PACKAGES = ("linesim", "numpy", "pandas", "simpy")


def about(line: Line, ledgers: Sequence[Ledger]) -> dict[str, Any]:
    """Plain values that JSON can hold; all ledgers are of the same line, seed and times."""
    first, stage = ledgers[0], pace_stage(line)
    return {
        "kind": "run",
        "name": line.name,
        "seed": first.seed,
        "replications": [ledger.replication for ledger in ledgers],
        "hours": first.measured_us / HOUR_US,
        "planned_hours": planned_us(first) / HOUR_US,
        "warmup_hours": first.warmup_us / HOUR_US,
        "window_h": first.window_us / HOUR_US,
        "demand_per_h": needed_per_h(line),
        "currency": line.money.currency if line.money else "",
        "investment": investment(line) if line.money else None,
        "pace_stage": stage,
        "ideal_interval_s": ideal_interval_s(line)[stage],
        "least_lead_time_s": least_lead_time_s(line),
        "loaders": {name: _choice(line, name, loader) for name, loader in carriers_and_hands(line).items()},
        "visits": sum(ledger.visits for ledger in ledgers),
        "events": sum(ledger.events for ledger in ledgers),
        "versions": {"python": platform.python_version(), **{name: _version(name) for name in PACKAGES}},
    }


def _choice(line: Line, name: str, loader: Loader) -> dict[str, Any]:
    """How it chooses; crew: who carries, where people do."""
    each = hands(line).get(name)
    return {
        "crew": list(each.called.crew) if each else [],
        "next_call": loader.next_call.rule,
        "places": list(loader.next_call.places),
        "grippers": loader.grippers,
        "exchanges_per_tour": loader.exchanges_per_tour,
    }


def _version(package: str) -> str:
    """Of linesim itself that of the sources that run, installed or not."""
    if package == "linesim":
        from linesim import __version__

        return __version__
    try:
        return version(package)
    except PackageNotFoundError:
        return "unknown"
