"""What a sweep is asked to do, written into its folder, and whether a folder holds the same already."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import pandas as pd
import yaml

from linesim import __version__
from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.times import Times, times_in_hours
from linesim.line import LineError, Problem
from linesim.line.problems import dotted, listed
from linesim.line.units import BadValue, parse
from linesim.results import sweep_store
from linesim.results.precision import read_wanted
from linesim.results.selection import read_indifference
from linesim.study.run_settings import filled, in_hours
from linesim.study.sweeps.points import Points
from linesim.study.sweeps.rounds import Rounds

ALIKE = ("seed", "hours", "warmup_hours", "window_h", "design")  # what a sweep that goes on must have as it began
MOST_TOLD = 20
MOST_REPLICATIONS = 50  # of a point, where precision or indifference asks for more than the first ones
_SETTING = {"first": "replications", "most": "most_replications"}


@dataclass(frozen=True)
class Plan:
    """Which points are run, how long and how often, and the name of the design that made them."""

    points: Points
    times: Times
    seed: int
    rounds: Rounds
    design: str

    @property
    def numbers(self) -> list[int]:
        """Of the points."""
        return [point.number for point in self.points.points]

    def about(self) -> dict[str, Any]:
        """Plain values for sweep.json."""
        times = self.times
        return {
            "design": self.design,
            "seed": self.seed,
            "rounds": asdict(self.rounds),
            "planned": len(self.numbers) * self.rounds.first,
            "hours": (times.horizon_us - times.warmup_us) / HOUR_US,
            "warmup_hours": times.warmup_us / HOUR_US,
            "window_h": times.window_us / HOUR_US,
            "linesim": __version__,
        }

    def line_texts(self) -> list[str]:
        """The bases as YAML."""
        return [
            yaml.safe_dump(dict(base.content), sort_keys=False, allow_unicode=True, width=120)
            for base in self.points.bases
        ]


def planned(points: Points, seed: int, settings: Mapping[str, Any]) -> Plan:
    """A plan from run settings: hours, weeks, warmup_hours, warmup_weeks, window_h, replications, design, table,
    precision, indifference and most_replications. Raises LineError for what can't be or does not fit together.
    """
    given = filled(settings)
    times = times_in_hours(
        in_hours(given.get("hours"), given.get("weeks")),
        in_hours(given.get("warmup_hours"), given.get("warmup_weeks")),
        given["window_h"],
    )
    design = "table" if given.get("table") is not None else given["design"]
    return Plan(points, times, seed, _rounds(given), design)


def begin_or_go_on(plan: Plan, folder: Path) -> None:
    """Writes the plan into the folder, or finds it there.

    More replications than before may be asked for. Raises LineError if the folder holds a sweep that differs, with all
    that differs.
    """
    points = pd.DataFrame(plan.points.rows())
    if not sweep_store.is_sweep(folder):
        sweep_store.begin(folder, plan.about(), points, plan.line_texts())
        return
    problems = [*_differences(plan, folder, points)]
    if problems:
        if len(problems) > MOST_TOLD:
            problems[MOST_TOLD:] = [Problem("", None, f"{len(problems) - MOST_TOLD} more differences")]
        raise LineError(problems, f"going on with {folder}")
    sweep_store.sweep_up(folder)
    sweep_store.tell(folder, plan.about())


def _rounds(settings: Mapping[str, Any]) -> Rounds:
    first, most = settings["replications"], settings.get("most_replications")
    precision, problems = read_wanted(settings.get("precision") or {})
    choice, wrong = read_indifference(settings.get("indifference") or {}, first)
    problems += wrong
    if problems:
        raise LineError(problems, "the sweep")
    most = max(first, most or MOST_REPLICATIONS) if precision or choice else first
    best_by, indifference = choice or (None, 0.0)
    return Rounds(first, most, tuple(precision), best_by, indifference)


def seconds_of_budget(budget: Any) -> float | None:
    """The budget of a sweep [s], such as "8 h". Raises LineError if it is no time."""
    if budget is None:
        return None
    try:
        return parse("duration", budget)
    except BadValue as error:
        raise LineError([Problem("budget", budget, error.rule, "write for example budget=8h")], "the sweep") from None


def seed_of(folder: Path) -> int | None:
    """The seed of the sweep in a folder, if one is there."""
    return int(sweep_store.told(folder)["seed"]) if sweep_store.is_sweep(folder) else None


def _number(value: Any) -> Any:
    """A float as a user would write it: 50, not 50.0."""
    return f"{value:g}" if isinstance(value, float) else value


def _differences(plan: Plan, folder: Path, points: pd.DataFrame) -> Iterator[Problem]:
    fix = "write another folder after out=, or ask for the same as before"
    before, now = sweep_store.told(folder), plan.about()
    for key in ALIKE:
        if before[key] != now[key]:
            yield Problem(key, _number(now[key]), f"was {_number(before[key])} when this sweep began", fix)
    for key, value in json.loads(json.dumps(now["rounds"])).items():
        grows = key == "most" or (key == "first" and plan.rounds.fixed)
        was = before["rounds"][key]
        if value != was and not (grows and value > was):
            rule = f"was {was} when this sweep began{', and can only grow' if grows else ''}"
            yield Problem(_SETTING.get(key, key), value, rule, fix)
    if before["linesim"] != now["linesim"]:
        yield Problem("linesim", now["linesim"], f"was version {before['linesim']} when this sweep began", fix)
    for number, text in enumerate(plan.line_texts(), 1):
        file = folder / sweep_store.LINES / f"{number}.yaml"
        old = yaml.safe_load(file.read_text(encoding="utf-8")) if file.is_file() else {}
        for key, was, is_now in _unlike(old, yaml.safe_load(text)):
            yield Problem(f"line.{key}", is_now, f"was {was} when this sweep began", fix)
    if unlike := first_unlike(points, sweep_store.points_of(folder)):
        rule = f"the points are not those that this sweep began with: {unlike}"
        yield Problem("points", len(points), rule, fix)


def first_unlike(now: pd.DataFrame, before: pd.DataFrame) -> str:
    """What first differs between the points asked for and those of a folder; nothing if they are the same."""
    if list(now) != list(before):
        return f"they had the columns {listed(before)}, and have {listed(now)}"
    was, is_now = (table.astype(str).fillna("nothing") for table in (before, now))
    for old, new in zip(was.to_dict("records"), is_now.to_dict("records"), strict=False):
        for name, value in old.items():
            if value != new[name]:
                return f"{name} of point {new['point']} was {value}, and is {new[name]}"
    return "" if len(was) == len(is_now) else f"there were {len(was)}"


def _unlike(old: Any, new: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, Any, Any]]:
    """Keys at which two maps differ, with both values; "not there" for none."""
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for key in dict.fromkeys([*old, *new]):
            yield from _unlike(old.get(key, "not there"), new.get(key, "not there"), (*path, str(key)))
    elif old != new:
        yield dotted(path), old, new
