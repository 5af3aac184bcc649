"""What `sensitivity` prints: the worth of each improvement, then what the assumptions can do."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import pandas as pd

from linesim.results.intervals import estimates
from linesim.results.labels import aligned, mean_and_interval, signed, with_intervals
from linesim.results.text import CAUTION, WIDTH

if TYPE_CHECKING:
    from linesim.results.sensitivity import Sensitivity


def sensitivity_text(found: Sensitivity) -> str:
    """Head, worth of the levers, ends of the assumptions' ranges, caution."""
    blocks = [_head, _worth, _tornado, _caution]
    return "\n\n".join("\n".join(lines) for lines in ([*block(found)] for block in blocks) if lines)


def _head(found: Sensitivity) -> Iterator[str]:
    about, output = found.about, found.output()
    count = output.replications
    yield about["name"]
    yield (
        f"{count} replication{'s' * (count > 1)} each of {about['hours']:g} h after {about['warmup_hours']:g} h of "
        f"warm-up, seed {about['seed']}, the same random numbers for all"
    )
    yield f"output as it is: {with_intervals([output])[0]} good parts/h"


def _worth(found: Sensitivity) -> Iterator[str]:
    table = found.worth()
    if table.empty:
        return
    step = f"1 % (by a step of {found.about['step_percent']:g} %)"
    yield f"worth of each by itself in good parts/h, for {step} or a person; 95 % together"
    yield from _rows([found.about["words"][lever] for lever in table["lever"]], table["unit"], table)


def _tornado(found: Sensitivity) -> Iterator[str]:
    table = found.tornado()
    if table.empty:
        return
    yield "good parts/h at the ends of the assumptions' ranges, less the line as it is; 95 % together"
    yield from _rows(table["assumption"], table["at"], table)


def _rows(names: Iterable[str], steps: Iterable[str], table: pd.DataFrame) -> Iterator[str]:
    cells = mean_and_interval(estimates(table), signed)
    rows = zip(names, steps, cells, table["shown"], strict=True)
    yield from aligned([[f"  {name}", step, *both, shown] for name, step, both, shown in rows])


def _caution(_: Sensitivity) -> Iterator[str]:
    words = "Each is told by itself: together they may bring more or less than their sum."
    yield from textwrap.wrap(f"{words} {CAUTION}", WIDTH)
