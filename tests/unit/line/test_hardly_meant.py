"""What a line may be, but is hardly meant to be, is said by `check`."""

import pytest

from linesim.line import load_line, summary
from linesim.line.hardly_meant import hardly_meant
from tests.unit.line.lines import cell

BATCH = "stations.grind.batch={size: 6}"


@pytest.mark.parametrize(
    ("overrides", "said"),
    [
        ([BATCH], "before it there is no buffer"),
        ([BATCH, "buffers.park.capacity=6"], ""),
        (["stations.turn.batch={size: 6}"], "behind it there is no buffer"),
        (["stations.grind.batch={size: 2}"], ""),
        ([BATCH, "route=[blanks, turn, grind, park, tray]"], "before and behind it there is no buffer"),
    ],
)
def test_a_batch_for_which_its_neighbours_have_no_room_is_told(overrides, said):
    found = [*hardly_meant(load_line(cell(), overrides))]
    assert [text.partition("but ")[2][: len(said)] for text in found] == [said] * bool(said)


@pytest.mark.parametrize(("gain", "count"), [(1.9, 0), (2, 1), (3, 1)])
def test_a_gain_that_swings_up_without_any_delay_is_told(gain, count):
    sizes = "stations.turn.characteristics.bore={tolerance: 9 um, spread: 1 um}"
    gauge = f"stations.turn.inspection.measures.bore.feedback.gain={gain}"
    line = load_line(cell(), [sizes, gauge])
    assert len([*hardly_meant(line)]) == count
    assert ("swing up" in summary(line)) == bool(count)
