"""`linesim compare`: several lines on the same random numbers, what sets them apart, and which may be the best."""

from __future__ import annotations

import shlex
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from linesim.cli.folders import LINE_FILE, abandon, claim
from linesim.cli.job import Job
from linesim.cli.jobs_together import names_of, refuse_other_settings
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
from linesim.results import Comparison, line_folders
from linesim.study import StoppedComparison, compare

TOGETHER = True  # the task gets all jobs at once


def task(jobs: Sequence[Job]) -> int:
    """Compares the lines of the jobs; returns the exit status."""
    refuse_other_settings(jobs, "the comparison", fewest=2)
    names = names_of([job.words for job in jobs])
    settings = settings_to_run(jobs[0])
    texts = {name: yaml_text(job.content, "The line as it was run.") for name, job in zip(names, jobs, strict=True)}
    folder = claim(Path(jobs[0].settings["out"]), chosen_by_user(jobs[0]), texts[names[0]])
    _note(settings, folder, names)
    wanted = {key: value for key, value in settings.items() if key != "plots"}
    try:
        comparison = compare({name: job.line for name, job in zip(names, jobs, strict=True)}, progress=True, **wanted)
    except StoppedComparison as stop:
        if stop.comparison is None:
            abandon(folder)
        else:
            _show(stop.comparison, folder, texts, settings)
        raise
    except LineError:
        abandon(folder)
        raise
    except LockUp as stand:
        (folder / LINE_FILE).write_text(texts[stand.line], encoding="utf-8")  # the one to look at
        tell_lock_up(stand, folder)
        return 1
    return _show(comparison, folder, texts, settings)


def _show(comparison: Comparison, folder: Path, texts: dict[str, str], settings: dict[str, Any]) -> int:
    """Saves first, so that nothing can get lost, then prints; returns the exit status."""
    status = 0
    engines = {each.about["engine"] for each in comparison.results.values()}
    ran_on = engines.pop() if len(engines) == 1 else settings["engine"]
    repeat = _note({**settings, "engine": ran_on}, folder, comparison.names)
    try:
        comparison.save(folder, texts, plots=settings["plots"])
    except Exception:
        traceback.print_exc()
        print("linesim: saving failed", file=sys.stderr)
        status = 1
    print(comparison.text_summary())
    tell_where(folder)
    if status == 0:
        tell_what_next(folder, repeat)
    return status


def _note(settings: dict[str, Any], folder: Path, names: Sequence[str]) -> str:
    """Writes the settings into the folder; returns the command that compares the same lines again."""
    lines = ",".join(str(folder / inside / LINE_FILE) for inside in line_folders(names).values())
    repeat = shlex.join(["linesim", "compare", f"line={lines}", *overrides_of(settings)])
    keep_settings(folder, settings, repeat, ", for every line")
    return repeat
