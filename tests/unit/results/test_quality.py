"""Sizes of the hand-written ledger, worked out on paper."""

import math

import pytest

from linesim.results.measures.quality import characteristics
from tests.unit.results.ledgers import SIZES, ledger, line, readings, sizes


def test_share_out_mean_spread_and_capability_are_those_of_the_measured_time() -> None:
    """-2, 1, 2.001, 2 um of +-2 um: one is out. Mean 0.75025; squares of deviations 7.5645, 0.0624, 1.5644, 1.5619."""
    (row,) = characteristics(ledger(), line()).to_dict("records")
    assert (row["station"], row["characteristic"], row["made_parts"], row["out_parts"]) == ("mill", "bore", 4, 1)
    assert row["out_share"] == 0.25
    assert row["mean_um"] == pytest.approx(0.75025)
    assert row["sd_um"] == pytest.approx(math.sqrt(10.7532 / 3), rel=1e-4)
    assert row["cp"] == pytest.approx(4 / (6 * 1.89325), rel=1e-4)
    assert row["cpk"] == pytest.approx((2 - 0.75025) / (3 * 1.89325), rel=1e-4)


def test_the_mean_counts_from_the_middle_of_the_tolerance() -> None:
    bore = {"tolerance": {"low": "-2 um", "high": "4 um"}, "spread": "1 um"}
    mill = {"cycle": "60 s", "machines": 2, "defects": {"size": "5 %"}, "characteristics": {"bore": bore}}
    moved = line(stations={"mill": mill, "gauge": {"cycle": "20 s", "inspection": {}}})
    assert characteristics(ledger(), moved)["mean_um"].item() == pytest.approx(-0.24975)


def test_what_a_gauge_reads_is_held_against_what_the_sizes_are() -> None:
    """Four readings in the measured time: -2 um read as -2.001, 2 um as 2.6, and 2.001 um as 2.000. Two move."""
    (row,) = characteristics(ledger(), line()).to_dict("records")
    assert (row["measured_parts"], row["false_rejects"], row["false_accepts"]) == (4, 2, 1)
    assert row["corrections"] == 2


def test_of_no_sizes_nothing_is_said() -> None:
    (row,) = characteristics(ledger(sizes=sizes(SIZES[:1]), readings=readings([])), line()).to_dict("records")
    assert row["made_parts"] == 0
    assert all(math.isnan(row[key]) for key in ("out_share", "mean_um", "sd_um", "cp", "cpk"))


def test_equal_sizes_have_no_capability() -> None:
    """Nor has a single one."""
    same = [(100, n, 1, 0, 500, 500) for n in (1, 2)]
    for rows in (same, same[:1]):
        (row,) = characteristics(ledger(sizes=sizes(rows), readings=readings([])), line()).to_dict("records")
        assert row["mean_um"] == 0.5
        assert math.isnan(row["cp"])
