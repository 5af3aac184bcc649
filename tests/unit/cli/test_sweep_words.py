"""Words of `linesim sweep` with several values become factors; all others stay as they are."""

import pytest

from linesim.cli.sweep_words import with_factors


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("hours=200", ["hours=200"]),
        ("ring_cell", ["ring_cell"]),
        ("line.stations.grind.cycle=44s", ["line.stations.grind.cycle=44s"]),
        ("line.buffers.park_1.capacity=1,2", ["++factors.buffers.park_1.capacity=[1, 2]"]),
        ("line.buffers.park_1.capacity=range(1,4)", ["++factors.buffers.park_1.capacity=[1, 2, 3]"]),
        ("line.stations.turn.cycle=36 s,40 s", ['++factors.stations.turn.cycle=["36 s", "40 s"]']),
        ("line.x=first,{fixed: [a, 'b c']}", ['++factors.x=["first", {fixed: ["a", "b c"]}]']),
        ("line.x=interval(1,3)", ["++factors.x={low:1,high:3}"]),
        ("change=none,fast_gantry", ["change=none", '++factors.change=["none", "fast_gantry"]']),
        (
            "change=[fast_gantry,gauge_outside],none",
            ["change=[fast_gantry,gauge_outside]", '++factors.change=[["fast_gantry", "gauge_outside"], "none"]'],
        ),
        ("line=my/a.yaml,b.yaml", ["line=my/a.yaml", '++factors.line=["my/a.yaml", "b.yaml"]']),
        ("change=glob(*_gantry)", ["change=fast_gantry", '++factors.change=["fast_gantry"]']),
        ("--cfg", ["--cfg"]),
        ("line.x=[1,", ["line.x=[1,"]),
    ],
)
def test_several_values_become_a_factor(typed: str, words: list[str]) -> None:
    assert with_factors([typed]) == words


def test_several_lines_are_a_factor_with_commas_or_without() -> None:
    assert with_factors(["a.yaml", "seed=1", "b.yaml"]) == with_factors(["a.yaml,b.yaml", "seed=1"])
