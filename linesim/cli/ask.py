"""`linesim ask`: which results there are, and which line of past nights is the best under a condition."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

from linesim.cli.folders import said

BAD_INPUT = 2
USAGE = """usage: linesim ask [FOLDER] [where=CONDITION] [by=MEASURE] [count=NUMBER]

Lists the results in and below a folder (outputs/ if none is given); with where, by or count the best lines and points
of all runs, comparisons and sweeps there. A condition uses measures (with _low and _high for the ends of their 95 %
intervals), investment, demand_per_h (good parts an hour that are wanted) and replications. Quote it for the shell.

  linesim ask
  linesim ask results/parking by=cost_per_good_part
  linesim ask where='throughput_per_h_low >= demand_per_h' by=investment        the cheapest that meets its demand
  linesim ask where='investment < 3e6 and throughput_per_h_low > 24' by=investment count=5
"""
KEYS = ("where", "by", "count")


def command(words: list[str]) -> int:
    """Answers; returns the exit status."""
    if {"--help", "-h"} & set(words):
        print(USAGE, end="")
        return 0
    asked = {key: value for key, equals, value in (word.partition("=") for word in words) if equals and key in KEYS}
    folders = [word for word in words if word.partition("=")[0] not in KEYS]
    if len(folders) > 1 or not asked.get("count", "1").isdecimal():
        wrong = folders[1] if len(folders) > 1 else f"count={asked['count']}"
        print(
            f"linesim: {wrong}: give one folder, and where=, by= and count=NUMBER as you like\n{USAGE}", file=sys.stderr
        )
        return BAD_INPUT
    folder = Path(folders[0] if folders else "outputs")
    from linesim.results.past_text import answer, contents

    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else None
    try:
        print(answer(folder, asked, width) if asked else contents(folder, width))
    except OSError as error:
        print(f"linesim: {said(error)}", file=sys.stderr)
        return BAD_INPUT
    except ValueError as error:
        print(f"linesim: {error}", file=sys.stderr)
        return BAD_INPUT
    return 0
