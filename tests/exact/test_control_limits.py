"""Feedback through parts in between: the standing offset, and how much gain a delay allows; in both engines.

A machine's parts are set to s(n+1) = s(n) + d - g s(n-k): drift d a part, gain g, and k parts of that machine between
it and the gauge. In the long run s = d / g; it settles only for g < 2 sin(pi / (2 (2 k + 1))), the gain at which a root
of z^(k+1) - z^k + g has modulus 1: 2.000, 0.445 and 0.185 for k = 0, 3, 8. From memory, control with dead time; the
roots are found again below.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

import linesim
from linesim.engine import compiled, simpy
from linesim.engine.contract.ledger import US
from linesim.engine.contract.times import Times
from tests.helpers.lines import Plain, seconds, serial
from tests.helpers.seeds import EXACT

CYCLE_S = 10
DELAYS = (0, 3, 8)


def limit(delay: int) -> float:
    return 2 * math.sin(math.pi / (2 * (2 * delay + 1)))


def fed_back(delay: int, gain: float, mills: int = 1, **size: str) -> Plain:
    """Mills that are read themselves (delay 0), or behind a buffer whose dwell holds so many parts of each of them."""
    bore = {"tolerance": "1 mm", "spread": "0 um"} | size
    measures = {"inspection": {"measures": {"bore": {"feedback": {"gain": gain}}}}}
    mill: Plain = {"cycle": seconds(CYCLE_S), "characteristics": {"bore": bore}, "machines": mills}
    if delay == 0:
        return serial({"mill": mill | measures})
    line = serial({"mill": mill, "gauge": {"cycle": "1 s", **measures}}, [mills * (delay + 1)])
    line["buffers"]["park_1"]["dwell"] = seconds(CYCLE_S * delay - mills)  # the last is read just in time
    return line


def sizes_um(plain: Plain, engine: str, parts: int) -> np.ndarray:
    """The sizes that the first mill makes."""
    run = simpy.run if engine == "simpy" else compiled.run
    horizon_us = round((CYCLE_S * parts + 1) * US)
    ledger, _ = run(linesim.load_line(plain), EXACT, 0, Times(0, horizon_us, horizon_us))
    first = ledger.sizes[ledger.sizes[:, 2] == ledger.sizes[0, 2]]
    assert len(first) == parts
    sizes: np.ndarray = first[:, 4] / 1000
    return sizes


@pytest.mark.parametrize(("delay", "printed"), [(0, 2.0), (3, 0.445), (8, 0.185)])
def test_at_the_limit_a_root_stands_on_the_unit_circle(delay: int, printed: float) -> None:
    def largest(gain: float) -> float:
        return float(np.abs(np.roots([1.0, -1.0, *[0.0] * (delay - 1), gain] if delay else [1.0, gain - 1])).max())

    assert limit(delay) == pytest.approx(printed, abs=5e-4)
    assert largest(0.999 * limit(delay)) < 1 < largest(1.001 * limit(delay))


@pytest.mark.parametrize("engine", ["simpy", "compiled"])
@pytest.mark.parametrize("delay", DELAYS)
def test_a_gain_just_below_the_limit_settles_and_one_just_above_grows(delay: int, engine: str) -> None:
    for factor, grows in ((0.95, False), (1.05, True)):
        sizes = np.abs(sizes_um(fed_back(delay, factor * limit(delay), offset="10 um"), engine, parts=400))
        assert (sizes[340:].max() > 1.5 * sizes[20:60].max()) == grows
        assert grows or sizes[340:].max() < 0.6 * sizes[20:60].max()


@pytest.mark.parametrize("engine", ["simpy", "compiled"])
@pytest.mark.parametrize(("delay", "gain"), [(0, 0.1), (3, 0.1), (3, 0.3), (8, 0.05)])
def test_a_steady_drift_leaves_a_standing_offset_of_drift_over_gain(delay: int, gain: float, engine: str) -> None:
    sizes = sizes_um(fed_back(delay, gain, drift="0.02 um/part"), engine, parts=400)
    assert sizes[300:] == pytest.approx(0.02 / gain, abs=2e-3)


def test_of_parallel_machines_only_their_own_parts_between_count() -> None:
    """Two mills with three parts of each in between: the limit is 0.445, not the 0.241 of six parts."""
    assert 0.95 * limit(3) > 1.5 * limit(6)
    for factor, grows in ((0.95, False), (1.05, True)):
        sizes = np.abs(sizes_um(fed_back(3, factor * limit(3), mills=2, offset="10 um"), "simpy", parts=400))
        assert (sizes[340:].max() > 1.5 * sizes[20:60].max()) == grows
