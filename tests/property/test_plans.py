"""What must hold of the drawing of any legal line, with and without sizes of its places."""

from __future__ import annotations

import copy
import itertools

import yaml
from hypothesis import given, note, settings
from hypothesis import strategies as st

import linesim
from linesim.engine.contract.layout import lay_out
from linesim.report.boxes import Box
from linesim.report.plan import WIDTH, plan_of
from tests.helpers.lines import Plain
from tests.helpers.random_lines import lines

PLACES = (
    "machine",
    "buffer",
    "infeed",
    "outfeed",
    "chute",
    "drawer",
)  # an end that a route does not have is an owner without a name
ROOMS = ("infeed", "stations", "buffers", "outfeed", "drawers")
LENGTHS_M = st.sampled_from([0.3, 0.6, 1.0, 2.4, 7.0])
SIDES = st.sampled_from(["front", "rear", None])


@st.composite
def sized_lines(draw: st.DrawFn) -> tuple[Plain, Plain]:
    """A random line, and the same with a size for each place and a side for some."""
    bare = draw(lines())
    sized = copy.deepcopy(bare)
    for room in ROOMS:
        for name, place in sized.get(room, {}).items():
            size = [f"{draw(LENGTHS_M)} m", f"{draw(LENGTHS_M)} m"]
            side = draw(SIDES)
            sized[room][name] = {**(place or {}), "size": size, **({"side": side} if side else {})}
    return bare, sized


def overlap(one: Box, other: Box) -> bool:
    """More than a hundredth of a unit, so that boxes may touch."""
    apart_x, apart_y = abs(one.x - other.x), abs(one.y - other.y)
    return min((one.width + other.width) / 2 - apart_x, (one.height + other.height) / 2 - apart_y) > 0.011


@settings(max_examples=100)
@given(sized_lines())
def test_every_place_has_its_box_and_none_lies_on_another(both: tuple[Plain, Plain]) -> None:
    bare, sized = both
    note(yaml.safe_dump(sized, sort_keys=False, default_flow_style=None, width=120))
    for plain in both:
        line = linesim.load_line(plain)
        plan = plan_of(line)
        owners = {owner.name for owner in lay_out(line).owners if owner.kind in PLACES and owner.name}
        assert {box.name for box in plan.boxes if not box.again} == owners
        assert [(a.name, b.name) for a, b in itertools.combinations(plan.boxes, 2) if overlap(a, b)] == []
        assert all(box.x - box.width / 2 >= 0 and box.x + box.width / 2 <= WIDTH for box in plan.boxes)
        assert all(box.y - box.height / 2 >= 0 and box.y + box.height / 2 <= plan.height for box in plan.boxes)
    scale = plan_of(linesim.load_line(sized)).bar
    assert scale is not None
    assert plan_of(linesim.load_line(bare)).bar is None


@settings(max_examples=50)
@given(sized_lines())
def test_sizes_and_sides_change_nothing_that_the_engines_run_on(both: tuple[Plain, Plain]) -> None:
    one, other = (lay_out(linesim.load_line(plain)) for plain in both)
    assert one.floor == other.floor
    assert one.streams == other.streams
