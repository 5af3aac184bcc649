"""How often a gauge with an error of its own rejects good parts and accepts bad ones, against integrals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, stats

import linesim
from linesim.engine.contract.ledger import Ledger
from linesim.results.measures.quality import characteristics
from tests.helpers.agreement import assert_agrees
from tests.helpers.lines import Plain, serial
from tests.helpers.sampling import sample
from tests.helpers.seeds import GAUGES

pytestmark = pytest.mark.statistical


def misread(cp: float, grr: float) -> tuple[float, float]:
    """Shares of parts that are good and read as bad, and bad and read as good, of a centred normal process.

    By integration over the true size in standard deviations; the gauge's own deviation is grr x tolerance / 6, from
    memory: common practice of measurement system analysis.
    """
    limit, error = 3 * cp, grr * cp

    def read_as_good(size: float) -> float:
        return float(stats.norm.cdf((limit - size) / error) - stats.norm.cdf((-limit - size) / error))

    def density(size: float) -> float:
        return math.exp(-size * size / 2) / math.sqrt(2 * math.pi)

    rejects, _ = integrate.quad(lambda size: density(size) * (1 - read_as_good(size)), 0, limit, epsabs=1e-12)
    accepts, _ = integrate.quad(lambda size: density(size) * read_as_good(size), limit, limit + 9, epsabs=1e-12)
    return 2 * rejects, 2 * accepts


def gauged(cp: float, grr: float) -> Plain:
    bore = {"tolerance": f"{6 * cp:.9f} um", "spread": "1 um"}
    inspection = {"measures": {"bore": {"grr": f"{100 * grr:g} %"}}}
    return serial(
        {
            "mill": {"cycle": "1 s", "characteristics": {"bore": bore}},
            "gauge": {"cycle": "1 s", "inspection": inspection},
        }
    )


def test_the_integrals_give_what_is_rejected_in_all() -> None:
    """Read as bad are the truly bad less the accepted plus the falsely rejected: size and error together are normal."""
    for cp, grr in ((2 / 3, 0.3), (1, 0.1), (1, 0.3), (4 / 3, 0.2)):
        rejects, accepts = misread(cp, grr)
        read_as_bad = 2 * stats.norm.sf(3 * cp / math.hypot(1, grr * cp))
        assert 2 * stats.norm.sf(3 * cp) - accepts + rejects == pytest.approx(read_as_bad, rel=1e-6)


@pytest.mark.parametrize(("cp", "grr", "meaningful"), [(2 / 3, 0.3, 0.1), (1, 0.1, 0.3), (1, 0.3, 0.2)])
def test_false_rejects_and_false_accepts_are_as_often_as_the_integrals_say(
    cp: float, grr: float, meaningful: float
) -> None:
    """At Cp 1 and 10 % GRR 431 and 296 ppm, at 30 % 2,012 and 652 ppm."""
    line = linesim.load_line(gauged(cp, grr))

    def counted(ledger: Ledger) -> np.ndarray:
        row = characteristics(ledger, line).iloc[0]
        return np.array([row["false_rejects"], row["false_accepts"], row["out_parts"]]) / row["measured_parts"]

    found = sample(gauged(cp, grr), GAUGES, 20, warmup_s=10, measured_s=50_000, measure=counted)
    for column, expected in enumerate((*misread(cp, grr), 2 * stats.norm.sf(3 * cp))):
        assert_agrees(found[:, column], expected, meaningful_share=meaningful)
