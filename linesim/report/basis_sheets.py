"""The tables of what a run's figures mean and rest on: measures, assumptions, and how it was run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from linesim.line.model import Line
from linesim.report.sheets import TEXT, Cell, Column, Sheet
from linesim.results import Results
from linesim.results.definitions import INTERVALS, MEASURES
from linesim.results.found_text import precision_words, warm_up_words
from linesim.results.intervals import within
from linesim.results.labels import IN_PERCENT, NAMED_MEASURES, in_unit, shown_in


def measures(results: Results) -> Sheet:
    """Every measure that is defined, with unit, interval and meaning."""
    rows: list[list[Cell]] = []
    lead_time_s = results.estimate("lead_time_mean_s").mean
    for name, (_, definition) in MEASURES.items():
        found = results.estimate(name)
        if found.replications:
            length, unit = shown_in(name, lead_time_s, results.about["currency"])
            cut = within(found, 1.0) if name in IN_PERCENT else found
            rows.append([NAMED_MEASURES[name], in_unit(cut, length), unit, definition])
    columns = [
        Column("measure", form=TEXT),
        Column("mean", unlike=True),
        Column("unit", form=TEXT),
        Column("meaning", form=TEXT),
    ]
    return Sheet("Measures", columns, rows, INTERVALS)


def in_a_run(results: Results) -> str:
    """Unit of what is counted in the measured time of one replication; a table has the mean over all of them."""
    return f"in {results.about['hours']:g} h"


def assumptions(line: Line | None) -> Sheet | None:
    """What the file says of how sure its values are; None if it says nothing."""
    if line is None or not line.assumptions:
        return None
    heads = ("value", "range", "class", "source", "owner")
    rows: list[list[Cell]] = [
        [key, " to ".join(each.range), each.kind, each.source, each.owner] for key, each in line.assumptions.items()
    ]
    return Sheet("Assumptions", [Column(head, form=TEXT) for head in heads], rows)


def how_it_was_run(about: Mapping[str, Any]) -> Sheet:
    """Seed, run lengths and versions: with them, and the line file, the same numbers come out again."""
    numbers = about["replications"]
    found = [["how the warm-up was found", warm_up_words(about["warmup"])]] if about.get("warmup") else []
    if about.get("precision"):
        found.append(["precision", "; ".join(words.strip() for words in precision_words(about["precision"]))])
    told = [
        ["seed", str(about["seed"])],
        ["replications", f"{len(numbers)} (numbers {numbers[0]} to {numbers[-1]})"],
        ["measured time of each", f"{about['hours']:g} h, of which planned {about['planned_hours']:g} h"],
        ["warm-up before it, not measured", f"{about['warmup_hours']:g} h, from an empty line"],
        *found,
        ["width of an output window", f"{about['window_h']:g} h"],
        ["engine", str(about.get("engine", "not told"))],
        ["events simulated", f"{about['events']:,}"],
        *([name, str(number)] for name, number in about["versions"].items()),
    ]
    return Sheet("How it was run", [Column("what", form=TEXT), Column("value", form=TEXT)], told)
