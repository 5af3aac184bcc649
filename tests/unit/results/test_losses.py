"""The loss bridge, worked out by hand and against a line that is simple enough to follow on paper."""

import numpy as np
import pytest

from linesim.engine.contract.ledger import US, Fate
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace, What
from linesim.engine.simpy import run
from linesim.line import Line, load_line
from linesim.results.measures.losses import loss_bridge, lost_behind, sent_back
from tests.helpers.lines import serial
from tests.helpers.seeds import EXACT
from tests.unit.results.ledgers import departures, ledger, line

BRIDGE = {  # 64 s a part (60 s cycle, 4 s load), two mills, 1000 s; all of it exact in binary
    "gross": 2000 / 64,
    "waiting_repair": 50 / 64,
    "under_repair": 200 / 64,
    "tool_change": 60 / 64,
    "dressing": 86 / 64,
    "blocked": 300 / 64,
    "starved": 600 / 64,
    "speed": (640 + 64) / 64 - 10,
    "scrap": 2,
    "rework": 2,
    "growth": 10 - 2 - 2 - 5,
    "good": 5,
}


def test_every_step_of_the_bridge_is_that_worked_out_by_hand() -> None:
    table = loss_bridge(ledger(), line(), "mill", 64.0)
    found = table.set_index("step")["parts"]
    assert {step: parts for step, parts in found.items() if parts} == BRIDGE
    assert table["parts_per_h"].tolist() == pytest.approx((3.6 * table["parts"]).tolist())


def test_the_bridge_sums_exactly() -> None:
    parts = loss_bridge(ledger(), line(), "mill", 64.0)["parts"].tolist()
    assert parts[0] - sum(parts[1:-1]) == parts[-1] == 5


def test_growth_is_what_really_stands_behind_the_pace_stage_at_the_end() -> None:
    """Cut 10 s, polish 9 s, no buffer, from empty. Up to 95 s cut ends at 10, 20, ... 90 and polish, which waits for
    it, at 19, 29, ... 89. Nine made, eight out, one on the polisher."""
    short = load_line(serial({"cut": 10, "polish": 9}))
    books, _ = run(short, 1, 0, Times(0, 95 * US, 95 * US))
    found = loss_bridge(books, short, "cut", 10.0).set_index("step")["parts"]
    assert found["growth"] == books.inside_end - 1 == 1  # the other one inside is still being cut
    assert (found["gross"], found["speed"], found["good"]) == (9.5, 0.5, 8)


def test_scrap_counts_where_the_part_left_not_whose_fault_it_was() -> None:
    """The mill's defect is found at the gauge behind it, so that the gauge has lost the part too."""
    assert lost_behind(ledger(), line(), "mill", Fate.SCRAPPED) == 2
    assert lost_behind(ledger(), line(), "gauge", Fate.SCRAPPED) == 2


def test_scrap_before_the_stage_is_no_loss_of_it() -> None:
    """A part that a breakdown of the mill scrapped never came to the gauge."""
    cut = ledger(departures=departures([(500, 1, 400, Fate.SCRAPPED, -1, 0, 0, -1, 0)]))
    assert lost_behind(cut, line(), "gauge", Fate.SCRAPPED) == 0
    assert lost_behind(cut, line(), "mill", Fate.SCRAPPED) == 1


def test_rework_counts_only_when_it_goes_through_the_stage_again() -> None:
    assert sent_back(ledger(), line(), "mill") == 2
    to_park = {"gauge": {"cycle": "20 s", "inspection": {"rework": {"to": "park", "at_most": 1}}}}
    around = line(stations={"mill": {"cycle": "60 s", "machines": 2}, **to_park})
    assert sent_back(ledger(), around, "mill") == 0


def test_unplanned_time_is_no_loss() -> None:
    """Off shift for 1000 of 2000 s: gross is what fits into the other half."""
    off = np.zeros(16, dtype=np.int64)
    off[0] = 1000 * US
    table = loss_bridge(ledger(states={**ledger().states, "mill.2": off}), line(), "mill", 64.0)
    parts = table["parts"].tolist()
    assert parts[0] == 1000 / 64
    assert "off_shift" not in table["step"].tolist()
    assert parts[0] - sum(parts[1:-1]) == pytest.approx(parts[-1], abs=1e-12)


@pytest.mark.parametrize("stage", ["cut", "mill", "gauge"])
def test_growth_with_rework_and_scrap_is_what_the_trace_shows(stage: str) -> None:
    """Bad parts go back from the gauge to the mill, once; the second time they are scrapped. Holds for any seed."""
    gauge = {"cycle": "5 s", "inspection": {"rework": {"to": "mill", "at_most": 1}}}
    looped = load_line(
        serial({"cut": 10, "mill": {"cycle": "9 s", "defects": {"size": "40 %"}}, "gauge": gauge}, places=[2, 2])
    )
    books, trace = run(looped, EXACT, 0, Times(60 * US, 200 * US, 200 * US), trace=True)
    assert trace is not None
    found = loss_bridge(books, looped, stage, 10.0).set_index("step")["parts"]
    assert found["growth"] == parts_behind(trace, looped, stage, 200) - parts_behind(trace, looped, stage, 60)
    assert books.stations["reworked"].sum() > 0, "no rework: nothing was put to the test"


def parts_behind(trace: Trace, looped: Line, stage: str, time_s: int) -> int:
    """Parts on the line at a time that were made at the stage and not sent back to it since."""
    behind: set[int] = set()
    for time_us, what, owner, part, value in trace.rows.tolist():
        if time_us >= time_s * US:
            break
        group = trace.owners[owner].group
        if what == What.END and group == stage:
            behind.add(part)
        sent_back_to = trace.owners[value].group if what == What.REWORK else None
        returns = sent_back_to in looped.route and looped.route.index(sent_back_to) <= looped.route.index(stage)
        if returns or what == What.SCRAP or (what == What.ARRIVE and trace.owners[owner].kind == "outfeed"):
            behind.discard(part)
    return len(behind)
