"""`linesim sensitivity`: what improvements and assumptions of a line are worth, each by itself."""

from __future__ import annotations

import shlex
import sys

from linesim.cli.folders import LINE_FILE, abandon, claim
from linesim.cli.job import Job
from linesim.cli.saving import (
    chosen_by_user,
    keep_settings,
    overrides_of,
    settings_to_run,
    tell_what_next,
    tell_where,
    yaml_text,
)
from linesim.engine.contract import LockUp
from linesim.line import LineError
from linesim.study import sensitivity


def task(job: Job) -> int:
    """Runs the study of the job's line; returns the exit status."""
    settings = settings_to_run(job)
    folder = claim(job.folder, chosen_by_user(job), yaml_text(job.content, "The line as it was run."))
    repeat = shlex.join(["linesim", "sensitivity", str(folder / LINE_FILE), *overrides_of(settings)])
    keep_settings(folder, settings, repeat)
    wanted = {key: value for key, value in settings.items() if key != "plots"}
    try:
        found = sensitivity(job.content, progress=True, **wanted)
    except (KeyboardInterrupt, LineError):
        abandon(folder)
        raise
    except LockUp as stand:
        abandon(folder)
        print(f"linesim: with {stand.line or 'nothing changed'}: {stand}", file=sys.stderr)
        return 1
    found.save(folder, plots=settings["plots"])
    print(found.text_summary())
    tell_where(folder)
    tell_what_next(folder, repeat)
    return 0
