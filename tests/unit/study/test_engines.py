"""Which engine is chosen, and what is said when it can't be the compiled one."""

import builtins
from typing import Any

import pytest

from linesim.line import Line, LineError, load_line
from linesim.study import engines
from linesim.study.engines import GLANCE_S, SIMPY_STEP_S, choose_engine, simpy_s

LINE = load_line({"route": ["turn", "mill"], "stations": {"turn": {"cycle": "30 s"}, "mill": {"cycle": "36 s"}}})
GLANCE_H = GLANCE_S / (100 * 2 * SIMPY_STEP_S)  # at a part in 36 s, two places each


@pytest.fixture(name="compiled", autouse=True)
def _compiled(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """Takes the place of the compiled engine; counts how often it was made ready, raises `error` then."""
    state: dict[str, Any] = {"made_ready": 0, "error": None}

    def make_ready(line: Line, say: Any) -> None:
        if state["error"] is not None:
            raise state["error"]
        state["made_ready"] += 1

    real = builtins.__import__

    def instead(name: str, *rest: Any) -> Any:
        return type("room", (), {"make_ready": staticmethod(make_ready)}) if name == COMPILED else real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", instead)
    return state


COMPILED = "linesim.engine.compiled"


def test_the_estimate_counts_parts_and_their_places() -> None:
    """Ten hours at 100 parts an hour, two places each."""
    assert simpy_s(LINE, 10) == pytest.approx(2000 * SIMPY_STEP_S)


def test_a_glance_is_not_worth_a_compiler(compiled: dict[str, Any], capsys: pytest.CaptureFixture[str]) -> None:
    assert choose_engine("auto", LINE, 0.99 * GLANCE_H) == "simpy"
    assert compiled["made_ready"] == 0
    assert capsys.readouterr().err == ""


def test_what_takes_longer_is(compiled: dict[str, Any]) -> None:
    assert choose_engine("auto", LINE, 1.01 * GLANCE_H) == "compiled"
    assert compiled["made_ready"] == 1


@pytest.mark.parametrize(("wanted", "hours"), [("simpy", 1e6), ("compiled", 0.01)])
def test_an_engine_that_is_named_is_taken(wanted: str, hours: float) -> None:
    assert choose_engine(wanted, LINE, hours) == wanted


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (ModuleNotFoundError("No module named 'numba'"), "needs numba"),
        (ValueError("takes 9 timers at most"), "9 timers"),
    ],
)
def test_auto_takes_simpy_where_the_compiled_one_can_not_run_and_says_so(
    compiled: dict[str, Any], capsys: pytest.CaptureFixture[str], error: Exception, said: str
) -> None:
    compiled["error"] = error
    assert choose_engine("auto", LINE, 1e6) == "simpy"
    told = capsys.readouterr().err
    assert said in told
    assert "SimPy runs this line" in told
    assert told.count("\n") == 1


@pytest.mark.parametrize(
    ("error", "fix"),
    [(ModuleNotFoundError("No module named 'numba'"), "install numba"), (ValueError("no"), "engine=simpy")],
)
def test_the_compiled_one_by_name_is_refused_where_it_can_not_run(
    compiled: dict[str, Any], error: Exception, fix: str
) -> None:
    compiled["error"] = error
    with pytest.raises(LineError) as caught:
        choose_engine("compiled", LINE, 0.01)
    (problem,) = caught.value.problems
    assert (problem.key, problem.value) == ("engine", "compiled")
    assert fix in problem.fix


def test_engines_are_estimated_without_starting_one() -> None:
    assert engines.simpy_s(load_line("ring_cell"), 1000) > 10
