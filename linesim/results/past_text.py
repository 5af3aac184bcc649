"""What `ask` prints."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from linesim.results.conditions import INVESTMENT
from linesim.results.intervals import Estimate
from linesim.results.labels import (
    NAMED_MEASURES,
    aligned,
    figure,
    in_unit,
    shown_in,
    thousands,
    with_interval,
)
from linesim.results.past import ask, list_results, nothing_in
from linesim.results.sweep import OUTPUT

COUNT = 10


def contents(folder: Path, width: int | None = None) -> str:
    """All results below a folder. Raises FileNotFoundError if there are none. width: letters that a row may have."""
    table = list_results(folder)
    if table.empty:
        raise FileNotFoundError(nothing_in(folder))
    rows = [["folder", "kind", "saved", "lines", "seed", "runs", "most good parts/h", "what"]]
    for each in table.to_dict("records"):
        counts = [str(each[name]) for name in ("lines", "seed", "replications")]
        rows.append(
            [
                each["folder"],
                each["kind"],
                f"{each['saved']:%Y-%m-%d %H:%M}",
                *counts,
                figure(each["most_per_h"]),
                each["what"],
            ]
        )
    return "\n".join(_fitting(rows, len(rows[0]) - 1, width))


def answer(folder: Path, asked: Mapping[str, str], width: int | None = None) -> str:
    """The best lines under the condition: asked has where, by and count, as far as they were given."""
    by = asked.get("by", OUTPUT)
    table = ask(folder, asked.get("where"), by, int(asked.get("count", COUNT)))
    if table.empty:
        return "no line meets the condition"
    shown = list(dict.fromkeys([OUTPUT, by]))
    currencies = set(table.loc[table[INVESTMENT].notna(), "currency"])
    several = len(currencies) > 1  # then each row names its own
    currency = "" if several else next(iter(currencies), "")
    units = {name: shown_in(name, table[name].median(), currency) for name in shown if name != INVESTMENT}
    heads = [f"{NAMED_MEASURES[name]}{unit and f' [{unit}]'}" for name, (_, unit) in units.items()]
    rows = [["line", "folder", *heads, thousands(currency, "invested"), ""]]
    for row in table.to_dict("records"):
        made = [
            with_interval(in_unit(Estimate(row[name], row[f"{name}_low"], row[f"{name}_high"], 0), length))
            for name, (length, _) in units.items()
        ]
        price = row[INVESTMENT]
        invested = "" if price is None or math.isnan(price) else f"{price / 1000:,.0f}"
        rows.append([str(row["line"]), str(row["folder"]), *made, invested, row["currency"] if several else ""])
    return "\n".join(_fitting(rows, 0, width))


def _fitting(rows: Sequence[Sequence[str]], words: int, width: int | None) -> Iterator[str]:
    """A table with its column of words whole: where so many letters are too few for it, they stand below each row."""
    lines = [*aligned(rows, heads=1, words=words)]
    if width is None or max(map(len, lines)) <= width:
        yield from lines
        return
    for row, line in zip(rows, aligned([[*row[:words], *row[words + 1 :]] for row in rows], heads=1), strict=True):
        yield line
        yield from textwrap.wrap(row[words], width, initial_indent="  ", subsequent_indent="    ")
