"""Families of random durations as a line file names them: `{family: lognormal, mean: 12 min, cv: 1}`.

FAMILIES is the table: for each family, the sets of parameters that fix it and what they make.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from linesim.line import distributions as laws
from linesim.line.csv_cells import read_cells
from linesim.line.distributions import Distribution
from linesim.line.problems import listed, nearest, shown
from linesim.line.units import LARGEST, BadValue, parse

# What each parameter is. `values`, `file`, `column` and `unit` belong to empirical durations and are read there.
PARAMETERS = dict.fromkeys(("value", "mean", "sd", "scale", "median", "low", "mode", "high"), "duration")
PARAMETERS |= {"cv": "number", "shape": "number", "sigma": "number", "stages": "count"}


def _gamma(mean: float, cv: float) -> Distribution:
    _positive(mean=mean, cv=cv)
    return laws.Gamma(1 / cv**2, mean * cv**2)


def _gamma_shape_mean(shape: float, mean: float) -> Distribution:
    _positive(shape=shape, mean=mean)
    return laws.Gamma(shape, mean / shape)


def _gamma_shape_scale(shape: float, scale: float) -> Distribution:
    _positive(shape=shape, scale=scale)
    return laws.Gamma(shape, scale)


def _erlang(stages: int, mean: float) -> Distribution:
    _positive(stages=stages, mean=mean)
    return laws.Gamma(stages, mean / stages)


def _erlang_cv(mean: float, cv: float) -> Distribution:
    _positive(mean=mean, cv=cv)
    stages = round(1 / cv**2)
    if stages < 1 or abs(1 / math.sqrt(stages) - cv) > 5e-3 * cv:
        raise BadValue("an Erlang has a cv of 1/sqrt(whole number): 1, 0.707, 0.577, 0.5, ...", "use gamma for any cv")
    return laws.Gamma(stages, mean / stages)


def _weibull(mean: float, cv: float) -> Distribution:
    _positive(mean=mean, cv=cv)
    low, high = 0.05, 1e3
    if not laws.weibull_cv(high) <= cv <= laws.weibull_cv(low):
        raise BadValue("no usable Weibull has this cv", "keep it between 0.002 and 100, or take another family")
    for _ in range(100):  # the cv falls with the shape, so halving finds it
        middle = math.sqrt(low * high)
        low, high = (middle, high) if laws.weibull_cv(middle) > cv else (low, middle)
    return _weibull_shape_mean(low, mean)


def _weibull_shape_mean(shape: float, mean: float) -> Distribution:
    _positive(shape=shape, mean=mean)
    return laws.Weibull(shape, mean / math.gamma(1 + 1 / shape))


def _weibull_shape_scale(shape: float, scale: float) -> Distribution:
    _positive(shape=shape, scale=scale)
    return laws.Weibull(shape, scale)


def _lognormal(mean: float, cv: float) -> Distribution:
    _positive(mean=mean, cv=cv)
    return laws.Lognormal(mean / math.sqrt(1 + cv**2), math.sqrt(math.log1p(cv**2)))


def _lognormal_median(median: float, sigma: float) -> Distribution:
    _positive(median=median, sigma=sigma)
    return laws.Lognormal(median, sigma)


def _normal(mean: float, sd: float) -> Distribution:
    _positive(mean=mean, sd=sd)
    if mean < 4 * sd * (1 - 1e-12):
        raise BadValue("a normal needs a mean of at least 4 sd", "use gamma or lognormal for such a spread")
    return laws.Normal(mean, sd)


def _triangular(low: float, mode: float, high: float) -> Distribution:
    if not 0 <= low <= mode <= high or low == high:
        raise BadValue("a triangular needs 0 <= low <= mode <= high, and low below high", "put them in order")
    return laws.Triangular(low, mode, high)


def _uniform(low: float, high: float) -> Distribution:
    if not 0 <= low < high:
        raise BadValue("a uniform needs 0 <= low < high", "put them in order")
    return laws.Uniform(low, high)


def _symmetric(make: Callable[[float, float], Distribution], reach_in_sd: float) -> Callable[..., Distribution]:
    """A law around its mean that reaches so many standard deviations to both sides."""

    def by_mean_and_cv(mean: float, cv: float) -> Distribution:
        _positive(mean=mean, cv=cv)
        reach = mean * cv * reach_in_sd
        if reach > mean:
            raise BadValue(
                "would reach below zero", f"keep cv at most {1 / reach_in_sd:.3f}, or take gamma or lognormal"
            )
        return make(mean - reach, mean + reach)

    return by_mean_and_cv


def _constant(value: float) -> Distribution:
    if value < 0:
        raise BadValue("must not be below zero")
    return laws.Constant(value)


def _exponential(mean: float) -> Distribution:
    _positive(mean=mean)
    return laws.Exponential(mean)


FAMILIES: dict[str, dict[tuple[str, ...], Callable[..., Distribution]]] = {
    "constant": {("value",): _constant},
    "exponential": {("mean",): _exponential},
    "gamma": {("mean", "cv"): _gamma, ("shape", "mean"): _gamma_shape_mean, ("shape", "scale"): _gamma_shape_scale},
    "erlang": {("stages", "mean"): _erlang, ("mean", "cv"): _erlang_cv},
    "weibull": {
        ("mean", "cv"): _weibull,
        ("shape", "mean"): _weibull_shape_mean,
        ("shape", "scale"): _weibull_shape_scale,
    },
    "lognormal": {("mean", "cv"): _lognormal, ("median", "sigma"): _lognormal_median},
    "normal": {("mean", "cv"): lambda mean, cv: _normal(mean, mean * cv), ("mean", "sd"): _normal},
    "triangular": {
        ("low", "mode", "high"): _triangular,
        ("mean", "cv"): _symmetric(lambda low, high: _triangular(low, (low + high) / 2, high), math.sqrt(6)),
    },
    "uniform": {("low", "high"): _uniform, ("mean", "cv"): _symmetric(_uniform, math.sqrt(3))},
    "empirical": {
        ("values",): lambda values: _empirical(values),
        ("file", "column"): lambda file, column: _empirical(_column(file, column)),
        ("file", "column", "unit"): lambda file, column, unit: _empirical(_column(file, column), unit),
    },
}

Note = Callable[..., None]  # note(key inside the map, value, rule, fix, suggestion)


def read_family(given: Mapping[str, Any], folder: Path, note: Note, quantity: str = "duration") -> Distribution | None:
    """The distribution that a map describes, or None after noting all that is wrong with it.

    given: family and parameters; folder: where a relative CSV `file` lies; quantity: the kind that is random.
    """
    family = given.get("family")
    if family is None:
        note("family", None, "is missing", f"write family: {listed(FAMILIES, 'or')}")
        return None
    if not isinstance(family, str) or family not in FAMILIES:
        note("family", family, f"must be {listed(FAMILIES, 'or')}", "", nearest(family, FAMILIES))
        return None
    forms = FAMILIES[family]
    takes = f"{family} takes {', or '.join(listed(form) for form in forms)}"
    known = {name for form in forms for name in form}
    foreign = [name for name in given if name != "family" and name not in known]
    for name in foreign:
        note(name, given[name], f"is no parameter of this family: {takes}", "remove it, or set it to null")
    names = set(given) - {"family"} - set(foreign)
    parameters = {name: _parameter(name, given[name], folder, note, quantity) for name in given if name in names}
    form = next((form for form in forms if set(form) == names), None)
    if form is None and not foreign:
        got = f"not {listed(name for name in given if name in names)}" if names else "and nothing is given"
        note(None, given, f"{takes}, {got}", "give one of these sets; null takes a parameter away")
    if form is None or any(value is None for value in parameters.values()):
        return None
    try:
        made = forms[form](**parameters)
        if not (math.isfinite(made.sd) and made.mean < LARGEST):
            raise ArithmeticError
    except BadValue as bad:
        note(None, given, bad.rule, bad.fix)
        return None
    except ArithmeticError:
        note(None, given, "these values are too large or too small to reckon with", "check them")
        return None
    return None if foreign else made


def _parameter(name: str, given: Any, folder: Path, note: Note, quantity: str) -> Any:
    try:
        if name in PARAMETERS:
            return parse(quantity if PARAMETERS[name] == "duration" else PARAMETERS[name], given)
        if name == "file":
            return folder / str(given)
        if name == "values" and not (isinstance(given, (list, tuple)) and given):
            raise BadValue("must be a list of times", "write [20 min, 31 min]")
        return (
            [f"{parse(quantity, value)} s" for value in given] if name == "values" and quantity != "duration" else given
        )
    except BadValue as bad:
        note(name, given, bad.rule, bad.fix)
        return None


def _empirical(values: Any, unit: str = "") -> Distribution:
    seconds = []
    for value in values:
        try:
            seconds.append(parse("duration", f"{value} {unit}" if unit else value))
        except BadValue as bad:
            fix = bad.fix if not isinstance(values, _Column) else "correct it in the file" if unit else _UNIT
            raise BadValue(f"{shown(value)} {bad.rule}", fix) from None
    if not seconds or min(seconds) < 0:
        raise BadValue("needs at least one value, and none below zero")
    return laws.Empirical(tuple(seconds))


_UNIT = "give the unit of the column, such as unit: min"


class _Column(list[str]):
    """Cells of a CSV column, whose unit may stand beside them."""


def _column(file: Path, column: str) -> _Column:
    """The cells of a column that are not empty. With `;` between the columns a comma is a decimal point."""
    try:
        names, *rows = read_cells(file) or [[]]
    except OSError as error:
        raise BadValue(f"can't read {file}: {error.strerror}", "paths begin at the folder of the line file") from None
    except (UnicodeDecodeError, csv.Error) as error:
        raise BadValue(f"can't read {file}: {error}", "save it as CSV in UTF-8") from None
    if column not in names:
        has = f"its columns are {listed(names)}" if names else "it is empty"
        raise BadValue(f"{file.name} has no column {column}", has)
    at = names.index(column)
    return _Column(row[at] for row in rows if at < len(row) and row[at])


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not value > 0:
            raise BadValue(f"{name} must be above zero")
