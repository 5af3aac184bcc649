"""The audit and the comparison of means notice what they are there to notice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from linesim.engine.contract.ledger import Ledger, MachineState
from linesim.engine.contract.trace import Trace, What
from linesim.line import load_line
from tests.helpers.agreement import assert_agrees, assert_between, steadied
from tests.helpers.books import check_books
from tests.helpers.lines import breakdown, loader, seconds, serial
from tests.helpers.running import Play, play


@cache
def sound() -> Play:
    """Loader, buffer with dwell, breakdowns, crew, tool change, sizes, scrap, strokes, part types: all a bit."""
    stations = {
        "turn": {
            "cycle": "5 s",
            "call_ahead": "2 s",
            "tool_change": {"insert": {"every": "2 parts", "takes": "7 s", "crew": "fitter"}},
            "characteristics": {
                "bore": {"tolerance": "1.8 um", "spread": "1 um", "drift": "1 um/part", "after": {"insert": "0.1 um"}}
            },
        },
        "grind": {
            "cycle": {"small": "6 s", "large": "7 s"},
            "breakdowns": {"jam": breakdown(7, 12, crew="fitter")},
            "inspection": {
                "false_alarms": "30 %",
                "measures": {"bore": {"grr": "20 %", "feedback": {"gain": 0.4, "only_new": True}}},
            },
            "changeover": {"takes": {"small": {"large": "2 s"}}, "crew": "fitter"},
        },
        "straighten": {
            "cycle": "1 s",
            "strokes": {"number": {1: "80 %", 3: "20 %"}, "takes": "1 s", "at_most": 2},
            "chute": "chute",
            "by_hand": {"crew": "packer", "load": "1 s", "unload": "1 s", "exchange": "2 s"},
            "samples": {"to": "drawer", "every": "1 part"},
        },
    }
    line = serial(stations, [2, 0], crews={"fitter": {"people": 1}, "packer": {"response": "1 s"}})
    line["buffers"]["park_1"]["dwell"] = seconds(3)
    line["infeed"]["stocker"] = {"capacity": 4, "refill": {"at": "1 part", "takes": "9 s", "crew": "fitter"}}
    line["parts"] = {"small": {}, "large": {}}
    line["orders"] = [{"part": "small", "size": 2}, {"part": "large", "size": 1}]
    carriages = {"left": {"stops": ["stocker", "turn"]}, "right": {"stops": ["turn", "park_1"]}}
    gantry = loader({"stocker": 0, "turn": 2, "park_1": 4}, carriages=carriages, apart="1 m")
    line["loaders"] = {"gantry": gantry, "crane": loader({"straighten": 0, "chute": 1, "drawer": 2})}
    line["drawers"] = {"drawer": {"capacity": 1, "emptied": {"at": "1 part", "takes": "40 s"}}}
    return play(line, horizon_s=200, warmup_s=20)


def in_ledger(**fields: Callable[[Ledger], object]) -> Callable[[Play], tuple[Ledger, Trace]]:
    def tampered(good: Play) -> tuple[Ledger, Trace]:
        changed: dict[str, Any] = {name: make(good.ledger) for name, make in fields.items()}
        return replace(good.ledger, **changed), good.trace

    return tampered


def in_rows(change: Callable[[np.ndarray], np.ndarray]) -> Callable[[Play], tuple[Ledger, Trace]]:
    return lambda good: (good.ledger, replace(good.trace, rows=change(good.trace.rows.copy())))


def moved(array: np.ndarray, source: int, target: int) -> np.ndarray:
    """The same histogram with a microsecond booked elsewhere."""
    changed = array.copy()
    changed[source] -= 1
    changed[target] += 1
    return changed


def without_first(kind: What) -> Callable[[np.ndarray], np.ndarray]:
    return lambda rows: np.delete(rows, np.flatnonzero(rows[:, 1] == kind)[0], axis=0)


def without_a_changeover(good: Play) -> tuple[Ledger, Trace]:
    rows, kinds = good.trace.rows, [kind for _, kind, _ in good.trace.stoppages]
    over = (rows[:, 1] == What.STOP_OVER) & (rows[:, 4] == kinds.index("changeover"))
    return good.ledger, replace(good.trace, rows=np.delete(rows, np.flatnonzero(over)[0], axis=0))


def without_state_at_work(rows: np.ndarray) -> np.ndarray:
    """Without the last row that says that a machine works."""
    at_work = (rows[:, 1] == What.STATE) & (rows[:, 4] == MachineState.WORKING)
    return np.delete(rows, np.flatnonzero(at_work)[-1], axis=0)


def one_more(count: str, of: str) -> Callable[[Ledger], object]:
    return lambda ledger: tuple(row._replace(**{count: getattr(row, count) + 1}) for row in getattr(ledger, of))


def _earlier_call(rows: np.ndarray) -> np.ndarray:
    """The first call ahead comes in the instant of the row before it."""
    at = np.flatnonzero(rows[:, 1] == What.CALL)[0]
    rows[at, 0] = rows[at - 1, 0]
    return rows


def _other_setting(ledger: Ledger) -> np.ndarray:
    """The last size was made with a setting a nanometre higher."""
    changed = ledger.sizes.copy()
    changed[-1, 5] += 1
    return changed


def _read_as_bad(rows: np.ndarray) -> np.ndarray:
    """A part that passes was read as 9 um. (The ledger is told the same.)"""
    passed = (rows[:-1, 1] == What.READ) & (rows[1:, 1] != What.SCRAP)
    rows[np.flatnonzero(passed)[0], 4] = 9000
    return rows


def _scrapped_elsewhere(ledger: Ledger) -> np.ndarray:
    """What became scrap at the straightener did so at the grinder."""
    changed = ledger.departures.copy()
    changed[changed[:, 8] == 2, 8] = 1
    return changed


def _set_aside_for_another_place(rows: np.ndarray) -> np.ndarray:
    """Scrap for the drawer, samples for the carriage."""
    rows[rows[:, 1] == What.SET_ASIDE, 4] += 1
    return rows


def _no_defect(rows: np.ndarray) -> np.ndarray:
    """No operation makes a defect."""
    rows[rows[:, 1] == What.END, 4] = -1
    return rows


TAMPERINGS = {
    "a microsecond of WIP in another bin": in_ledger(wip=lambda ledger: moved(ledger.wip, 1, 2)),
    "a microsecond of a level elsewhere": in_ledger(levels=lambda it: {"park_1": moved(it.levels["park_1"], 0, 1)}),
    "a microsecond of a state elsewhere": in_ledger(
        states=lambda it: {
            **it.states,
            "turn.1": moved(it.states["turn.1"], MachineState.WORKING, MachineState.STARVED),
        }
    ),
    "a part too many entered": in_ledger(entered=lambda it: it.entered + 1),
    "a part too few inside": in_ledger(inside_end=lambda it: it.inside_end - 1),
    "a size lost": in_ledger(sizes=lambda it: it.sizes[1:]),
    "a size of another machine": in_ledger(sizes=lambda it: it.sizes + np.eye(1, 6, 2, dtype=np.int64)),
    "a setting a nanometre off": in_ledger(sizes=_other_setting),
    "a reading lost": in_ledger(readings=lambda it: it.readings[1:]),
    "a reading of another size": in_ledger(readings=lambda it: it.readings + np.eye(1, 8, 5, dtype=np.int64)),
    "a reading by another machine": in_ledger(readings=lambda it: it.readings + np.eye(1, 8, 2, dtype=np.int64)),
    "a bad reading that is no reject": in_rows(_read_as_bad),
    "a picometre of a correction": in_rows(
        lambda rows: rows + np.outer(rows[:, 1] == What.CORRECT, [0, 0, 0, 0, 1]).astype(np.int64)
    ),
    "a correction missing": in_rows(without_first(What.CORRECT)),
    "a reading missing": in_rows(without_first(What.READ)),
    "a bad size that is no defect": in_rows(_no_defect),
    "a departure lost": in_ledger(departures=lambda it: it.departures[1:]),
    "a departure a microsecond late": in_ledger(departures=lambda it: it.departures + np.eye(1, 9, 0, dtype=np.int64)),
    "scrap of another station": in_ledger(departures=_scrapped_elsewhere),
    "a part not set aside": in_rows(without_first(What.SET_ASIDE)),
    "a part set aside for the tray": in_rows(_set_aside_for_another_place),
    "a sample left out that was not": in_ledger(of_stations=one_more("skipped", "of_stations")),
    "a sample more often": in_rows(without_first(What.SKIPPED)),
    "an operation too many": in_ledger(of_machines=one_more("processed", "of_machines")),
    "a scrapped part too many": in_ledger(of_stations=one_more("scrapped", "of_stations")),
    "a breakdown too many": in_ledger(of_stoppages=one_more("begun", "of_stoppages")),
    "a microsecond of waiting for a crew": in_ledger(of_stoppages=one_more("waiting_us", "of_stoppages")),
    "a microsecond of a busy crew": in_ledger(of_crews=one_more("busy_us", "of_crews")),
    "a call too many": in_ledger(of_crews=one_more("calls", "of_crews")),
    "a call that waited too many": in_ledger(of_crews=one_more("calls_waited", "of_crews")),
    "an output window with other WIP": in_ledger(windows=lambda it: it.windows + np.eye(1, 3, 1, dtype=np.int64)),
    "a microsecond more of an empty infeed": in_ledger(of_ends=one_more("empty_us", "of_ends")),
    "a part more in an infeed": in_ledger(of_ends=one_more("stock_us", "of_ends")),
    "a refill missing": in_rows(without_first(What.STOCK)),
    "a call for a refill missing": in_rows(without_first(What.STOCK_CALL)),
    "a call for people who load missing": in_rows(without_first(What.CALL_HANDS)),
    "a call for people who load a microsecond early": in_rows(
        lambda rows: rows - np.outer(rows[:, 1] == What.CALL_HANDS, [0, 0, 0, 1, 0]).astype(np.int64)
    ),
    "an arrival missing": in_rows(without_first(What.ARRIVE)),
    "a leave missing": in_rows(without_first(What.LEAVE)),
    "a state missing": in_rows(without_state_at_work),
    "a repair missing": in_rows(without_first(What.REPAIRED)),
    "a leg that takes no time": in_rows(lambda rows: np.where(rows[:, [1]] == What.LEG, rows * [1, 1, 1, 1, 0], rows)),
    "a carriage that moves aside further": in_rows(
        lambda rows: rows + np.outer(rows[:, 1] == What.GIVE_WAY, [0, 0, 0, 1, 0]).astype(np.int64) * 10_000
    ),
    "an operation that takes longer": in_rows(
        lambda rows: rows + np.outer(rows[:, 1] == What.START, [0, 0, 0, 0, 1]).astype(np.int64)
    ),
    "a call ahead at another time": in_rows(_earlier_call),
    "a part scrapped that needs no more strokes": in_rows(
        lambda rows: np.where(rows[:, [1]] == What.STROKES, rows * [1, 1, 1, 1, 0] + [0, 0, 0, 0, 1], rows)
    ),
    "parts in another order": in_rows(
        lambda rows: np.where(rows[:, [1]] == What.PART_TYPE, rows * [1, 1, 1, 1, 0], rows)
    ),
    "a part without a type": in_rows(without_first(What.PART_TYPE)),
    "a part that left as another type": in_ledger(
        departures=lambda it: it.departures + np.eye(1, 9, 7, dtype=np.int64)
    ),
    "a changeover left out": without_a_changeover,
    "a changeover of a microsecond more": in_ledger(
        of_stoppages=lambda it: tuple(
            stop._replace(lasting_us=stop.lasting_us + (stop.kind == "changeover")) for stop in it.of_stoppages
        )
    ),
    "time that runs backwards": in_rows(lambda rows: rows[::-1].copy()),
}


@pytest.mark.parametrize("name", TAMPERINGS)
def test_the_audit_notices(name: str) -> None:
    ledger, trace = TAMPERINGS[name](sound())
    with pytest.raises((AssertionError, KeyError, IndexError, ValueError)):
        check_books(ledger, trace, sound().line)


@pytest.mark.parametrize("action", ["load", "unload", "exchange"])
def test_the_audit_notices_people_who_load_too_slowly(action: str) -> None:
    by_hand = {"crew": "packer", "load": "2 s", "unload": "2 s", "exchange": "3 s"}
    given = serial({name: {"cycle": "5 s", "by_hand": by_hand} for name in "ab"}, crews={"packer": {}})
    good = play(given, horizon_s=40)
    given["stations"]["b"]["by_hand"] = {**by_hand, action: "1.9 s"}
    with pytest.raises(AssertionError, match=r"hands_of_a\.1 at b\.1, \d+ us: takes \d000000 us"):
        check_books(good.ledger, good.trace, load_line(given))


def test_the_audit_notices_carriages_that_come_too_near() -> None:
    good = sound()
    gantry = replace(good.line.loaders["gantry"], apart=1.01)
    with pytest.raises(AssertionError, match=r"gantry\.left and gantry\.right are 0\.99\d* m apart"):
        check_books(good.ledger, good.trace, replace(good.line, loaders={**good.line.loaders, "gantry": gantry}))


def test_the_audited_line_has_something_of_everything() -> None:
    assert {What(kind) for kind in sound().trace.rows[:, 1]} == set(What) - {What.REWORK, What.DUTY}
    assert sound().ledger.crews["calls_waited"].sum() > 0


LUCK = np.random.default_rng(7).normal(0.0, 1.0, 50)


def test_a_mean_off_by_more_than_the_limit_is_noticed() -> None:
    assert_agrees(100.0 + LUCK, 100.0)
    with pytest.raises(AssertionError, match=r"standard errors \(limit 4\)"):
        assert_agrees(102.0 + LUCK, 100.0)


def test_samples_that_scatter_too_much_prove_nothing() -> None:
    with pytest.raises(AssertionError, match=r"too few replications to see an error of 1\.00%"):
        assert_agrees(100.0 + 10 * LUCK, 100.0)


def test_samples_without_chance_prove_nothing() -> None:
    with pytest.raises(AssertionError, match="nothing was left to chance"):
        assert_agrees([100.0] * 20, 100.0)


def test_a_mean_outside_a_range_is_noticed() -> None:
    assert_between(100.0 + LUCK, 99.0, 101.0)
    with pytest.raises(AssertionError, match="lies outside"):
        assert_between(103.0 + LUCK, 99.0, 101.0)
    with pytest.raises(AssertionError, match="is no measurement"):
        assert_between(100.0 + 10 * LUCK, 99.0, 101.0)


def test_a_control_takes_away_the_luck_it_reveals_and_no_error_of_the_model() -> None:
    """Ten parts of luck in the samples are the control's, one is not: the scatter falls, the mean stays right."""
    control = np.random.default_rng(8).normal(0.0, 1.0, (50, 1))
    steady = steadied(100.0 + LUCK + 10 * control[:, 0], control, [0.0])
    assert steady.std(ddof=1) < 1.3
    assert_agrees(steady, 100.0)
    with pytest.raises(AssertionError, match="standard errors"):
        assert_agrees(steady + 2.0, 100.0)
