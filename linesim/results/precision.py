"""How precise a run was wanted, and whether it became so."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from linesim.line.problems import Problem, nearest
from linesim.results.definitions import MEASURES
from linesim.results.intervals import Estimate, estimate

LOOK_AHEAD = 5  # replications over which the precision must have held before it is believed


@dataclass(frozen=True)
class Wanted:
    """The half width of its 95 % interval that a measure is to have: in its unit, or as a share of its mean."""

    measure: str
    half_width: float
    relative: bool

    @property
    def words(self) -> str:
        return f"{100 * self.half_width:g} %" if self.relative else f"{self.half_width:g} {MEASURES[self.measure].unit}"

    def allowed(self, mean: float) -> float:
        """The half width that it may have [unit of the measure].

        A share g is asked for as g / (1 + g), so that it is a share of the unknown true mean as well.
        Source: Law, Simulation Modeling and Analysis, fixed relative error (from memory).
        """
        return self.half_width / (1 + self.half_width) * abs(mean) if self.relative else self.half_width

    def needed(self, found: Estimate) -> float:
        """About how many replications it takes, by the spread of those found."""
        allowed = self.allowed(found.mean)
        if math.isnan(found.half_width):
            return math.inf
        if found.half_width <= allowed:
            return found.replications
        return found.replications * (found.half_width / allowed) ** 2 if allowed > 0 else math.inf

    def is_met(self, found: Estimate) -> bool:
        return found.half_width <= self.allowed(found.mean)  # False where it is not defined


def read_wanted(given: Mapping[str, Any], setting: str = "precision") -> tuple[list[Wanted], list[Problem]]:
    """What a map of measure -> "1 %" or 0.2 (in the measure's unit) asks for, and what is wrong with it.

    setting: the name by which messages call the map.
    """
    wanted, problems = [], []
    for name, value in given.items():
        key = f"{setting}.{name}"
        if name not in MEASURES:
            fix = f"measures: {', '.join(MEASURES)}"
            problems.append(Problem(key, value, "is no measure", fix, suggestion=nearest(name, MEASURES)))
            continue
        number, relative = _number(value)
        if number is None:
            fix = f"write 1 % of the mean, or a half width in {MEASURES[name].unit} such as 0.2"
            problems.append(Problem(key, value, "must be a share of the mean above 0 %, or a number above 0", fix))
        else:
            wanted.append(Wanted(name, number, relative))
    return wanted, problems


def stands(wanted: Sequence[Wanted], values: Mapping[str, Sequence[float]]) -> bool:
    """Whether all that is wanted is met by all of the values, and was met by the first n of them for the last 5 n.

    values: measure -> its value in each replication, in order. Looking ahead keeps luck from ending a run.
    Source: Hoad, Robinson & Davies 2010 (from memory), with a look-ahead of 5.
    """
    counts = [len(column) for column in values.values()]
    return all(
        each.is_met(estimate(values[each.measure][:count]))
        for each in wanted
        for count in range(min(counts) - LOOK_AHEAD, min(counts) + 1)
    )


def reached(wanted: Sequence[Wanted], values: Mapping[str, Sequence[float]]) -> dict[str, Any]:
    """What was wanted beside what became of it, as JSON can hold it; needed: None where no number would do."""
    told = {}
    for each in wanted:
        found = estimate(values[each.measure])
        needed = each.needed(found)
        told[each.measure] = {
            "wanted": each.words,
            "met": each.is_met(found),
            "half_width": None if math.isnan(found.half_width) else found.half_width,
            "share": found.half_width / abs(found.mean) if each.relative and found.mean else None,
            "needed_replications": math.ceil(needed) if math.isfinite(needed) else None,
        }
    return {"reached": stands(wanted, values), "replications": len(values[wanted[0].measure]), "measures": told}


def _number(value: Any) -> tuple[float | None, bool]:
    """The number in "1 %" (as 0.01, relative) or 0.2; None if it is neither or not above 0."""
    relative = isinstance(value, str) and value.strip().endswith("%")
    try:
        number = float(str(value).strip().removesuffix("%")) if not isinstance(value, bool) else 0.0
    except ValueError:
        return None, relative
    number = number / 100 if relative else number
    return (number if math.isfinite(number) and number > 0 else None), relative
