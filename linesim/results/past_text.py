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
    figures,
    shown_in,
    thousands,
    with_intervals,
)
from linesim.results.past import ask, list_results, nothing_in
from linesim.results.sweep import OUTPUT

COUNT = 10


def contents(folder: Path, width: int | None = None) -> str:
    """All results below a folder. Raises FileNotFoundError if there are none. width: letters that a row may have."""
    table = list_results(folder)
    if table.empty:
        raise FileNotFoundError(nothing_in(folder))
    columns = {name: [*map(str, table[name])] for name in ("folder", "kind")}
    columns["saved"] = [f"{saved:%Y-%m-%d %H:%M}" for saved in table["saved"]]
    for head, name in (("lines", "lines"), ("seed", "seed"), ("runs", "replications")):
        columns[head] = [*map(str, table[name])]
    columns |= {"most good parts/h": figures([*table["most_per_h"]]), "what": [*table["what"]]}
    return "\n".join(_fitting(columns, "what", width))


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
    columns = {name: [*map(str, table[name])] for name in ("line", "folder")}
    for name in shown:
        if name != INVESTMENT:
            length, unit = shown_in(name, table[name].median(), currency)
            found = table[[name, f"{name}_low", f"{name}_high"]] / length
            told = with_intervals([Estimate(mean, low, high, 0) for mean, low, high in found.itertuples(index=False)])
            columns[f"{NAMED_MEASURES[name]}{unit and f' [{unit}]'}"] = told
    prices = table[INVESTMENT].astype(float)
    columns[thousands(currency, "invested")] = ["" if math.isnan(each) else f"{each / 1000:,.0f}" for each in prices]
    columns[""] = [each if several else "" for each in table["currency"]]
    return "\n".join(_fitting(columns, "line", width))


def _fitting(columns: Mapping[str, Sequence[str]], words: str, width: int | None) -> Iterator[str]:
    """A table with its column of words whole: where so many letters are too few for it, they stand below each row."""
    lines = [*_table(columns, words)]
    if width is None or max(map(len, lines)) <= width:
        yield from lines
        return
    others = _table({head: cells for head, cells in columns.items() if head != words})
    for line, told in zip(others, [words, *columns[words]], strict=True):
        yield line
        yield from textwrap.wrap(told, width, initial_indent="  ", subsequent_indent="    ")


def _table(columns: Mapping[str, Sequence[str]], words: str = "") -> Iterator[str]:
    place = [*columns].index(words) if words else 0
    return aligned([[*columns], *zip(*columns.values(), strict=True)], heads=1, words=place)
