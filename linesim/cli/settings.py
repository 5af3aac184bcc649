"""The run settings of each sub-command. Hydra checks names and types, study/ the ranges; values lie in conf/.

The texts in `metadata` are what a user reads: `--help` prints them, and so do messages about a value of the wrong type.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from enum import Enum
from typing import Any

from omegaconf import MISSING


class Engine(Enum):
    """The engines by the names that a user writes."""

    auto = "auto"
    simpy = "simpy"
    compiled = "compiled"


def _setting(kind: str, text: str) -> Any:
    return field(default=MISSING, metadata={"kind": kind, "text": text})


@dataclass
class CheckSettings:
    line: Any = _setting("the name or file of a line", "the line, as its file gives it")


@dataclass
class TimedSettings(CheckSettings):
    hours: float | None = _setting(
        "a number of hours or null", "measured time of each replication [h]; null: 500, or weeks"
    )
    weeks: float | None = _setting("a number of weeks or null", "the same in weeks, from Monday 0:00; one or the other")
    warmup_hours: float | None = _setting(
        "a number of hours or null", "time before it, not measured [h]; null: 20, or weeks"
    )
    warmup_weeks: float | None = _setting("a number of weeks or null", "the same in weeks; one or the other")
    replications: int = _setting("a whole number", "runs with other random numbers")
    seed: int | None = _setting("a whole number or null", "start of the random numbers; null draws one and tells it")
    engine: Engine = _setting("auto, simpy or compiled", "which engine runs the line")
    workers: int | None = _setting("a whole number or null", "replications at a time; null: one on each core")
    plots: bool = _setting("true or false", "draw the plots")
    out: str = _setting("a folder", "folder for the results")


@dataclass
class LineSettings(TimedSettings):
    window_h: float = _setting("a number of hours", "width of an output window [h]")
    warmup: str | None = _setting("auto or null", "auto: find the warm-up by a run of its own; null: as given, or 20 h")


@dataclass
class CompareSettings(LineSettings):
    indifference: Any = _setting(
        "a map of a measure or null",
        "a difference that does not matter, as '{throughput_per_h: 0.2}': adds replications until the best is found",
    )
    most_replications: int = _setting("a whole number", "no more of them, even if the best is not found")


class Design(Enum):
    """The designs of a sweep by the names that a user writes."""

    grid = "grid"
    one_at_a_time = "one_at_a_time"
    latin_hypercube = "latin_hypercube"
    sobol = "sobol"


@dataclass
class SweepSettings(TimedSettings):
    window_h: float = _setting("a number of hours", "width of an output window [h]")
    design: Design = _setting("grid, one_at_a_time, latin_hypercube or sobol", "which combinations of levels are run")
    points: int | None = _setting("a whole number or null", "how many, of a latin_hypercube or sobol design")
    factors: dict[str, Any] = _setting(
        "a map", "what is varied, as in a study file; words with several values add to it"
    )
    only: dict[str, Any] = _setting("a map", "factors that exist in one line only: the line's name, then its factors")
    table: str | None = _setting("a CSV file or null", "the points themselves, a column a factor, instead of a design")
    assumptions: bool = _setting("true or false", "vary all assumptions of the line over their ranges too")
    precision: Any = _setting(
        "a map of measures or null",
        "as for run, of every point: '{throughput_per_h: 1 %}' adds replications until then",
    )
    indifference: Any = _setting(
        "a map of a measure or null",
        "a difference that does not matter, as '{throughput_per_h: 0.2}': points clearly not the best get no more",
    )
    most_replications: int = _setting("a whole number", "of a point where precision or indifference add some")
    budget: str | None = _setting("a time or null", "time for the sweep, such as 8h; it can go on later")
    cluster: str | None = _setting(
        "local, an address, a scheduler file or null", "workers by Dask; null: threads of this process"
    )


@dataclass
class SensitivitySettings(TimedSettings):
    warmup: str | None = _setting("auto or null", "auto: find the warm-up by a run of its own; null: as given, or 20 h")
    step_percent: float = _setting("a number", "by how much each thing is made better [%]; its worth is told for 1 %")


@dataclass
class AcceptanceSettings(CheckSettings):
    hours: float = _setting("a number of hours", "length of a test [h]")
    mark: float | None = _setting("a number or null", "good parts in a test that pass")
    risk_percent: float = _setting("a number", "how often the promised line may fail [%]; a mark for it is told")
    warmup_hours: float | None = _setting("a number of hours or null", "time from empty before a test [h]; null: 20")
    replications: int = _setting("a whole number", "tests to simulate")
    seed: int | None = _setting("a whole number or null", "start of the random numbers; null draws one and tells it")
    engine: Engine = _setting("auto, simpy or compiled", "which engine runs the line")
    workers: int | None = _setting("a whole number or null", "tests at a time; null: one on each core")
    plots: bool = _setting("true or false", "draw the plots")
    out: str = _setting("a folder", "folder for the results")


@dataclass
class RunSettings(LineSettings):
    precision: Any = _setting(
        "a map of measures",
        "measure -> half width wanted, as '{throughput_per_h: 1 %}'; replications are added until then",
    )
    most_replications: int = _setting("a whole number", "no more of them, even if precision is not reached")
    trace: bool = _setting("true or false", "also save every event of every replication as Parquet")
    only_replication: int | None = _setting("a whole number or null", "run just this one of the replications")


@dataclass
class TraceSettings(CheckSettings):
    events: int = _setting("a whole number", "how many events to print")
    from_h: float | None = _setting(
        "a number of hours or null", "print events from this time on [h]; null: from the first planned working time"
    )
    to_h: float | None = _setting("a number of hours or null", "and up to this time [h]; null: 8 h later")
    part: int | None = _setting("a whole number or null", "print events of this part only")
    machine: str | None = _setting("a name or null", "print events of this machine, carriage, crew or place only")
    parquet: str | None = _setting("a file or null", "write the whole trace to this file as well")
    seed: int = _setting("a whole number", "start of the random numbers")
    replication: int = _setting("a whole number", "which replication of that seed")
    engine: Engine = _setting("auto, simpy or compiled", "which engine runs the line")


SETTINGS: dict[str, type] = {
    "check": CheckSettings,
    "compare": CompareSettings,
    "run": RunSettings,
    "sweep": SweepSettings,
    "sensitivity": SensitivitySettings,
    "acceptance": AcceptanceSettings,
    "trace": TraceSettings,
}


def setting_kinds(command: str) -> dict[str, str]:
    """Key -> the kind of value it takes, in words, for the settings of a sub-command. `change` is one of them."""
    kinds = {each.name: each.metadata["kind"] for each in fields(SETTINGS[command])}
    kinds["change"] = "the name of a change, or several in brackets"
    return kinds | ({"study": "the name or file of a study"} if command == "sweep" else {})
