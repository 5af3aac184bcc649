"""Named random streams: a name fixes its numbers, and nothing else shifts them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

import linesim
from linesim.engine.contract.layout import Stream, lay_out
from linesim.engine.contract.streams import Draws, draw_chances, draw_durations, generator, start_age
from linesim.line.distributions import Constant, Exponential
from tests.helpers.lines import exponential, serial


def first(seed: int = 1, replication: int = 0, owner: str = "turn.1", purpose: str = "cycle") -> list[int]:
    return generator(seed, replication, owner, purpose).integers(0, 10**9, 5).tolist()


def test_the_same_name_gives_the_same_numbers() -> None:
    assert first() == first()


@pytest.mark.parametrize(
    "other", [{"seed": 2}, {"replication": 1}, {"owner": "turn.2"}, {"purpose": "defects"}, {"owner": "turn.1cycle"}]
)
def test_any_other_part_of_the_name_gives_other_numbers(other: dict[str, Any]) -> None:
    assert set(first()).isdisjoint(first(**other))


def test_seed_and_replication_are_not_interchangeable() -> None:
    assert first(seed=1, replication=2) != first(seed=2, replication=1)


@pytest.mark.parametrize("distribution", [Exponential(40.0), Constant(3.0), None])
def test_the_numbers_do_not_depend_on_the_size_of_the_blocks(distribution: Any) -> None:
    stream = Stream("turn.1", "cycle", distribution)
    one, seven, many = ([draws.next() for _ in range(50)] for draws in (Draws(stream, 1, 0, n) for n in (1, 7, 256)))
    assert one == seven == many


def test_a_duration_is_rounded_to_the_nearest_microsecond_half_up() -> None:
    for given_s, rounded_us in ((2.4e-6, 2), (2.5e-6, 3), (2.6e-6, 3), (38.0, 38_000_000)):
        assert draw_durations(Constant(given_s), np.random.default_rng(0), 2).tolist() == [rounded_us] * 2


def test_chances_are_whole_numbers_below_a_billion() -> None:
    drawn = draw_chances(np.random.default_rng(0), 10_000)
    assert drawn.dtype == np.int64
    assert 0 <= drawn.min() < 10**6 < 10**9 - 10**6 < drawn.max() < 10**9


def numbers(line: Mapping[str, Any]) -> dict[tuple[str, str], list[int]]:
    """The first numbers of every stream of a line, by owner and purpose."""
    streams = lay_out(linesim.load_line(line)).streams
    drawn = {}
    for stream in streams:
        draws = Draws(stream, 5, 3, 4)
        drawn[stream.owner, stream.purpose] = [draws.next() for _ in range(4)]
    assert len(drawn) == len(streams)  # no two streams share a name
    return drawn


def station(**keys: Any) -> dict[str, Any]:
    jam = {"mtbf": "9 h", "mttr": "12 min", "crew": "fitter"}
    defects = {"chip": "1 %"}
    return {"cycle": exponential(40), "breakdowns": {"jam": jam}, "defects": defects, "inspection": {}} | keys


CREW = {"fitter": {"response": exponential(300)}}


@pytest.mark.parametrize(
    "larger",
    [
        serial({"saw": station(), "turn": station(), "grind": station()}, crews=CREW),
        serial({"turn": station(), "grind": station()}, [3], crews=CREW),
        serial({"turn": station(), "grind": station(machines=2)}, crews=CREW),
        serial(
            {"turn": station(tool_change={"tip": {"every": "9 parts", "takes": "9 s"}}), "grind": station()}, crews=CREW
        ),
    ],
    ids=["a station in front", "a buffer between", "a second machine", "a tool change"],
)
def test_what_is_added_shifts_nobody_s_numbers(larger: dict[str, Any]) -> None:
    before = numbers(serial({"turn": station(), "grind": station()}, crews=CREW))
    after = numbers(larger)
    assert len(before) == 2 * 6  # a station: cycle, interval, repair, response, defects, inspection
    assert {name: after[name] for name in before} == before


def test_a_start_age_is_as_given_or_drawn_below_the_whole_interval() -> None:
    tools = {
        "given": {"every": "9 parts", "takes": "9 s", "age": "4 parts"},
        "drawn": {"every": "9 parts", "takes": "9 s"},
    }
    given, drawn = lay_out(linesim.load_line(serial({"turn": {"cycle": "5 s", "tool_change": tools}}))).stoppages
    assert {start_age(given, 9, seed, 0) for seed in range(5)} == {4}
    assert {start_age(drawn, 9, seed, 0) for seed in range(100)} == set(range(9))
