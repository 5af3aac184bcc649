"""The rules that run settings keep, for Python and shell alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

from linesim.line.problems import LineError, Problem

ENGINES = ("auto", "simpy", "compiled")
HOURS, WARMUP_HOURS = 500.0, 20.0  # where neither hours nor weeks are given
WEEK_H = 168.0
LARGEST_SEED = 2**63 - 1


def check_run_settings(**settings: Any) -> None:
    """Raises LineError with every setting that can't be; give only those that the call at hand has."""
    problems = [
        Problem(name, value, *_RULES[name][1:])
        for name, value in settings.items()
        if value is not None and not _RULES[name][0](value)
    ]
    for hours, weeks in (("hours", "weeks"), ("warmup_hours", "warmup_weeks")):
        if settings.get(hours) is not None and settings.get(weeks) is not None:
            rule = f"{hours} is given as well: {settings[hours]:g}"
            problems.append(
                Problem(weeks, settings[weeks], rule, f"give one of the two, the other as null: {hours}=null")
            )
    for given in ("warmup_hours", "warmup_weeks"):
        if settings.get("warmup") is not None and settings.get(given) is not None:
            fix = f"give one of the two, the other as null: {given}=null"
            problems.append(Problem("warmup", "auto", f"{given} is given as well: {settings[given]:g}", fix))
    only, of = settings.get("only_replication"), settings.get("replications")
    if not problems and only is not None and of is not None and only > of:
        problems.append(
            Problem("only_replication", only, f"must be one of the {of} replications", f"write a number from 1 to {of}")
        )
    problems += _precision_problems(settings)
    problems += _indifference_problems(settings)
    if problems:
        raise LineError(problems, "the run settings")


def _precision_problems(settings: Mapping[str, Any]) -> list[Problem]:
    """What is wrong with the precision that is wanted, and with what stands beside it."""
    wanted = settings.get("precision")
    if not isinstance(wanted, Mapping) or not wanted:
        return []
    from linesim.results.precision import read_wanted  # late: the other settings are judged without tables at hand

    problems = read_wanted(wanted)[1]
    only, first, most = (settings.get(key) for key in ("only_replication", "replications", "most_replications"))
    if only is not None:
        rule, fix = "takes more than one replication", "leave out only_replication, or precision"
        problems.append(Problem("precision", None, rule, fix))
    if isinstance(first, int) and isinstance(most, int) and first > most:
        fix = f"write most_replications={first} or more"
        problems.append(Problem("most_replications", most, f"must not be below replications = {first}", fix))
    return problems


def _indifference_problems(settings: Mapping[str, Any]) -> list[Problem]:
    """What is wrong with a difference that does not matter, and with the replications beside it."""
    asked, first, most = (settings.get(key) for key in ("indifference", "replications", "most_replications"))
    if not isinstance(asked, Mapping) or not asked or not isinstance(first, int):
        return []
    from linesim.results.selection import read_indifference  # late, as above

    problems = read_indifference(asked, first)[1]
    if isinstance(most, int) and first > most:
        fix = f"write most_replications={first} or more"
        problems.append(Problem("most_replications", most, f"must not be below replications = {first}", fix))
    return problems


def filled(settings: Mapping[str, Any]) -> dict[str, Any]:
    """The settings with hours and warm-up hours filled in where neither hours nor weeks are given, nor to be found."""
    given = dict(settings)
    for hours, weeks, usual in (("hours", "weeks", HOURS), ("warmup_hours", "warmup_weeks", WARMUP_HOURS)):
        found = hours == "warmup_hours" and given.get("warmup") is not None
        if given.get(hours) is None and given.get(weeks) is None and not found:
            given[hours] = usual
    return given


def in_hours(hours: float | None, weeks: float | None) -> float:
    """A time that is given in one of the two [h]."""
    return (hours or 0.0) + WEEK_H * (weeks or 0.0)


def times_h(settings: Mapping[str, Any]) -> tuple[float, float]:
    """Measured time and warm-up [h], filled in where nothing is given; a warm-up that is to be found counts as 0."""
    times = filled(settings)
    measured_h = in_hours(times.get("hours"), times.get("weeks"))
    return measured_h, in_hours(times.get("warmup_hours"), times.get("warmup_weeks"))


def _number(above: float | None = None, at_least: float | None = None) -> Callable[[Any], bool]:
    def holds(value: Any) -> bool:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            return False
        return (above is None or value > above) and (at_least is None or value >= at_least)

    return holds


def _whole(at_least: int, at_most: int = LARGEST_SEED) -> Callable[[Any], bool]:
    return lambda value: isinstance(value, int) and not isinstance(value, bool) and at_least <= value <= at_most


_RULES: dict[str, tuple[Callable[[Any], bool], str, str]] = {
    "hours": (_number(above=0), "must be a number of hours above 0", "write for example hours=200"),
    "warmup_hours": (_number(at_least=0), "must be a number of hours, 0 or more", "write for example warmup_hours=20"),
    "weeks": (_number(above=0), "must be a number of weeks above 0", "write for example weeks=4"),
    "warmup_weeks": (_number(at_least=0), "must be a number of weeks, 0 or more", "write for example warmup_weeks=1"),
    "warmup": (lambda value: value == "auto", "must be auto or null", "for a time of your own write warmup_hours=20"),
    "window_h": (_number(above=0), "must be a number of hours above 0", "write for example window_h=1"),
    "mark": (_number(at_least=0), "must be a number of good parts, 0 or more", "write for example mark=180"),
    "risk_percent": (
        lambda value: _number(above=0)(value) and value < 100,
        "must be a number of percent above 0 and below 100",
        "write for example risk_percent=5",
    ),
    "step_percent": (
        lambda value: _number(above=0)(value) and value < 100,
        "must be a number of percent above 0 and below 100",
        "write for example step_percent=10",
    ),
    "from_h": (_number(at_least=0), "must be a number of hours, 0 or more", "write for example from_h=2"),
    "to_h": (_number(above=0), "must be a number of hours above 0", "write for example to_h=3"),
    "replications": (_whole(1), "must be a whole number, 1 or more", "write for example replications=5"),
    "replication": (_whole(1), "must be a whole number, 1 or more", "write for example replication=1"),
    "most_replications": (_whole(1), "must be a whole number, 1 or more", "write for example most_replications=100"),
    "precision": (
        lambda value: isinstance(value, Mapping),
        "must be a map of measures",
        "write for example 'precision={throughput_per_h: 1 %}'",
    ),
    "indifference": (
        lambda value: isinstance(value, Mapping),
        "must be a map of one measure",
        "write for example 'indifference={throughput_per_h: 0.2}'",
    ),
    "only_replication": (_whole(1), "must be a whole number, 1 or more", "write for example only_replication=1"),
    "points": (_whole(1), "must be a whole number, 1 or more", "write for example points=64"),
    "workers": (_whole(1), "must be a whole number, 1 or more", "leave it out for one on each core"),
    "events": (_whole(1), "must be a whole number, 1 or more", "write for example events=40"),
    "part": (_whole(1), "must be a whole number, 1 or more", "write for example part=17"),
    "seed": (_whole(0), "must be a whole number from 0 to 2^63 - 1", "write for example seed=7"),
    "engine": (lambda value: value in ENGINES, "must be auto, simpy or compiled", "leave it at auto"),
}
