"""The drawing of a line: everything has its place, nothing lies on another, and rails are to scale."""

import itertools

import pytest

from linesim.line import Line, load_line
from linesim.line.machines import each_machine
from linesim.report.plan import MARGIN, WIDTH, Box, plan_of
from tests.unit.results.ledgers import line

SHIPPED = ["ring_cell", "ring_divided", "twenty_stations", "two_machines"]


def overlap(one: Box, other: Box) -> bool:
    apart_x, apart_y = abs(one.x - other.x), abs(one.y - other.y)
    return apart_x < (one.width + other.width) / 2 and apart_y < (one.height + other.height) / 2


@pytest.mark.parametrize("name", SHIPPED)
def test_every_place_of_a_shipped_line_has_a_box_and_no_two_lie_on_each_other(name: str) -> None:
    shown = load_line(name)
    plan = plan_of(shown)
    machines = [machine for station in shown.stations for machine in each_machine(station, shown.stations[station])]
    buffers = [buffer for buffer in shown.buffers if shown.buffers[buffer].capacity > 0]
    wanted = [*machines, *buffers, *shown.infeed, *shown.outfeed]
    assert sorted(box.name for box in plan.boxes if not box.again) == sorted(wanted)
    assert [(a.name, b.name) for a, b in itertools.combinations(plan.boxes, 2) if overlap(a, b)] == []
    assert all(box.x - box.width / 2 >= MARGIN / 2 and box.x + box.width / 2 <= WIDTH for box in plan.boxes)
    assert all(box.y - box.height / 2 >= 0 and box.y + box.height / 2 <= plan.height for box in plan.boxes)


def cell(stops: dict[str, object]) -> Line:
    return line(
        loaders={
            "gantry": {
                "stops": {"stocker": "0 m", **stops, "tray": "8 m"},
                "speed": "2 m/s",
                "acceleration": "2 m/s2",
                "pick": "2 s",
                "place": "2 s",
                "exchange": "4 s",
                "grippers": 2,
            }
        }
    )


def test_stops_stand_where_the_rail_has_them() -> None:
    plan = plan_of(cell({"mill": ["1 m", "3 m"], "park": "4 m", "gauge": "6 m"}))
    (rail,) = plan.rails
    at = {box.name: (box.x - rail.at(0)) / rail.per_m for box in plan.boxes}
    assert at == pytest.approx({"stocker": 0, "mill.1": 1, "mill.2": 3, "park": 4, "gauge.1": 6, "tray": 8})
    assert all((box.y > rail.y) == (box.kind == "machine") for box in plan.boxes)


def test_stops_at_one_position_hang_in_lanes_of_their_own() -> None:
    boxes = plan_of(cell({"mill": ["3 m", "3 m"], "park": "3 m", "gauge": "3 m"})).boxes
    assert [(a.name, b.name) for a, b in itertools.combinations(boxes, 2) if overlap(a, b)] == []


def test_places_that_no_loader_joins_have_a_way_between_them() -> None:
    assert plan_of(cell({"mill": ["1 m", "3 m"], "park": "4 m", "gauge": "6 m"})).ways == []
    assert len(plan_of(line()).ways) == 4


def test_a_long_name_is_cut_with_a_sign_of_it() -> None:
    long = "a_very_long_name_of_a_buffer"
    plan = plan_of(line(route=["stocker", "mill", long, "gauge", "tray"], buffers={long: {"capacity": 2}}))
    (box,) = (box for box in plan.boxes if box.kind == "buffer")
    assert box.name == long
    assert box.label.endswith("…")
    assert long.startswith(box.label[:-1])
