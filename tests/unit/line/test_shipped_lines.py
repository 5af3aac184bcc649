"""Shipped lines and changes can be used as they are, and hold what their comments say."""

import pytest

from linesim.line import known_names, load_line, summary
from linesim.line.capacity import capacity_sheet, lost_share
from linesim.line.sources import PACKAGE_HEADER, conf_dir
from tests.unit.line.lines import problems

MADE_FOR = {
    "buffers_430": ["twenty_stations"],
    "fast_gantry": ["ring_cell"],
    "fourth_grinder": ["ring_divided"],
    "gauge_outside": ["ring_cell"],
    "hand_loaded_gauge": ["ring_cell"],
    "large_buffers": ["ring_cell", "ring_divided"],
    "long_links": ["ring_divided"],
    "one_gripper": ["ring_cell"],
    "ground_sizes": ["ring_divided"],
    "one_technician": ["ring_divided"],
    "rejects_by_loader": ["ring_cell"],
    "second_grinder": ["ring_cell"],
    "short_links": ["ring_divided"],
    "slow_gantries": ["ring_divided"],
    "small_buffers": ["ring_cell", "ring_divided"],
    "three_shifts": ["ring_cell"],
    "two_rings": ["ring_cell"],
    "wearing_wheel": ["ring_cell"],
}


@pytest.mark.parametrize("name", ["ring_cell", "ring_divided", "two_machines", "twenty_stations"])
def test_every_shipped_line_is_sound_and_can_be_summed_up(name):
    line = load_line(name)
    text = summary(line)
    assert all(place in text for place in line.route)
    assert max(map(len, text.splitlines())) <= 120
    assert capacity_sheet(line).warnings == ()


def test_every_shipped_change_is_known_to_this_test():
    shipped = {file.stem for file in (conf_dir() / "change").glob("*.yaml")} - {"none"}
    assert shipped == set(MADE_FOR)
    assert shipped <= set(known_names("change"))


@pytest.mark.parametrize("change", MADE_FOR)
def test_every_shipped_change_fits_its_lines_and_changes_them(change):
    first = (conf_dir() / "change" / f"{change}.yaml").read_text(encoding="utf-8").splitlines()[0]
    assert first == PACKAGE_HEADER
    for name in MADE_FOR[change]:
        assert problems(name, change=change) == []
        assert load_line(name, change=change) != load_line(name)


def test_changes_for_the_ring_cell_can_be_combined():
    line = load_line("ring_cell", change=["fast_gantry", "gauge_outside", "second_grinder"])
    assert (line.loaders["gantry"].speed, line.stations["grind"].machines) == (3.5, 2)
    assert {"gauge", "tray"}.isdisjoint(line.loaders["gantry"].stops)


def test_the_long_line_has_no_places_by_itself_and_430_with_its_change():
    plain, buffered = load_line("twenty_stations"), load_line("twenty_stations", change="buffers_430")
    assert sum(buffer.capacity for buffer in plain.buffers.values()) == 0
    assert sum(buffer.capacity for buffer in buffered.buffers.values()) == 430


def test_the_ring_cell_holds_the_planned_values():
    line = load_line("ring_cell")
    assert [line.stations[name].cycle.mean for name in ("turn", "drill", "harden", "grind", "finish", "gauge")] == [
        88, 74, 46, 82, 38, 22,
    ]  # fmt: skip
    assert sum(station.price for station in line.stations.values()) == 2_120_000
    assert line.crews["technician"].response.mean == 300


def test_the_wearing_wheel_rejects_as_many_as_the_ring_cell_without_it():
    plain, wearing = load_line("ring_cell"), load_line("ring_cell", change="wearing_wheel")
    assert lost_share(wearing, "grind") == pytest.approx(lost_share(plain, "grind"), abs=0.0005)
