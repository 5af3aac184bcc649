"""The drawing of a line: everything has its place, nothing lies on another, and rails are to scale."""

import itertools

import pytest

from linesim.line import Line, load_line
from linesim.line.machines import each_machine
from linesim.report.draw_plan import scale_words
from linesim.report.plan import MARGIN, MOST_TO_SCALE, WIDTH, Box, plan_of
from tests.unit.line.lines import cell as plain_cell
from tests.unit.results.ledgers import line

SHIPPED: list[tuple[str, str | None]] = [
    (name, None) for name in ("ring_cell", "ring_divided", "twenty_stations", "two_machines")
]
SHIPPED += [("ring_cell", change) for change in ("second_grinder", "gauge_outside")]
SHIPPED += [("ring_divided", change) for change in ("fourth_grinder", "long_links")]
TO_SCALE = [shipped for shipped in SHIPPED if "ring" in shipped[0]]


def overlap(one: Box, other: Box) -> bool:
    apart_x, apart_y = abs(one.x - other.x), abs(one.y - other.y)
    return apart_x < (one.width + other.width) / 2 and apart_y < (one.height + other.height) / 2


@pytest.mark.parametrize(("name", "change"), SHIPPED)
def test_every_place_of_a_shipped_line_has_a_box_and_no_two_lie_on_each_other(name: str, change: str | None) -> None:
    shown = load_line(name, change=change)
    plan = plan_of(shown)
    machines = [machine for station in shown.stations for machine in each_machine(station, shown.stations[station])]
    buffers = [buffer for buffer in shown.buffers if shown.buffers[buffer].capacity > 0]
    wanted = [*machines, *buffers, *shown.infeed, *shown.outfeed]
    assert sorted(box.name for box in plan.boxes if not box.again) == sorted(wanted)
    assert [(a.name, b.name) for a, b in itertools.combinations(plan.boxes, 2) if overlap(a, b)] == []
    assert all(box.x - box.width / 2 >= MARGIN / 2 and box.x + box.width / 2 <= WIDTH for box in plan.boxes)
    assert all(box.y - box.height / 2 >= 0 and box.y + box.height / 2 <= plan.height for box in plan.boxes)


def test_chutes_and_drawers_hang_on_their_rail() -> None:
    boxes = plan_of(load_line("ring_cell", change="rejects_by_loader")).boxes
    assert {box.name: box.kind for box in boxes if box.name in ("chute", "drawer")} == {
        "chute": "chute",
        "drawer": "drawer",
    }
    assert [(a.name, b.name) for a, b in itertools.combinations(boxes, 2) if overlap(a, b)] == []


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


ROOMS = {"blanks": "infeed", "turn": "stations", "park": "buffers", "grind": "stations", "tray": "outfeed"}
SIZES_M = {"blanks": "[1 m, 1 m]", "turn": "[2 m, 2 m]", "park": "[1 m, 1 m]", "grind": "[1 m, 1 m]"}
STOPS = ["turn=[2 m, 6 m]", "grind=8 m", "tray=10 m"]  # and blanks at 0 m, park at 4 m


def measured(*overrides: str, **sizes: str) -> Line:
    """A cell of three machines, each place with a size."""
    known = {**SIZES_M, "tray": "[1 m, 1 m]", **sizes}
    words = [f"{ROOMS[place]}.{place}.size={size}" for place, size in known.items()]
    words += [f"loaders.gantry.stops.{stop}" for stop in STOPS]
    return load_line(plain_cell(), ["stations.turn.machines=2", *words, *overrides])


def test_where_all_places_have_a_size_all_lengths_have_one_scale() -> None:
    """From -0.5 m to 10.5 m, and half a carriage at either end: 942 units for 11 m, more than the largest scale."""
    plan = plan_of(measured())
    (rail,) = plan.rails
    assert plan.bar is not None
    assert plan.bar.length / plan.bar.metres == pytest.approx(rail.per_m)
    assert rail.per_m == MOST_TO_SCALE
    for box in plan.boxes:
        metres = 2 if "turn" in box.name else 1
        assert (box.width / rail.per_m, box.height / rail.per_m) == pytest.approx((metres, metres))
    at = {box.name: (box.x - rail.at(0)) / rail.per_m for box in plan.boxes}
    assert at == pytest.approx({"blanks": 0, "turn.1": 2, "turn.2": 6, "park": 4, "grind.1": 8, "tray": 10})
    assert plan.further_out == []


