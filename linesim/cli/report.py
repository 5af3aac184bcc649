"""`linesim report`: makes the page of a stored run or comparison."""

from __future__ import annotations

import sys
import traceback
from pathlib import Path

USAGE = """usage: linesim report FOLDER [FOLDER ...]

Makes report.html in each folder of results: one file that opens in any browser without a network, and prints on A4.
"""
BAD_INPUT, FAILURE = 2, 1


def command(words: list[str]) -> int:
    """Makes the reports of all folders that the words name; returns the exit status."""
    if {"--help", "-h"} & set(words):
        print(USAGE, end="")
        return 0
    if not words:
        print(f"linesim: report needs the folder of a run, for example one under outputs/\n{USAGE}", file=sys.stderr)
        return BAD_INPUT
    return max(_report(Path(word)) for word in words)


def _report(folder: Path) -> int:
    from linesim.report.making import write_reports

    try:
        files = write_reports(folder)
    except (FileNotFoundError, NotADirectoryError, ValueError) as error:
        print(f"linesim: {error}", file=sys.stderr)
        return BAD_INPUT
    except Exception:
        traceback.print_exc()
        print(f"linesim: the report of {folder} failed", file=sys.stderr)
        return FAILURE
    print("\n".join(map(str, files)))
    return 0
