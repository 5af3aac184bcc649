"""`linesim report`: makes page and workbook of any stored results."""

from __future__ import annotations

import sys
import traceback
from pathlib import Path

from linesim.cli.folders import said
from linesim.line.problems import LineError, Problem, nearest

USAGE = """usage: linesim report FOLDER [FOLDER ...] [KEY=VALUE ...]

Makes two files in each folder of results: report.html, a page that opens in any browser without a network and prints
on A4, and report.xlsx, a workbook of the same tables with charts.
The page of a run has a replay, for which a stretch of it is simulated again.

  replication=1   which one the replay shows; the first there is
  from_h=20       from this time since its start on [h]; the first planned working time after the warm-up
  to_h=28         up to this time [h]; 8 h later
  replay=true     with the replay
"""
KINDS = {"replication": int, "from_h": float, "to_h": float}
BAD_INPUT, FAILURE = 2, 1


def command(words: list[str]) -> int:
    """Makes the reports of all folders that the words name; returns the exit status."""
    if {"--help", "-h"} & set(words):
        print(USAGE, end="")
        return 0
    folders = [word for word in words if "=" not in word or Path(word).exists()]
    if not folders:
        print(f"linesim: report needs the folder of a run, for example one under outputs/\n{USAGE}", file=sys.stderr)
        return BAD_INPUT
    try:
        settings = read_settings([word for word in words if word not in folders])
    except LineError as error:
        print(f"linesim: {error}", file=sys.stderr)
        return BAD_INPUT
    return max(_report(Path(folder), settings) for folder in folders)


def read_settings(words: list[str]) -> dict[str, float | int | bool]:
    """KEY=VALUE as values. Raises LineError with all that is wrong."""
    settings: dict[str, float | int | bool] = {}
    problems = []
    for word in words:
        key, _, text = word.partition("=")
        if key == "replay" and text in ("true", "false"):
            settings[key] = text == "true"
        elif key == "replay":
            problems.append(Problem(key, text, "must be true or false", "write replay=false to leave it out"))
        elif key in KINDS:
            try:
                settings[key] = KINDS[key](text)
            except ValueError:
                kind = "a whole number" if KINDS[key] is int else "a number of hours"
                problems.append(Problem(key, text, f"must be {kind}", f"write for example {key}=1"))
        else:
            known = [*KINDS, "replay"]
            fix = f"write one of {', '.join(known)}"
            problems.append(Problem(key, text, "is no setting of report", fix, suggestion=nearest(key, known)))
    if problems:
        raise LineError(problems, "the settings of report")
    return settings


def _report(folder: Path, settings: dict[str, float | int | bool]) -> int:
    from linesim.report.making import Window, write_reports
    from linesim.study.again import traced_again

    window = Window(**{key: value for key, value in settings.items() if key in KINDS})  # type: ignore[arg-type]
    try:
        files = write_reports(folder, traced_again if settings.get("replay", True) else None, window)
    except OSError as error:
        print(f"linesim: {said(error)}", file=sys.stderr)
        return BAD_INPUT
    except ValueError as error:
        print(f"linesim: {error}", file=sys.stderr)
        return BAD_INPUT
    except Exception:
        traceback.print_exc()
        print(f"linesim: the report of {folder} failed", file=sys.stderr)
        return FAILURE
    print("\n".join(map(str, files)))
    return 0
