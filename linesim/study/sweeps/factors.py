"""What a sweep varies: factors, each a key of the line with its levels, or with a range."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from linesim.line import Line, LineError, Problem
from linesim.line.between import between
from linesim.line.units import BadValue

RANGE = {"low", "high"}


@dataclass(frozen=True)
class Factor:
    """key: of the line, such as buffers.park_1.capacity. Either levels, or a range from low to high with their unit."""

    key: str
    levels: tuple[Any, ...] = ()
    low: Any = None
    high: Any = None

    def at(self, share: float) -> Any:
        """The level at this share of the way (0 to 1): of several levels each as likely as the others."""
        if self.levels:
            return self.levels[min(int(share * len(self.levels)), len(self.levels) - 1)]
        return between(self.low, self.high, share)


def factors_in(given: Mapping[str, Any]) -> list[Factor]:
    """Factors from a map that is shaped like the line, or has dotted keys; at each end a list, a range or one value.

    Raises LineError with all factors that can't be.
    """
    factors: list[Factor] = []
    problems: list[Problem] = []
    for key, value in _ends(given):
        try:
            factors.append(_factor(key, value))
        except BadValue as error:
            problems.append(Problem(f"factors.{key}", value, error.rule, error.fix))
    if problems:
        raise LineError(problems, "the sweep")
    return factors


def assumed(line: Line) -> list[Factor]:
    """A factor for each assumption of the line that has a range."""
    return [
        Factor(key, low=assumption.range[0], high=assumption.range[1])
        for key, assumption in line.assumptions.items()
        if assumption.range
    ]


def short_names(keys: list[str]) -> dict[str, str]:
    """Each key by as few of its last words as tell it from the others, two at least: park_1.capacity."""
    names = {}
    for key in keys:
        words = key.split(".")
        for count in range(min(2, len(words)), len(words) + 1):
            name = ".".join(words[-count:])
            if sum(other.endswith(f".{name}") or other == name for other in keys) == 1:
                break
        names[key] = name
    return names


def _ends(given: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in given.items():
        if isinstance(value, Mapping) and not set(value) <= RANGE:
            yield from _ends(value, f"{above}{key}.")
        else:
            yield f"{above}{key}".removeprefix("line."), value


def _factor(key: str, value: Any) -> Factor:
    if isinstance(value, Mapping):
        if set(value) != RANGE:
            raise BadValue("a range needs both ends", "write {low: 36 s, high: 44 s}")
        between(value["low"], value["high"], 0.5)
        return Factor(key, low=value["low"], high=value["high"])
    levels = list(value) if isinstance(value, (list, tuple)) else [value]
    if not levels:
        raise BadValue("has no levels", "write a list such as [1, 2, 4]")
    twice = [level for number, level in enumerate(levels) if level in levels[:number]]
    if twice:
        raise BadValue(f"has the level {twice[0]} twice", "keep one of them")
    return Factor(key, tuple(levels))