def test_a_long_rail_sets_the_scale() -> None:
    """28.5 m with half a place of 1 m, 1 m and 942 units across."""
    plan = plan_of(measured("loaders.gantry.stops.tray=27.5 m"))
    assert plan.rails[0].per_m == pytest.approx((1000 - 2 * 14 - 2 * 15) / 28.5)
    assert max(box.x + box.width / 2 for box in plan.boxes) <= WIDTH - MARGIN


def test_one_place_without_a_size_leaves_a_diagram() -> None:
    plan = plan_of(measured("buffers.park.size=null"))
    assert plan.bar is None
    assert "Not to scale" in scale_words(plan)
    assert scale_words(plan_of(measured())).startswith("To scale")


def test_places_stand_on_the_side_that_the_file_names() -> None:
    plan = plan_of(measured("stations.turn.side=[rear, front]", "buffers.park.side=front"))
    (rail,) = plan.rails
    below = {box.name: box.y > rail.y for box in plan.boxes}
    sides = {"turn.1": False, "turn.2": True, "park": True, "grind.1": True, "blanks": False, "tray": False}
    assert below == sides


def test_what_finds_no_room_at_its_stop_stands_further_out_and_is_told() -> None:
    """The lathes stand 4 m apart; with a width of 5 m they overlap."""
    wide = measured("stations.turn.side=front", turn="[5 m, 2 m]")
    plan = plan_of(wide)
    assert plan.further_out == ["turn.2"]
    assert scale_words(plan).endswith("No room at its stop, drawn further out: turn.2.")
    assert [(a.name, b.name) for a, b in itertools.combinations(plan.boxes, 2) if overlap(a, b)] == []
    assert plan_of(measured("stations.turn.side=front", turn="[4 m, 2 m]")).further_out == []  # they touch


@pytest.mark.parametrize(("name", "change"), TO_SCALE)
def test_shipped_lines_to_scale_need_no_place_further_out(name: str, change: str | None) -> None:
    plan = plan_of(load_line(name, change=change))
    assert plan.bar is not None
    assert plan.further_out == []


@pytest.mark.parametrize(
    ("size", "beyond", "turned"),
    [
        ("[0.5 m, 1 m]", 0, False),  # 30 units are enough for four letters of 6.8
        ("[0.4 m, 1 m]", -1, True),  # 24 are not
        ("[2 m, 0.5 m]", -1, False),  # 30 units of height are too few for name and count
    ],
)
def test_a_name_that_does_not_fit_its_box_stands_outside_in_whole(size: str, beyond: int, turned: bool) -> None:
    """The park stands at the rear, above the rail, at 60 units a metre."""
    (park,) = (box for box in plan_of(measured(park=size)).boxes if box.name == "park")
    assert (park.label, park.beyond, park.turned) == ("park", beyond, turned)


def test_a_way_past_places_runs_below_them() -> None:
    """Two mills, a park, a gauge and a tray in a row; small parts go from the mills to the gauge, below the park."""
    parts = {"small": {"share": "50 %", "skips": "park"}, "large": {"share": "50 %"}}
    plan = plan_of(line(parts=parts))
    assert len(plan.ways) == 5
    (past,) = (points for points in plan.ways if len(points) == 4)
    mills, park, gauge = ([box for box in plan.boxes if box.place == name] for name in ("mill", "park", "gauge"))
    assert (past[0][0], past[-1][0]) == (mills[0].x, gauge[0].x)
    assert past[1][1] == past[2][1] > max(box.y + box.height / 2 for box in [*mills, *park, *gauge])
    assert past[1][1] <= plan.height
