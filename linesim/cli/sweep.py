"""`linesim sweep`: many points of a design, kept as they finish, in one table."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Sequence
from pathlib import Path

from linesim.cli.folders import claim_sweep, release, said, unusable
from linesim.cli.job import Job
from linesim.cli.saving import chosen_by_user, tell_what_next, tell_where
from linesim.cli.sweep_words import with_factors
from linesim.results.sweep_store import is_sweep
from linesim.study.one_run import drawn_seed
from linesim.study.sweeps.plan import planned, seconds_of_budget, seed_of
from linesim.study.sweeps.points import Points
from linesim.study.sweeps.request import points_asked
from linesim.study.sweeps.running import SweepStopped, run_sweep

words_for_hydra = with_factors
RUNS_ON = ("engine", "workers", "cluster", "plots")  # settings that change how it is run, not what comes out


def task(job: Job, typed: Sequence[str]) -> int:
    """Runs what is missing of the sweep that the user typed; returns the exit status."""
    folder = Path(job.settings["out"])
    budget_s = seconds_of_budget(job.settings["budget"])
    seed = _seed(job, folder)
    points = points_of(job, seed)
    folder = claim_sweep(folder, chosen_by_user(job))
    plan = planned(points, seed, job.settings)
    again = _again(typed, seed, folder)
    print(
        f"linesim: {len(points.points)} points, {plan.rounds.first} replications each, into {folder}", file=sys.stderr
    )
    try:
        how = {key: job.settings[key] for key in RUNS_ON}
        sweep = run_sweep(plan, folder, budget_s=budget_s, progress=True, **how)
    except KeyboardInterrupt as stopped:  # while runs are made, or before and after that
        told = f"{stopped}; they" if isinstance(stopped, SweepStopped) else "stopped; finished runs"
        raise KeyboardInterrupt(f"{told} are kept. To go on: {again}") from None
    except OSError as error:
        if not is_sweep(folder):  # nothing was begun
            release(folder)
            raise unusable(folder, error.strerror or str(error)) from None
        print(f"linesim: {said(error)}; finished runs are kept. To go on: {again}", file=sys.stderr)
        return 1
    print(sweep.text_summary())
    tell_where(folder)
    tell_what_next(folder, again, "the same again, or with more replications")
    return 1 if len(sweep.failed) and sweep.table().empty else 0


def points_of(job: Job, seed: int) -> Points:
    """The points that were asked for, all of them checked. Raises LineError with all that is wrong."""
    settings, chosen = job.settings, job.chosen
    wanted = {key: settings[key] for key in ("factors", "only", "design", "points", "table", "assumptions")}
    if chosen.line is None:  # a line that was not composed of files
        return points_asked(job.content, seed=seed, **wanted)
    return points_asked(chosen.line, chosen.overrides, chosen.changes, seed=seed, **wanted)


def _seed(job: Job, folder: Path) -> int:
    """As given; else that of the sweep in the folder; else drawn."""
    given: int | None = job.settings["seed"]
    if given is None and chosen_by_user(job):
        given = seed_of(folder)
    return drawn_seed() if given is None else given


def _again(typed: Sequence[str], seed: int, folder: Path) -> str:
    words = [word for word in typed if not word.startswith(("out=", "seed="))]
    return shlex.join(["linesim", "sweep", *words, f"seed={seed}", f"out={folder}"])
