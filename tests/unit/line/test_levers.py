"""Each lever makes one thing better and leaves all else as it is."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from linesim.line import load_line
from linesim.line.distributions import (
    Constant,
    Distribution,
    Empirical,
    Exponential,
    Gamma,
    Lognormal,
    Normal,
    Triangular,
    Uniform,
    Weibull,
    scaled,
)
from linesim.line.levers import Lever, levers
from linesim.line.part_types import ByPart

MILL_STOP = {"at": ["3 m", "4 m"], "exchange": "20 s"}
LINE = load_line(
    {
        "route": ["stock", "turn", "mill", "tray"],
        "infeed": {"stock": {}},
        "outfeed": {"tray": {}},
        "stations": {
            "turn": {"cycle": "60 s", "breakdowns": {"jam": {"mtbf": "1 h", "mttr": "10 min", "crew": "technician"}}},
            "mill": {"cycle": "80 s", "machines": {"old": {"cycle": "100 s"}, "new": {}}},
        },
        "loaders": {
            "gantry": {
                "stops": {
                    "stock": "0 m",
                    "turn": "2 m",
                    "mill": {"at": ["3 m", "4 m"], "exchange": "20 s"},
                    "tray": "6 m",
                },
                "speed": "2 m/s",
                "acceleration": "2 m/s2",
                "pick": "3 s",
                "place": "4 s",
                "exchange": "10 s",
            }
        },
        "crews": {"technician": {"people": 1}},
    }
)


def lever(name: str) -> Lever:
    return next(each for each in levers(LINE) if each.name == name)


def test_a_line_has_a_lever_for_all_that_can_be_bought() -> None:
    assert [each.name for each in levers(LINE)] == [
        "turn.cycle",
        "turn.mttr",
        "mill.cycle",
        "gantry.speed",
        "gantry.handling",
        "technician.people",
    ]


def test_a_shorter_cycle_holds_for_unequal_machines_too() -> None:
    changed = lever("mill.cycle").improved(0.1)
    mill = changed.stations["mill"]
    assert mill.cycle.mean == pytest.approx(72)
    assert [each.cycle.mean for each in mill.unequal.values()] == pytest.approx([90, 72])
    assert replace(changed, stations=LINE.stations) == LINE


def test_repairs_speed_handling_and_people_are_made_better() -> None:
    assert lever("turn.mttr").improved(0.1).stations["turn"].breakdowns["jam"].mttr.mean == pytest.approx(540)
    assert lever("gantry.speed").improved(0.1).loaders["gantry"].speed == pytest.approx(2.2)
    gantry = lever("gantry.handling").improved(0.1).loaders["gantry"]
    assert (gantry.pick, gantry.place, gantry.exchange, gantry.load) == pytest.approx((2.7, 3.6, 9, None))
    assert gantry.stops["mill"].exchange == pytest.approx(18)
    assert lever("technician.people").improved(0.1).crews["technician"].people == 2


def test_one_more_person_comes_in_every_shift() -> None:
    shifts = {name: {"from": start, "to": end, "days": "mon to fri"} for name, start, end in SHIFTS}
    jam = {"mtbf": "1 h", "mttr": "9 min", "crew": "fitter"}
    given: dict[str, Any] = {
        "route": ["turn"],
        "stations": {"turn": {"cycle": "60 s", "breakdowns": {"jam": jam}}},
        "shifts": shifts,
        "crews": {"fitter": {"people": {"day": 2, "night": 1}}},
    }
    more = next(each for each in levers(load_line(given)) if each.name == "fitter.people").improved(0.1)
    assert more.crews["fitter"].people == {"day": 3, "night": 2}


SHIFTS = [("day", "6:00", "14:00"), ("night", "22:00", "6:00")]


@pytest.mark.parametrize(
    "law",
    [
        Constant(5),
        Exponential(5),
        Gamma(2, 5),
        Weibull(2, 5),
        Lognormal(5, 0.5),
        Normal(5, 1),
        Triangular(1, 2, 6),
        Uniform(1, 6),
        Empirical((1, 2, 9)),
    ],
)
def test_a_scaled_law_turns_the_same_luck_into_durations_so_many_times_as_long(law: Distribution) -> None:
    other = scaled(law, 0.9)
    assert (other.mean, other.sd) == pytest.approx((0.9 * law.mean, 0.9 * law.sd))
    drawn = [each.draw(np.random.default_rng(1), 50) for each in (law, other)]
    assert drawn[1] == pytest.approx(0.9 * drawn[0])


def test_a_cycle_by_part_type_is_shorter_for_every_type() -> None:
    short = scaled(ByPart({"a": Constant(50), "b": Exponential(80)}, {"a": 0.5, "b": 0.5}), 0.9)
    assert isinstance(short, ByPart)
    assert [law.mean for law in short.laws.values()] == pytest.approx([45, 72])
    assert short.mean == pytest.approx(58.5)
