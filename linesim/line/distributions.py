"""Random durations [s]: every one knows its mean and standard deviation and draws the same numbers however cut up.

How a line file names them, by mean and cv or by a family's usual parameters, is in families.py.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, Protocol

import numpy as np


class Distribution(Protocol):
    """What a duration must offer: `mean` and `sd` [s], and draws [s] that don't depend on how they are cut up."""

    @property
    def mean(self) -> float: ...

    @property
    def sd(self) -> float: ...

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray: ...


TIMES = ("value", "laws")  # fields of laws that hold times, beside those that end in _s


@dataclass(frozen=True)
class Constant:
    """Always the same value [s]."""

    value: float

    @property
    def mean(self) -> float:
        return self.value

    @property
    def sd(self) -> float:
        return 0.0

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return np.full(size, self.value)


@dataclass(frozen=True)
class Exponential:
    """Memoryless, by its mean [s]."""

    mean_s: float

    @property
    def mean(self) -> float:
        return self.mean_s

    @property
    def sd(self) -> float:
        return self.mean_s

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return generator.exponential(self.mean_s, size)


@dataclass(frozen=True)
class Gamma:
    """Gamma by shape and scale [s]; with a whole shape it is an Erlang, the sum of so many exponential stages."""

    shape: float
    scale_s: float

    @property
    def mean(self) -> float:
        return self.shape * self.scale_s

    @property
    def sd(self) -> float:
        return math.sqrt(self.shape) * self.scale_s

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return generator.gamma(self.shape, self.scale_s, size)


@dataclass(frozen=True)
class Weibull:
    """Weibull by shape and scale [s]."""

    shape: float
    scale_s: float

    @property
    def mean(self) -> float:
        return self.scale_s * math.gamma(1 + 1 / self.shape)

    @property
    def sd(self) -> float:
        return self.mean * weibull_cv(self.shape)

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return self.scale_s * generator.weibull(self.shape, size)


def weibull_cv(shape: float) -> float:
    """Coefficient of variation of a Weibull; falls steadily with its shape."""
    return math.sqrt(math.expm1(math.lgamma(1 + 2 / shape) - 2 * math.lgamma(1 + 1 / shape)))


@dataclass(frozen=True)
class Lognormal:
    """Lognormal by its median [s] and the standard deviation of its logarithm."""

    median_s: float
    sigma: float

    @property
    def mean(self) -> float:
        return self.median_s * math.exp(self.sigma**2 / 2)

    @property
    def sd(self) -> float:
        return self.mean * math.sqrt(math.expm1(self.sigma**2))

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return generator.lognormal(math.log(self.median_s), self.sigma, size)


@dataclass(frozen=True)
class Normal:
    """Normal around a centre with a spread [s], drawn again below zero; `mean` and `sd` are those of what is left."""

    centre_s: float
    spread_s: float

    @property
    def mean(self) -> float:
        return self.centre_s + self.spread_s * self._tail

    @property
    def sd(self) -> float:
        edge = self.centre_s / self.spread_s
        return self.spread_s * math.sqrt(1 - edge * self._tail - self._tail**2)

    @property
    def _tail(self) -> float:
        """Density over probability kept at zero, for a standard normal cut there."""
        edge = self.centre_s / self.spread_s
        density = math.exp(-(edge**2) / 2) / math.sqrt(2 * math.pi)
        return density / ((1 + math.erf(edge / math.sqrt(2))) / 2)

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        kept = np.empty(0)
        while len(kept) < size:  # just the missing number: so the stream never runs ahead of what was handed out
            drawn = generator.normal(self.centre_s, self.spread_s, size - len(kept))
            kept = np.concatenate([kept, drawn[drawn >= 0]])
        return kept


@dataclass(frozen=True)
class Triangular:
    """Triangular between low and high with its peak at mode [s]."""

    low_s: float
    mode_s: float
    high_s: float

    @property
    def mean(self) -> float:
        return (self.low_s + self.mode_s + self.high_s) / 3

    @property
    def sd(self) -> float:
        low, mode, high = self.low_s, self.mode_s, self.high_s
        return math.sqrt((low**2 + mode**2 + high**2 - low * mode - low * high - mode * high) / 18)

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return generator.triangular(self.low_s, self.mode_s, self.high_s, size)


@dataclass(frozen=True)
class Uniform:
    """Uniform between low and high [s]."""

    low_s: float
    high_s: float

    @property
    def mean(self) -> float:
        return (self.low_s + self.high_s) / 2

    @property
    def sd(self) -> float:
        return (self.high_s - self.low_s) / math.sqrt(12)

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return generator.uniform(self.low_s, self.high_s, size)


@dataclass(frozen=True)
class Empirical:
    """One of the recorded values [s], each as likely as the others."""

    values_s: tuple[float, ...]

    @property
    def mean(self) -> float:
        return float(np.mean(self.values_s))

    @property
    def sd(self) -> float:
        return float(np.std(self.values_s))

    def draw(self, generator: np.random.Generator, size: int) -> np.ndarray:
        return np.asarray(self.values_s)[generator.integers(len(self.values_s), size=size)]


def scaled(law: Distribution, factor: float) -> Distribution:
    """The same law with every duration so many times as long; it turns the same random numbers into them."""
    given = {each.name: getattr(law, each.name) for each in fields(law)}  # type: ignore[arg-type] # all are dataclasses
    times = {name: _times(value, factor) for name, value in given.items() if name in TIMES or name.endswith("_s")}
    found: Distribution = replace(law, **times)  # type: ignore[type-var]
    return found


def _times(given: Any, factor: float) -> Any:
    """A time, or several of them, or a law for each part type."""
    if isinstance(given, Mapping):
        return {name: scaled(law, factor) for name, law in given.items()}
    return tuple(value * factor for value in given) if isinstance(given, tuple) else given * factor
