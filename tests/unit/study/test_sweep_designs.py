"""Factors and designs: which points a sweep runs."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from linesim.line import LineError, load_line
from linesim.line.between import between
from linesim.line.units import BadValue
from linesim.study.sweeps.designs import designed, read_table
from linesim.study.sweeps.factors import Factor, assumed, factors_in, short_names

FEW = [Factor("a", (1, 2, 3)), Factor("b", ("x", "y"))]


def test_a_grid_has_every_level_with_every_other() -> None:
    points = designed("grid", FEW, None, 0)
    assert [(point["a"], point["b"]) for point in points] == [
        (1, "x"),
        (1, "y"),
        (2, "x"),
        (2, "y"),
        (3, "x"),
        (3, "y"),
    ]


def test_one_at_a_time_leaves_the_others_at_their_first_level() -> None:
    points = designed("one_at_a_time", FEW, None, 0)
    assert [(point["a"], point["b"]) for point in points] == [(1, "x"), (2, "x"), (3, "x"), (1, "y")]


@pytest.mark.parametrize("design", ["latin_hypercube", "sobol"])
def test_spread_designs_put_as_many_points_into_every_eighth_of_a_range(design: str) -> None:
    """What both are made for: 16 points fill each eighth of each axis with two of them."""
    ranges = [Factor("a", low="10 s", high="18 s"), Factor("b", low="0 %", high="8 %")]
    points = designed(design, ranges, 16, 5)
    assert points == designed(design, ranges, 16, 5)
    assert points != designed(design, ranges, 16, 6)
    for key, low in (("a", 10.0), ("b", 0.0)):
        values = [float(point[key].split()[0]) for point in points]
        assert np.histogram(values, bins=8, range=(low, low + 8))[0].tolist() == [2] * 8


def test_spread_designs_use_listed_levels_equally_often() -> None:
    points = designed("sobol", FEW[1:], 8, 1)
    assert sorted(point["b"] for point in points) == ["x"] * 4 + ["y"] * 4


@pytest.mark.parametrize(
    ("low", "high", "share", "value"),
    [
        ("36 s", "44 s", 0.25, "38 s"),
        ("0.5 %", "1.5 %", 0.5, "1 %"),
        (1, 4, 0.0, "1"),
        (1, 4, 0.26, "2"),
        (1, 4, 0.999, "4"),
        ("100 parts", "103 parts", 0.5, "102 parts"),
    ],
)
def test_a_value_between_two_keeps_their_unit_and_counts_stay_whole(
    low: Any, high: Any, share: float, value: str
) -> None:
    assert between(low, high, share) == value


@pytest.mark.parametrize(("low", "high"), [("36 s", "1 min"), ("44 s", "36 s"), ("a", "b"), ("3 s", "3 s")])
def test_ends_that_do_not_fit_are_refused(low: str, high: str) -> None:
    with pytest.raises(BadValue):
        between(low, high, 0.5)


def test_factors_come_from_a_map_shaped_like_the_line_or_with_dotted_keys() -> None:
    given = {
        "change": ["none", "fast_gantry"],
        "buffers": {"park": {"capacity": [1, 2]}},
        "line.stations.grind.cycle": {"low": "36 s", "high": "44 s"},
        "loaders.gantry.speed": "3 m/s",
    }
    assert factors_in(given) == [
        Factor("change", ("none", "fast_gantry")),
        Factor("buffers.park.capacity", (1, 2)),
        Factor("stations.grind.cycle", low="36 s", high="44 s"),
        Factor("loaders.gantry.speed", ("3 m/s",)),
    ]


def test_short_names_tell_keys_apart() -> None:
    keys = ["buffers.park.capacity", "stations.a.cycle.mean", "stations.b.cycle.mean", "change"]
    assert list(short_names(keys).values()) == ["park.capacity", "a.cycle.mean", "b.cycle.mean", "change"]


def test_assumptions_with_a_range_are_factors() -> None:
    found = {factor.key: factor for factor in assumed(load_line("ring_cell"))}
    assert found
    assert all(factor.low and factor.high and not factor.levels for factor in found.values())


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: factors_in({"a.b": []}), "has no levels"),
        (lambda: factors_in({"a.b": [1, 2, 1]}), "has the level 1 twice"),
        (lambda: factors_in({"a.b": {"low": "1 s"}}), "needs both ends"),
        (lambda: factors_in({"a.b": {"low": "1 s", "high": "1 min"}}), "two units"),
        (lambda: designed("grid", [Factor("a", low="1 s", high="2 s")], None, 0), "needs listed levels"),
        (lambda: designed("grid", FEW, 8, 0), "as many points as levels make"),
        (lambda: designed("sobol", FEW, None, 0), "needs a number of points"),
        (lambda: designed("grid", [], None, 0), "nothing to vary"),
    ],
)
def test_what_can_not_be_designed_is_refused_with_its_reason(ask: Callable[[], object], told: str) -> None:
    with pytest.raises(LineError, match=told):
        ask()


def test_a_table_may_be_written_with_commas_or_with_semicolons(tmp_path: Path) -> None:
    english, other = tmp_path / "a.csv", tmp_path / "b.csv"
    english.write_text("change,line.stations.grind.cycle,buffers.park.capacity\nnone,38.5 s,2\nfast,,4\n", "utf-8")
    other.write_text("change;stations.grind.cycle;buffers.park.capacity\nnone;38,5 s;2\nfast;;4\n", "utf-8-sig")
    points = [
        {"change": "none", "stations.grind.cycle": "38.5 s", "buffers.park.capacity": 2},
        {"change": "fast", "buffers.park.capacity": 4},
    ]
    assert read_table(english) == points
    assert read_table(other) == points


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a,b\n", "has no points"),
        ("a,a\n1,2\n", "one key twice"),
        ("a,b\n1,2,3\n", "3 cells in row 2"),
        (None, "can't be read"),
    ],
)
def test_a_table_that_can_not_be_read_is_refused_with_its_reason(tmp_path: Path, text: str | None, told: str) -> None:
    file = tmp_path / "points.csv"
    if text is not None:
        file.write_text(text, "utf-8")
    with pytest.raises(LineError, match=told):
        read_table(file)
