"""`linesim run`: simulates a line, prints what came out and saves everything that is needed to look again."""

from __future__ import annotations

import shlex
import sys
import traceback
from pathlib import Path
from typing import Any

from linesim.cli.folders import LINE_FILE, abandon, claim
from linesim.cli.job import Job
from linesim.cli.saving import (
    chosen_by_user,
    keep_settings,
    overrides_of,
    settings_to_run,
    tell_lock_up,
    tell_what_next,
    tell_where,
    yaml_text,
)
from linesim.engine.contract import LockUp
from linesim.line import LineError
from linesim.results import Results
from linesim.study import Stopped, simulate


def task(job: Job) -> int:
    """Runs the job's line; returns the exit status."""
    if job.number is not None:
        print(f"\njob {job.number}: {shlex.join(job.words)}", flush=True)
    settings = settings_to_run(job)
    folder = claim(job.folder, chosen_by_user(job), yaml_text(job.content, "The line as it was run."))
    _note(settings, folder)
    wanted = {key: value for key, value in settings.items() if key != "plots"}
    try:
        results = simulate(job.line, progress=True, **wanted)
    except Stopped as stop:
        if stop.results is None:
            abandon(folder)
        else:
            _show(job, stop.results, folder, settings)
        raise
    except LineError:  # the engine that was asked for can't run
        abandon(folder)
        raise
    except LockUp as stand:
        tell_lock_up(stand, folder)
        return 1
    return _show(job, results, folder, settings)


def _show(job: Job, results: Results, folder: Path, settings: dict[str, Any]) -> int:
    """Saves first, so that nothing can get lost, then prints; returns the exit status."""
    repeat = _note({**settings, "engine": results.about["engine"]}, folder)  # the one that ran
    status = _save(results, folder, job.settings["plots"])
    print(results.text_summary())
    tell_where(folder)
    tell_what_next(folder, repeat)
    return status


def _note(settings: dict[str, Any], folder: Path) -> str:
    """Writes the settings into the folder; returns the command that runs the same again."""
    repeat = shlex.join(["linesim", "run", str(folder / LINE_FILE), *overrides_of(settings)])
    keep_settings(folder, settings, repeat)
    return repeat


def _save(results: Results, folder: Path, plots: bool) -> int:
    """Saves with plots, or else without; returns 0 if that went as it was wanted."""
    for with_plots in dict.fromkeys([plots, False]):
        try:
            results.save(folder, plots=with_plots)
        except Exception:
            traceback.print_exc()
            print(f"linesim: saving {'with plots ' if with_plots else ''}failed", file=sys.stderr)
        else:
            return int(with_plots != plots)
    return 1
