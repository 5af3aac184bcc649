"""Designs: which combinations of levels a sweep runs."""

from __future__ import annotations

import csv
import itertools
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from linesim.line import LineError, Problem
from linesim.line.csv_cells import read_cells
from linesim.study.sweeps.factors import Factor

Levels = dict[str, Any]  # a point of the design: key -> level
LISTED = ("grid", "one_at_a_time")  # they run the levels that are listed; the others spread points over all factors


def designed(design: str, factors: Sequence[Factor], points: int | None, seed: int) -> list[Levels]:
    """The points of a design, in an order that is always the same.

    grid: every level with every other. one_at_a_time: the first level of all, then each other level alone.
    latin_hypercube (McKay, Beckman & Conover 1979), sobol (Sobol' 1967, scrambled after Owen 1998): so many points, by
    scipy, spread over ranges and levels; `seed` chooses which. Raises LineError for what doesn't fit together.
    """
    problems = _misfits(design, factors, points)
    if problems:
        raise LineError(problems, "the sweep")
    return _MAKERS[design](factors, points or 0, seed)


def read_table(file: Path) -> list[Levels]:
    """The points of an explicit table, a CSV file with a column a factor and a row a point.

    With `;` between the columns a comma is a decimal point. An empty cell leaves the line's own
    value. Raises LineError for a file that is no such table.
    """
    try:
        rows = read_cells(file)
    except OSError as error:
        raise _table_problem(file, f"can't be read: {error.strerror}", "give the path of a CSV file") from None
    except (UnicodeDecodeError, csv.Error) as error:
        raise _table_problem(file, f"can't be read: {error}", "save it as CSV in UTF-8") from None
    if len(rows) < 2:
        raise _table_problem(file, "has no points", "write the keys in the first row and a point in each row below")
    header = [key.removeprefix("line.") for key in rows[0]]
    if not all(header) or len(set(header)) < len(header):
        raise _table_problem(file, "has a column without a key, or one key twice", "head each column with its own key")
    points = []
    for number, row in enumerate(rows[1:], 2):
        if len(row) != len(header):
            rule = f"has {len(row)} cells in row {number}, but {len(header)} columns"
            raise _table_problem(file, rule, "put values that hold the separator between double quotes")
        points.append({key: _value(cell) for key, cell in zip(header, row, strict=True) if cell})
    return points


def _misfits(design: str, factors: Sequence[Factor], points: int | None) -> list[Problem]:
    problems = []
    if design in LISTED:
        rule, fix = f"a {design} design needs listed levels", "write a list, or take design=sobol with points=64"
        problems += [
            Problem(f"factors.{each.key}", f"{each.low} to {each.high}", rule, fix)
            for each in factors
            if not each.levels
        ]
        if points is not None:
            problems.append(
                Problem("points", points, f"a {design} design has as many points as levels make", "leave it out")
            )
    elif points is None:
        problems.append(
            Problem("points", None, f"a {design} design needs a number of points", "write for example points=64")
        )
    if not factors:
        problems.append(
            Problem(
                "factors", None, "there is nothing to vary", "write several values: line.buffers.park_1.capacity=1,2,4"
            )
        )
    return problems


def _grid(factors: Sequence[Factor], points: int, seed: int) -> list[Levels]:
    keys = [factor.key for factor in factors]
    return [dict(zip(keys, row, strict=True)) for row in itertools.product(*(factor.levels for factor in factors))]


def _one_at_a_time(factors: Sequence[Factor], points: int, seed: int) -> list[Levels]:
    base = {factor.key: factor.levels[0] for factor in factors}
    return [base, *({**base, factor.key: level} for factor in factors for level in factor.levels[1:])]


def _latin_hypercube(factors: Sequence[Factor], points: int, seed: int) -> list[Levels]:
    from scipy.stats import qmc  # a second to import

    return _spread(factors, qmc.LatinHypercube(len(factors), rng=seed).random(points))


def _sobol(factors: Sequence[Factor], points: int, seed: int) -> list[Levels]:
    from scipy.stats import qmc

    power = max(points - 1, 0).bit_length()  # its balance holds for powers of two; of more points the first are taken
    return _spread(factors, qmc.Sobol(len(factors), rng=seed).random_base2(power)[:points])


def _spread(factors: Sequence[Factor], shares: Any) -> list[Levels]:
    return [{each.key: each.at(float(share)) for each, share in zip(factors, row, strict=True)} for row in shares]


_MAKERS: dict[str, Callable[[Sequence[Factor], int, int], list[Levels]]] = {
    "grid": _grid,
    "one_at_a_time": _one_at_a_time,
    "latin_hypercube": _latin_hypercube,
    "sobol": _sobol,
}


def _value(cell: str) -> Any:
    try:
        return int(cell)
    except ValueError:
        return cell


def _table_problem(file: Path, rule: str, fix: str) -> LineError:
    return LineError([Problem("table", str(file), rule, fix)], "the sweep")
