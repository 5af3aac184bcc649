"""The tables of what a run's figures mean and rest on: measures, assumptions, and how it was run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from linesim.line.model import Line
from linesim.report.sheets import TEXT, Cell, Column, Sheet
from linesim.results import Results
from linesim.results.definitions import MEASURES
from linesim.results.found_text import precision_words, warm_up_words
from linesim.results.labels import label

NAMED_MEASURES = {  # in the order of reading
    "throughput_per_h": "output",
    "good_parts": "good parts",
    "scrapped_parts": "scrapped parts",
    "sampled_parts": "samples",
    "reworked_parts": "parts sent to rework",
    "false_alarm_parts": "false alarms",
    "escaped_parts": "escaped bad parts",
    "windows_below_demand_share": "output windows below demand",
    "wip_parts": "WIP",
    "wip_by_little_parts": "rate of leaving x mean time inside",
    "lead_time_mean_s": "lead time, mean",
    "lead_time_p05_s": "lead time, 5 % below",
    "lead_time_p50_s": "lead time, 50 % below",
    "lead_time_p95_s": "lead time, 95 % below",
    "flow_factor": "flow factor",
    "line_oee": "line OEE",
    "energy_per_good_part_kwh": "energy of a good part",
    "cost_per_good_part": "cost of a good part",
    "annual_cost_per_good_part": "equivalent annual cost of a good part",
}


def measures(results: Results) -> Sheet:
    """Every measure that is defined, with unit, interval and meaning."""
    rows: list[list[Cell]] = []
    for name, (unit, definition) in MEASURES.items():
        found = results.estimate(name)
        if found.replications:
            unit = results.about["currency"] if unit == "currency" else unit
            rows.append([NAMED_MEASURES.get(name, label(name)), found, unit, definition])
    columns = [Column("measure", form=TEXT), Column("mean"), Column("unit", form=TEXT), Column("meaning", form=TEXT)]
    return Sheet("Measures", columns, rows)


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
