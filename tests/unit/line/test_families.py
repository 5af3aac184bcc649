"""Families take mean and cv or their usual parameters, and nothing that belongs to another family."""

from pathlib import Path

import pytest

from linesim.line.distributions import Constant, Empirical, Exponential, Gamma, Lognormal, Uniform, Weibull
from linesim.line.families import FAMILIES, read_family


def read(given, folder="."):
    """The law of a map and the notes made on the way."""
    notes = []
    law = read_family(given, Path(folder), lambda *note: notes.append((*note, "", None)[:5]))
    return law, notes


@pytest.mark.parametrize("cv", [0.1, 0.2, 0.5])
@pytest.mark.parametrize("family", [family for family, forms in FAMILIES.items() if ("mean", "cv") in forms])
def test_mean_and_cv_come_back_from_every_family_that_takes_them(family, cv):
    if (family, cv) == ("normal", 0.5):
        cv = 0.25
    if (family, cv) == ("triangular", 0.5):
        cv = 0.4
    law, notes = read({"family": family, "mean": "2 min", "cv": cv})
    assert notes == []
    assert law.mean == pytest.approx(120, rel=1e-4)
    assert law.sd == pytest.approx(120 * cv, rel=2e-3)


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"family": "constant", "value": "5 s"}, Constant(5)),
        ({"family": "exponential", "mean": "2 min"}, Exponential(120)),
        ({"family": "gamma", "shape": 4, "scale": "3 s"}, Gamma(4, 3)),
        ({"family": "gamma", "shape": 4, "mean": "12 s"}, Gamma(4, 3)),
        ({"family": "erlang", "stages": 3, "mean": "12 s"}, Gamma(3, 4)),
        ({"family": "erlang", "mean": "12 s", "cv": 0.577}, Gamma(3, 4)),
        ({"family": "weibull", "shape": 1, "mean": "12 s"}, Weibull(1, 12)),
        ({"family": "weibull", "shape": 2, "scale": "12 s"}, Weibull(2, 12)),
        ({"family": "lognormal", "median": "12 s", "sigma": 0.5}, Lognormal(12, 0.5)),
        ({"family": "uniform", "low": "1 s", "high": "2 s"}, Uniform(1, 2)),
        ({"family": "empirical", "values": ["1 s", "2 min"]}, Empirical((1, 120))),
    ],
)
def test_the_usual_parameters_of_a_family_make_it(given, expected):
    assert read(given) == (expected, [])


def test_a_weibull_with_cv_1_is_exponential():
    law, _ = read({"family": "weibull", "mean": "12 s", "cv": 1})
    assert law.shape == pytest.approx(1)


