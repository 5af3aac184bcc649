"""Gauges worked out by hand: what they read, what they reject, and that readings alone judge a measured size."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, seconds, serial
from tests.helpers.running import play


def mill_and_gauge(size: Plain, inspection: Plain, **mill: Any) -> Plain:
    """A mill that gives every part a bore in 10 s, and a gauge that takes 2 s."""
    bore = {"tolerance": "4 um", "spread": "0 um"} | size
    gauge = {"cycle": seconds(2), "inspection": inspection}
    return serial({"mill": {"cycle": seconds(10), "characteristics": {"bore": bore}, **mill}, "gauge": gauge})


def test_a_gauge_without_error_rejects_just_what_is_out_of_tolerance() -> None:
    """0, 1, 2, 3 um of +-2 um: the limit itself is good. What is measured is not left to `catches`."""
    line = mill_and_gauge({"drift": "1 um/part"}, {"measures": {"bore": {}}, "catches": "0 %"})
    played = play(line, horizon_s=43)
    assert played.rows(What.READ) == [(12, "gauge.1", 1, 0), (22, "gauge.1", 2, 1000), (32, "gauge.1", 3, 2000),
                                      (42, "gauge.1", 4, 3000)]  # fmt: skip
    assert played.departures() == [(12, 1, "good"), (22, 2, "good"), (32, 3, "good"), (42, 4, "scrapped")]
    assert played.ledger.stations.set_index("station")["scrapped"].to_dict() == {"mill": 1, "gauge": 0}


def test_a_good_part_that_is_read_as_bad_is_a_false_alarm_of_the_gauge() -> None:
    """Every size is 1.5 um, half a micrometre within; 6 sd of the gauge are 4 um: it reads above 2 in 22.7 %."""
    size = {"offset": "1.5 um"}
    played = play(mill_and_gauge(size, {"measures": {"bore": {"grr": "100 %"}}}), horizon_s=3000)
    out = np.abs(played.ledger.readings[:, 6]) > 2000
    assert 0 < out.sum() < len(out)
    assert [fate == "scrapped" for *_, fate in played.departures()] == out.tolist()
    stations = played.ledger.stations.set_index("station")
    assert stations["false_alarms"].to_dict() == {"mill": 0, "gauge": out.sum()}
    assert stations["scrapped"].to_dict() == {"mill": 0, "gauge": out.sum()}


def test_a_bad_part_that_is_read_as_good_escapes_with_its_defect_on_record() -> None:
    """Every size is 3 um, a micrometre out; 6 sd of the gauge are 4 um: it reads less than 2 in 6.7 % of all cases."""
    line = mill_and_gauge({"offset": "3 um"}, {"measures": {"bore": {"grr": "100 %"}}})
    played = play(line, horizon_s=3000)
    escaped = played.ledger.departures[played.ledger.departures[:, 3] == 0]
    assert len(escaped) == (np.abs(played.ledger.readings[:, 6]) <= 2000).sum() > 0
    assert (escaped[:, 4] == played.ledger.defects.index(("mill", "bore"))).all()


def test_other_defects_are_caught_as_before() -> None:
    """Every part has a burr, and a bore that is read as good: `catches` finds the burr."""
    burr = {"defects": {"burr": "100 %"}}
    caught = play(mill_and_gauge({}, {"measures": {"bore": {}}}, **burr), horizon_s=23)
    assert [fate for *_, fate in caught.departures()] == ["scrapped", "scrapped"]
    missed = play(mill_and_gauge({}, {"measures": {"bore": {}}, "catches": "0 %"}, **burr), horizon_s=23)
    assert [fate for *_, fate in missed.departures()] == ["good", "good"]


def test_a_size_that_is_not_measured_is_left_to_catches() -> None:
    face = {"tolerance": "4 um", "spread": "0 um", "offset": "3 um"}
    for catches, fate in (("100 %", "scrapped"), ("0 %", "good")):
        line = mill_and_gauge({}, {"measures": {"bore": {}}, "catches": catches})
        line["stations"]["mill"]["characteristics"]["face"] = face
        played = play(line, horizon_s=13)
        assert played.departures() == [(12, 1, fate)]
        assert [name for *_, name in played.rows(What.READ)] == [0]


def test_a_measured_part_goes_back_to_rework_and_is_read_again() -> None:
    """Drift -3 um from 3: sizes 3 (read as bad at 12 s), then 0 (read at 24 s)."""
    size = {"offset": "3 um", "drift": "-3 um/part"}
    played = play(mill_and_gauge(size, {"measures": {"bore": {}}, "rework": {"to": "mill"}}), horizon_s=25)
    assert played.rows(What.READ) == [(12, "gauge.1", 1, 3000), (24, "gauge.1", 1, 0)]
    assert played.departures() == [(24, 1, "good")]


def test_a_station_may_measure_what_it_makes() -> None:
    line = mill_and_gauge({"drift": "1 um/part"}, {})
    line["stations"]["mill"]["inspection"] = {"measures": {"bore": {}}}
    played = play(line, horizon_s=41)
    assert played.rows(What.READ, What.SCRAP)[-2:] == [(40, "mill.1", 4, 3000), (40, "mill.1", 4, 0)]


def test_the_error_is_normal_with_a_sixth_of_grr_of_the_tolerance() -> None:
    """30 % of 20 um / 6 is 1 um. 2,000 readings: mean and deviation within 4 of their standard errors."""
    line = mill_and_gauge({"tolerance": "20 um", "spread": "3 um"}, {"measures": {"bore": {"grr": "30 %"}}})
    readings = play(line, horizon_s=20_003).ledger.readings
    errors_um = (readings[:, 6] - readings[:, 5]) / 1000
    assert len(errors_um) == 2000
    assert errors_um.mean() == pytest.approx(0, abs=4 / np.sqrt(2000))
    assert errors_um.std() == pytest.approx(1, abs=4 / np.sqrt(4000))
    assert abs(np.corrcoef(errors_um, readings[:, 5])[0, 1]) < 4 / np.sqrt(2000)
