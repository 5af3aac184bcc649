"""A small sweep to do harm to: points of a line without loaders, an hour or so each. Invented data."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from linesim.results.sweep import Sweep
from linesim.study.sweeps.sweep import sweep

FACTORS = {"buffers.park.capacity": [1, 2, 3, 4], "stations.m1.cycle": ["50 s", "60 s"]}
LINE: dict[str, Any] = {
    "name": "two in a row",
    "route": ["m1", "park", "m2"],
    "stations": {
        "m1": {"cycle": "60 s", "breakdowns": {"jam": {"mtbf": "30 min", "mttr": "5 min"}}},
        "m2": {"cycle": {"family": "exponential", "mean": "50 s"}},
    },
    "buffers": {"park": {"capacity": 2}},
}
STUCK: dict[str, Any] = {  # a loader that keeps to a round in which nothing can ever be ready
    "name": "stuck",
    "route": ["in", "a", "b", "out"],
    "infeed": {"in": {}},
    "outfeed": {"out": {}},
    "stations": {"a": {"cycle": "10 s"}, "b": {"cycle": "10 s"}},
    "loaders": {
        "gantry": {
            "stops": {"in": "0 m", "a": "1 m", "b": "2 m", "out": "3 m"},
            "grippers": 1,
            "speed": "1 m/s",
            "acceleration": "1 m/s2",
            "pick": "1 s",
            "place": "1 s",
            "load": "1 s",
            "unload": "1 s",
            "next_call": {"fixed": ["a", "b"]},
        }
    },
}

Swept = Callable[..., Sweep]


@pytest.fixture
def swept(tmp_path: Path) -> Swept:
    """Runs the sweep in a folder of `tmp_path`; whatever is given goes before what is usual."""

    def run(folder: str = "sweep", **settings: Any) -> Sweep:
        usual = {"line": LINE, "factors": FACTORS, "hours": 2, "warmup_hours": 1, "replications": 3, "seed": 11}
        return sweep(**{**usual, "engine": "simpy", "plots": False, "folder": tmp_path / folder, **settings})

    return run