@pytest.mark.parametrize(
    ("given", "key", "words"),
    [
        ({"mean": "3 s"}, "family", "is missing"),
        ({"family": "gama", "mean": "3 s"}, "family", "must be constant, exponential"),
        (
            {"family": "lognormal", "mean": "3 s", "cv": 1, "shape": 2},
            "shape",
            "lognormal takes mean and cv, or median",
        ),
        ({"family": "exponential", "mean": "3 s", "cv": 1}, "cv", "exponential takes mean"),
        (
            {"family": "gamma", "mean": "3 s"},
            None,
            "gamma takes mean and cv, or shape and mean, or shape and scale, not",
        ),
        ({"family": "gamma", "mean": "3 s", "cv": 1, "shape": 2}, None, "not mean, cv and shape"),
        ({"family": "uniform"}, None, "uniform takes low and high, or mean and cv, and nothing is given"),
        ({"family": "gamma", "mean": 3, "cv": 1}, "mean", "must be a time with its unit"),
        ({"family": "gamma", "mean": "3 s", "cv": "1 s"}, "cv", "must be a bare number, without a unit"),
        ({"family": "gamma", "mean": "3 s", "cv": 0}, None, "cv must be above zero"),
        ({"family": "erlang", "mean": "3 s", "cv": 0.6}, None, "an Erlang has a cv of"),
        ({"family": "erlang", "mean": "3 s", "stages": 1.5}, "stages", "must be a whole number"),
        ({"family": "normal", "mean": "20 s", "sd": "5.1 s"}, None, "a normal needs a mean of at least 4 sd"),
        ({"family": "normal", "mean": "20 s", "cv": 0.3}, None, "a normal needs a mean of at least 4 sd"),
        ({"family": "triangular", "low": "3 s", "mode": "2 s", "high": "4 s"}, None, "low <= mode <= high"),
        ({"family": "uniform", "low": "3 s", "high": "3 s"}, None, "low < high"),
        ({"family": "uniform", "mean": "3 s", "cv": 0.9}, None, "would reach below zero"),
        ({"family": "empirical", "values": []}, "values", "must be a list of times"),
        ({"family": "empirical", "values": [20, 30]}, None, "20 must be a time with its unit"),
        ({"family": "lognormal", "median": "3 s", "sigma": 1e6}, None, "too large or too small"),
        ({"family": ["gamma"], "mean": "3 s", "cv": 1}, "family", "must be constant"),
        ({"family": "constant", "value": "-1 s"}, None, "must not be below zero"),
    ],
)
def test_what_a_family_can_not_be_is_noted_with_its_key(given, key, words):
    law, notes = read(given)
    assert law is None
    assert [note[0] for note in notes] == [key]
    assert words in notes[0][2]


def test_a_normal_at_exactly_four_sd_is_allowed():
    _, notes = read({"family": "normal", "mean": "20 s", "sd": "5 s"})
    assert notes == []


def test_recorded_values_come_from_a_csv_column_with_its_unit(tmp_path):
    (tmp_path / "repairs.csv").write_text("cause,minutes\njam,12\njam,\nhard,180\n", encoding="utf-8")
    law, notes = read({"family": "empirical", "file": "repairs.csv", "column": "minutes", "unit": "min"}, tmp_path)
    assert (law, notes) == (Empirical((720, 10800)), [])


def test_a_csv_cell_may_carry_its_own_unit(tmp_path):
    (tmp_path / "repairs.csv").write_text("lasted\n12 min\n3 h\n", encoding="utf-8")
    law, _ = read({"family": "empirical", "file": "repairs.csv", "column": "lasted"}, tmp_path)
    assert law == Empirical((720, 10800))


def test_a_csv_file_may_have_semicolons_decimal_commas_and_windows_line_ends(tmp_path):
    (tmp_path / "repairs.csv").write_bytes("cause;minutes\r\njam;12,5\r\nhard;180\r\n".encode("utf-8-sig"))
    law, _ = read({"family": "empirical", "file": "repairs.csv", "column": "minutes", "unit": "min"}, tmp_path)
    assert law == Empirical((750, 10800))


@pytest.mark.parametrize(
    ("given", "words", "fix"),
    [
        ({"file": "none.csv", "column": "minutes"}, "can't read", "paths begin at the folder of the line file"),
        ({"file": "empty.csv", "column": "minutes"}, "empty.csv has no column minutes", "it is empty"),
        (
            {"file": "repairs.csv", "column": "cause", "unit": "min"},
            "jam must be a time",
            "correct it in the file",
        ),
        (
            {"file": "repairs.csv", "column": "hours"},
            "repairs.csv has no column hours",
            "its columns are cause and minutes",
        ),
        (
            {"file": "repairs.csv", "column": "minutes"},
            "12 must be a time",
            "give the unit of the column, such as unit: min",
        ),
    ],
)
def test_an_unusable_csv_column_is_noted(tmp_path, given, words, fix):
    (tmp_path / "repairs.csv").write_text("cause,minutes\njam,12\n", encoding="utf-8")
    (tmp_path / "empty.csv").touch()
    law, notes = read({"family": "empirical", **given}, tmp_path)
    assert law is None
    assert words in notes[0][2]
    assert notes[0][3] == fix
