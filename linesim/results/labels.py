"""Words and figures for people: names of states and losses, numbers with fitting digits, times in a fitting unit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from linesim.engine.contract.trace_words import state_words
from linesim.results.definitions import MEASURES
from linesim.results.intervals import Estimate

_LABELS = {
    "gross": "gross (cycle and load time only)",
    "speed": "speed loss",
    "scrap": "scrap at and after it",
    "samples": "samples at and after it",
    "rework": "made again after rework",
    "growth": "growth of stock after it",
    "passing": "parts that skip it",
    "good": "good parts",
    "blocked": "blocked (no room)",
    "starved": "starved (no part)",
}
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
IN_PERCENT = ("windows_below_demand_share", "line_oee")
MINUTE_S, HOUR_S = 60.0, 3600.0


def label(name: str) -> str:
    """A state or loss in words."""
    return _LABELS.get(name) or state_words(name)


def figure(value: float, places: int | None = None) -> str:
    """A number with so many decimals, else with those that fit its size; "-" where it is not defined."""
    if math.isnan(value):
        return "-"
    places = decimals([value]) if places is None else places
    return f"{round(value, places) + 0.0:,.{places}f}"  # what is rounded to nothing has no sign


def decimals(values: Iterable[float]) -> int:
    """How many decimals all these numbers are written with: the largest has three digits that count, or more."""
    size = max((abs(value) for value in values if not math.isnan(value)), default=0.0)
    return 0 if size >= 1000 else 1 if size >= 100 else 2 if size >= 1 or size == 0 else 3


def figures(values: Sequence[float]) -> list[str]:
    """The numbers of a column, all with the decimals that fit the largest."""
    places = decimals(values)
    return [figure(value, places) for value in values]


def percent(value: float) -> str:
    """A share in percent."""
    return "-" if math.isnan(value) else f"{100 * value:.1f} %"


def time_unit(typical_s: float) -> tuple[float, str]:
    """A unit that suits times of this size: its length [s] and name."""
    if math.isnan(typical_s) or typical_s < 10 * MINUTE_S:
        return 1.0, "s"
    return (MINUTE_S, "min") if typical_s < 10 * HOUR_S else (HOUR_S, "h")


def shown_in(measure: str, typical: float, currency: str) -> tuple[float, str]:
    """The unit in which people read a measure of this size: its length in the unit of MEASURES, and its name.

    currency: "" where it is not known.
    """
    unit = MEASURES[measure].unit
    if measure in IN_PERCENT:
        return 0.01, "%"
    if unit == "s":
        return time_unit(typical)
    return 1.0, currency if unit == "currency" else unit


def thousands(currency: str, of: str = "") -> str:
    """Heading of a column of money in thousands; the currency may be "", where it is not known."""
    return " ".join(word for word in ("k", currency, of) if word)


def in_unit(estimate: Estimate, length: float) -> Estimate:
    """The same estimate in a unit that is `length` times as large."""
    return Estimate(estimate.mean / length, estimate.low / length, estimate.high / length, estimate.replications)


def shortened(name: str, most: int = 34) -> str:
    """A name of at most so many letters; what is left out at its end shows."""
    return name if len(name) <= most else f"{name[: most - 3]}..."


def signed(value: float, places: int | None = None) -> str:
    """A difference, with its sign."""
    told = figure(value, places)
    return f"+{told}" if value > 0 and told.strip("0.") else told


def with_intervals(found: Sequence[Estimate], told: Callable[[float, int], str] = figure) -> list[str]:
    """The means of a column, each with its interval in brackets where there is one; decimals as in `figures`."""
    return [" ".join(cells).rstrip() for cells in mean_and_interval(found, told)]


def mean_and_interval(found: Sequence[Estimate], told: Callable[[float, int], str]) -> Iterator[tuple[str, str]]:
    """The same in two cells each."""
    places = decimals(number for each in found for number in (each.mean, each.low, each.high))
    for each in found:
        low, high = told(each.low, places), told(each.high, places)
        yield told(each.mean, places), "" if math.isnan(each.low) else f"({low} to {high})"


def aligned(rows: Sequence[Sequence[str]], heads: int = 0, words: int = 0) -> Iterator[str]:
    """Rows of text in columns, the first flush left, the rest flush right; a column without any value is left out.

    heads: how many rows at the top are headings, which are no values. words: another column that is flush left.
    """
    kept = [at for at in range(len(rows[0])) if any(row[at] not in ("", "-") for row in rows[heads:])]
    widths = {at: max(len(row[at]) for row in rows) for at in kept}
    left = (kept[0], words) if kept else ()
    for row in rows:
        cells = [row[at].ljust(widths[at]) if at in left else row[at].rjust(widths[at]) for at in kept]
        yield "  ".join(cells).rstrip()
