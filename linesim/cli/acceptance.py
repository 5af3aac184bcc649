"""`linesim acceptance`: what a test of so many hours may give, and which mark to agree on."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Sequence
from pathlib import Path

from linesim.cli.folders import abandon, claim
from linesim.cli.job import Job
from linesim.cli.jobs_together import names_of, refuse_other_settings
from linesim.cli.saving import chosen_by_user, keep_settings, overrides_of, tell_what_next, tell_where, yaml_text
from linesim.engine.contract import LockUp
from linesim.line import LineError
from linesim.results.acceptance import file_of
from linesim.study import acceptance
from linesim.study.one_run import drawn_seed

TOGETHER = True  # the task gets all jobs at once


def task(jobs: Sequence[Job]) -> int:
    """Simulates tests of the lines of all jobs; returns the exit status."""
    refuse_other_settings(jobs, "the acceptance test")
    names = names_of([job.words for job in jobs]) if len(jobs) > 1 else [jobs[0].line.name]
    settings = {key: value for key, value in jobs[0].settings.items() if key != "out"}
    settings["seed"] = drawn_seed() if settings["seed"] is None else settings["seed"]
    folder = claim(Path(jobs[0].settings["out"]), chosen_by_user(jobs[0]), yaml_text(jobs[0].content, "As promised."))
    for number, job in enumerate(jobs[1:], 2):
        (folder / file_of(number)).write_text(yaml_text(job.content, f"Line {number}."), encoding="utf-8")
    lines = ",".join(str(folder / file_of(number)) for number in range(1, len(jobs) + 1))
    repeat = shlex.join(["linesim", "acceptance", f"line={lines}", *overrides_of(settings)])
    keep_settings(folder, settings, repeat)
    wanted = {key: value for key, value in settings.items() if key != "plots"}
    try:
        found = acceptance({name: job.line for name, job in zip(names, jobs, strict=True)}, progress=True, **wanted)
    except (KeyboardInterrupt, LineError):
        _give_up(folder, len(jobs))
        raise
    except LockUp as stand:
        _give_up(folder, len(jobs))
        print(f"linesim: {stand.line}: {stand}", file=sys.stderr)
        return 1
    found.save(folder, plots=settings["plots"])
    print(found.text_summary())
    tell_where(folder)
    tell_what_next(folder, repeat)
    return 0


def _give_up(folder: Path, jobs: int) -> None:
    for number in range(2, jobs + 1):
        (folder / file_of(number)).unlink(missing_ok=True)
    abandon(folder)
