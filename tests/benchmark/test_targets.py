"""The figures against their targets: `pytest tests/benchmark`, never part of a plain test run.

A target that is missed fails with the table of its part, also when a busy machine may be why.
"""

from __future__ import annotations

import re
from importlib import import_module

import pytest

from tests.benchmark.timing import Figure, table

FACTORS = {"million": 1e6}


@pytest.mark.parametrize("part", ["speed", "memory", "threads", "startup", "sweeps", "reports"])
def test_every_figure_with_a_target_reaches_it(part: str) -> None:
    figures: list[Figure] = import_module(f"tests.benchmark.{part}").figures()
    print(table(figures))
    missed = [figure for figure in figures if figure.target and not reached(figure)]
    assert not missed, f"missed:\n{table(missed)}\nof\n{table(figures)}"


def reached(figure: Figure) -> bool:
    found = re.match(r"(>=|<) ([\d.]+)(?: (million))?", figure.target)
    assert found, f"a target reads '>= 2 million, aim 5' or '< 3', not {figure.target!r}"
    limit = float(found[2]) * FACTORS.get(found[3], 1)
    return figure.median >= limit if found[1] == ">=" else figure.median < limit


@pytest.mark.parametrize(("median", "target", "is_reached"), [(41, ">= 40, aim 100", True), (39, ">= 40", False),
                                                              (1.9e6, ">= 2 million, aim 5", False), (2.9, "< 3", True),
                                                              (3, "< 3", False)])  # fmt: skip
def test_a_target_is_read_as_it_is_written(median: float, target: str, is_reached: bool) -> None:
    assert reached(Figure("x", median, median, median, "s", target)) == is_reached
