"""What improvements and assumptions are worth, on lines worked out by hand."""

from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import linesim
from linesim.line import LineError
from linesim.results import Sensitivity
from linesim.results.plots.sensitivity import SENSITIVITIES

SLOW: dict[str, Any] = {
    "name": "two in a row",
    "route": ["turn", "mill"],
    "stations": {"turn": {"cycle": "600 s"}, "mill": {"cycle": "300 s"}},
    "assumptions": {
        "stations.turn.cycle": {"range": ["500 s", "800 s"]},
        "stations.mill.cycle": {"range": ["200 s", "400 s"]},
    },
}
HOW: dict[str, Any] = {"hours": 100, "warmup_hours": 1, "seed": 1, "engine": "simpy"}


@pytest.fixture(name="found", scope="module")
def _found() -> Sensitivity:
    return linesim.sensitivity(SLOW, replications=2, **HOW)


def test_only_the_slower_of_two_machines_is_worth_anything(found: Sensitivity) -> None:
    """600 s: 6 parts/h. 540 s: 600 / 90 = 6.667, so 0.0667 for each of ten percent."""
    worth = found.worth().set_index("lever")
    assert list(worth.index) == ["turn.cycle", "mill.cycle"]
    assert worth.loc["turn.cycle", "mean"] == pytest.approx(0.0667, abs=0.001)
    assert worth.loc["mill.cycle", "mean"] == 0
    assert worth["shown"].tolist() == ["more", "no difference shown"]
    assert found.output().mean == pytest.approx(6.0)


def test_assumptions_move_the_output_at_the_ends_of_their_ranges_the_widest_first(found: Sensitivity) -> None:
    """500 s: 7.2 parts/h, 1.2 more; 800 s: 4.5, 1.5 less; the mill always keeps up."""
    told = [(row["assumption"], row["at"], round(row["mean"], 2)) for row in found.tornado().to_dict("records")]
    assert told == [
        ("stations.turn.cycle", "500 s", 1.2),
        ("stations.turn.cycle", "800 s", -1.5),
        ("stations.mill.cycle", "200 s", 0.0),
        ("stations.mill.cycle", "400 s", 0.0),
    ]


def test_what_is_told_names_the_step_and_each_by_itself(found: Sensitivity) -> None:
    told = found.text_summary()
    assert "for 1 % (by a step of 10 %) or a person" in told
    assert "turn: shorter cycle  1 %  +0.0" in told
    assert "stations.turn.cycle  500 s  +1.2" in told


def test_a_study_is_saved_and_opened_again(found: Sensitivity, tmp_path: Path) -> None:
    found.save(tmp_path)
    again = linesim.open_results(tmp_path)
    assert isinstance(again, Sensitivity)
    pd.testing.assert_frame_equal(again.worth(), found.worth())
    assert again.text_summary() == found.text_summary()
    assert {file.stem for file in (tmp_path / "plots").iterdir()} == set(SENSITIVITIES)


def test_a_line_without_ranges_has_no_tornado() -> None:
    bare = {key: value for key, value in SLOW.items() if key != "assumptions"}
    found = linesim.sensitivity(bare, replications=2, **{**HOW, "hours": 2})
    assert found.tornado().empty
    assert SENSITIVITIES["tornado"](found) is None
    assert "assumptions" not in found.text_summary().partition("Estimates")[0]


def test_intervals_hold_together() -> None:
    """Two statements: each at 97.5 %. With two replications the t-quantile is 25.45 instead of 12.71."""
    rows = [("base", "", "", n, 10.0) for n in (1, 2)]
    rows += [("lever", name, "10 %", n, value) for name in "ab" for n, value in ((1, 20.0), (2, 22.0))]
    about = {"step_percent": 10.0, "units": {"a": "1 %", "b": "1 %"}, "words": {"a": "a", "b": "b"}}
    table = pd.DataFrame(rows, columns=["kind", "name", "at", "replication", "throughput_per_h"])
    (first, _) = Sensitivity(table, about).worth().to_dict("records")
    assert first["mean"] == pytest.approx(1.1)
    assert first["high"] - first["mean"] == pytest.approx(25.4517 * 1 / 10, rel=1e-4)


@pytest.mark.parametrize("step", [0, 100, -5, "10 %"])
def test_a_step_must_leave_something(step: Any) -> None:
    with pytest.raises(LineError, match="percent above 0 and below 100"):
        linesim.sensitivity(SLOW, step_percent=step, **HOW)
