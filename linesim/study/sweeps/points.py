"""The points of a sweep: which line each one is, checked before anything runs."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from linesim.line import Line, LineError, Problem, build
from linesim.line.demand import needed_per_h
from linesim.line.layers import compose
from linesim.line.money import investment
from linesim.study.sweeps.factors import short_names

MOST_TOLD = 20  # of many problems; those behind repeat the first ones with other values


@dataclass(frozen=True)
class Base:
    """A line that factors are laid over. levels: what chose it, such as {"change": "fast_gantry"}."""

    levels: Mapping[str, str]
    content: Mapping[str, Any]


@dataclass(frozen=True)
class Point:
    """number: from 1 on, in the order of the design. base: its place in the list of bases. levels: key -> level."""

    number: int
    base: int
    levels: Mapping[str, Any]


@dataclass(frozen=True)
class Points:
    """All points of a sweep.

    investments: of each point [currency], None without money. demands: good parts an hour that are wanted, or None.
    """

    bases: Sequence[Base]
    points: Sequence[Point]
    investments: list[float | None] = field(default_factory=list)
    demands: list[float | None] = field(default_factory=list)

    def content(self, point: Point) -> dict[str, Any]:
        """The line of a point as a plain map."""
        content: dict[str, Any] = compose(self.bases[point.base].content, point.levels).content
        return content

    @property
    def keys(self) -> list[str]:
        """Of all factors, in the order in which they first appear."""
        of_bases = [key for base in self.bases for key in base.levels]
        return list(dict.fromkeys([*of_bases, *(key for point in self.points for key in point.levels)]))

    def rows(self) -> Iterator[dict[str, Any]]:
        """A row a point: its number, its level of each factor as text ("" for none), its investment, its demand."""
        names = short_names(self.keys)
        for point, price, demand in zip(self.points, self.investments, self.demands, strict=True):
            levels = {**self.bases[point.base].levels, **point.levels}
            told = {names[key]: shown_level(levels[key]) if key in levels else "" for key in names}
            yield {"point": point.number, **told, "investment": price, "demand_per_h": demand}


def checked(bases: Sequence[Base], designs: Sequence[Sequence[Mapping[str, Any]]]) -> Points:
    """The points of all bases, each with its own design, every one built once.

    Raises LineError with the problems of all points together, each told once with the number of points that have it.
    """
    points = [(at, dict(levels)) for at, design in enumerate(designs) for levels in design]
    made = Points(bases, [Point(number, at, levels) for number, (at, levels) in enumerate(points, 1)])
    problems: Counter[Problem] = Counter()
    for point in made.points:
        try:
            line = line_of(made, point)
        except LineError as error:
            problems.update(error.problems)
        else:
            made.investments.append(_investment(line))
            made.demands.append(needed_per_h(line))
    if problems:
        raise LineError(_told(problems, len(points)), "the points of the sweep")
    return made


def line_of(points: Points, point: Point) -> Line:
    """The line of a point. Raises LineError with where the problem stands."""
    source = compose(points.bases[point.base].content, point.levels)
    return build(source.content, source.origins)


def shown_level(level: Any) -> str:
    """A level as people write it."""
    return level if isinstance(level, str) else json.dumps(level, ensure_ascii=False)


def _investment(line: Line) -> float | None:
    return investment(line) if line.money else None


def _told(problems: Counter[Problem], points: int) -> list[Problem]:
    told = []
    for problem, count in problems.most_common(MOST_TOLD):
        rule = problem.rule if count == 1 else f"{problem.rule} ({count} of {points} points)"
        told.append(replace(problem, rule=rule))
    if len(problems) > MOST_TOLD:
        told.append(Problem("", None, f"{len(problems) - MOST_TOLD} more of this kind"))
    return told
