"""The points of a sweep: which line each is, and what is refused before anything runs."""

from pathlib import Path

import pandas as pd
import pytest

from linesim.line import LineError
from linesim.study.sweeps.plan import first_unlike
from linesim.study.sweeps.points import line_of
from linesim.study.sweeps.request import points_asked


def test_every_choice_of_line_and_change_gets_the_design_of_the_other_factors() -> None:
    asked = points_asked("ring_cell", factors={"change": ["none", "second_grinder"], "buffers.park_1.capacity": [1, 4]})
    demand = {"demand_per_h": 85_000 / 3_480}  # of the demo line, whatever its changes
    assert [*asked.rows()] == [
        {"point": 1, "change": "none", "park_1.capacity": "1", "investment": asked.investments[0], **demand},
        {"point": 2, "change": "none", "park_1.capacity": "4", "investment": asked.investments[1], **demand},
        {"point": 3, "change": "second_grinder", "park_1.capacity": "1", "investment": asked.investments[2], **demand},
        {"point": 4, "change": "second_grinder", "park_1.capacity": "4", "investment": asked.investments[3], **demand},
    ]
    lines = [line_of(asked, point) for point in asked.points]
    assert [line.buffers["park_1"].capacity for line in lines] == [1, 4, 1, 4]
    grinders = [line.stations["grind"].machines for line in lines]
    assert grinders[0] == grinders[1] != grinders[2] == grinders[3]
    assert asked.investments[2] > asked.investments[0]  # type: ignore[operator]


def test_what_differs_first_from_the_points_of_a_folder_is_told() -> None:
    def points(*levels: int, key: str = "park") -> pd.DataFrame:
        return pd.DataFrame({"point": range(1, len(levels) + 1), key: [str(level) for level in levels]})

    assert first_unlike(points(6, 12), points(6, 12)) == ""
    assert first_unlike(points(6).assign(investment=None), points(6).assign(investment=None)) == ""
    assert first_unlike(points(6, 24), points(6, 12)) == "park of point 2 was 12, and is 24"
    assert first_unlike(points(6), points(6, 12)) == "there were 2"
    assert "had the columns point and park, and have point and table" in first_unlike(points(6, key="table"), points(6))


def test_a_factor_of_one_line_only_is_left_out_of_the_others() -> None:
    asked = points_asked(
        "ring_cell",
        factors={"line": ["ring_cell", "ring_divided"]},
        only={"ring_divided": {"buffers.link_1.capacity": [4, 10]}},
    )
    told = [(row["line"], row["link_1.capacity"]) for row in asked.rows()]
    assert told == [("ring_cell", ""), ("ring_divided", "4"), ("ring_divided", "10")]


def test_overrides_hold_at_every_point_and_a_table_chooses_changes_row_by_row(tmp_path: Path) -> None:
    table = tmp_path / "points.csv"
    table.write_text("change,buffers.park_1.capacity\nnone,1\nfast_gantry,2\nnone,3\n", "utf-8")
    asked = points_asked("ring_cell", ["buffers.park_2.capacity=7"], table=table)
    lines = [line_of(asked, point) for point in asked.points]
    assert [line.buffers["park_1"].capacity for line in lines] == [1, 3, 2], "rows of one line stand together"
    assert {line.buffers["park_2"].capacity for line in lines} == {7}


def test_all_bad_points_are_told_together_each_problem_once() -> None:
    with pytest.raises(LineError) as caught:
        points_asked(
            "ring_cell",
            factors={"buffers.park_1.capacity": [1, -2], "stations.grind.cycle": ["40 s", "40 m", "50 m"]},
        )
    text = str(caught.value)
    assert "3 problems in the points of the sweep" in text
    assert "buffers.park_1.capacity = -2" in text
    assert "(3 of 6 points)" in text
    assert "stations.grind.cycle = 40 m" in text
    assert "stations.grind.cycle = 50 m" in text
    assert "(2 of 6 points)" in text
