"""`linesim.sweep`: a sweep asked for in Python, from factors to the object that answers questions."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from linesim.results.sweep import Sweep
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings
from linesim.study.sweeps.plan import planned, seconds_of_budget, seed_of
from linesim.study.sweeps.request import points_asked
from linesim.study.sweeps.running import run_sweep


def sweep(
    line: str | Path | Mapping[str, Any],
    factors: Mapping[str, Any] | None = None,
    folder: str | Path = "sweep",
    *,
    change: Any = None,
    overrides: tuple[str, ...] = (),
    only: Mapping[str, Mapping[str, Any]] | None = None,
    design: str = "grid",
    points: int | None = None,
    table: str | Path | None = None,
    assumptions: bool = False,
    hours: float | None = None,
    weeks: float | None = None,
    warmup_hours: float | None = None,
    warmup_weeks: float | None = None,
    replications: int = 5,
    most_replications: int | None = None,
    precision: Mapping[str, Any] | None = None,
    indifference: Mapping[str, float] | None = None,
    budget: str | None = None,
    seed: int | None = None,
    engine: str = "auto",
    window_h: float = 1.0,
    workers: int | None = None,
    cluster: str | None = None,
    plots: bool = True,
    progress: bool = False,
) -> Sweep:
    """Runs every point and keeps what is finished in the folder at once; the same call goes on with what is missing.

    line, change, overrides: as for `load_line`. factors: {"buffers.park_1.capacity": [1, 2, 4], "change": ["none",
    "fast_gantry"], "stations.grind.cycle": {"low": "36 s", "high": "44 s"}}. only, design, points, table, assumptions:
    see `points_asked`. replications: of every point; more, up to most_replications, until each point has the precision
    wanted (as in `simulate`), or, with an indifference ({"throughput_per_h": 0.2}, a difference that does not matter),
    only for points that may still be the best. budget: such as "8 h". The rest as in `simulate`; cluster: see
    `cluster.cluster`.

    Raises LineError for bad settings, points that can't be, or a folder with another sweep.
    """
    times = {"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks}
    settings = {**times, "replications": replications, "window_h": window_h, "seed": seed, "engine": engine}
    check_run_settings(**settings, workers=workers, points=points)
    folder = Path(folder)
    seed = next(each for each in (seed, seed_of(folder), drawn_seed()) if each is not None)
    asked = points_asked(
        line, overrides, change, factors=factors, only=only, design=design, points=points, table=table,
        assumptions=assumptions, seed=seed,
    )  # fmt: skip
    more = {"precision": precision, "indifference": indifference, "most_replications": most_replications}
    plan = planned(asked, seed, {**settings, **more, "design": design, "table": table})
    return run_sweep(
        plan, folder, engine=engine, workers=workers, cluster=cluster, budget_s=seconds_of_budget(budget), plots=plots,
        progress=progress,
    )  # fmt: skip
