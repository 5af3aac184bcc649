"""The shell command `linesim`: picks the sub-command and hands over. Nothing heavy is imported before that."""

from __future__ import annotations

import difflib
import sys
from collections.abc import Sequence
from functools import partial
from importlib import import_module

COMMANDS = {
    "run": "simulate a line; print and save throughput, OEE, WIP, lead time, and plots",
    "compare": "simulate several lines on the same random numbers; tell how they differ and which may be the best",
    "sweep": "simulate many points: layouts, buffer sizes, any value of the line; can be stopped, and goes on",
    "sensitivity": "tell what improvements and assumptions are worth in good parts an hour",
    "acceptance": "simulate an acceptance test: what it may give, the risk of a pass mark, the mark for a risk",
    "check": "check a line file; print every problem, or a summary and its rough-cut capacity",
    "ask": "list past results, or find the best line of all of them under a condition",
    "report": "make page and workbook of a results folder, to hand on",
    "trace": "print what happens on a line, event by event",
}
WITHOUT_LINE = ("ask", "report")  # these take no line, so that Hydra has nothing to do for them
USAGE = """linesim simulates automated machining lines: what comes out per hour, where it is lost, how sure that is.

usage: linesim COMMAND [LINE] [KEY=VALUE ...]

commands:
{commands}

LINE is the path of a line file or the name of a shipped line. KEY=VALUE changes a run setting or any value of the line.

  linesim run                                      the demo line
  linesim run my/line.yaml hours=500               your own line for 500 measured hours
  linesim run ring_cell change=fast_gantry line.buffers.park_1.capacity=4
  linesim compare ring_cell change=none,fast_gantry,second_grinder
  linesim sweep ring_cell line.buffers.park_1.capacity=1,2,4,8 change=none,fast_gantry
  linesim sensitivity ring_cell replications=20
  linesim check my/line.yaml
  linesim report outputs/2026-01-31/my_line

linesim COMMAND --help tells the settings of a command and the lines and changes that are there.
"""


def main(arguments: Sequence[str] | None = None) -> None:
    """Runs the command and ends the program: status 0 for success, 2 for bad input, 1 for a failure, 130 if stopped."""
    sys.exit(command(list(sys.argv[1:] if arguments is None else arguments)))


def command(arguments: list[str]) -> int:
    """Runs the command that these arguments of the shell ask for; returns the exit status."""
    if not arguments or arguments[0] in ("--help", "-h", "help"):
        width = max(map(len, COMMANDS))
        print(USAGE.format(commands="\n".join(f"  {name:<{width}}  {text}" for name, text in COMMANDS.items())))
        return 0
    if arguments[0] == "--version":
        from linesim import __version__

        print(f"linesim {__version__}")
        return 0
    name, *rest = arguments
    if name not in COMMANDS:
        near = difflib.get_close_matches(name, COMMANDS, n=1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        print(f"linesim: {name!r} is not a command.{hint} Commands: {', '.join(COMMANDS)}.", file=sys.stderr)
        return 2
    room = import_module(f"linesim.cli.{name}")
    if name in WITHOUT_LINE:
        return int(room.command(rest))
    from linesim.cli.hydra_app import start

    if hasattr(room, "words_for_hydra"):  # its words mean more than Hydra knows; the task is told what was typed
        return start(name, rest, partial(room.task, typed=rest), for_hydra=room.words_for_hydra)
    return start(name, rest, room.task, together=getattr(room, "TOGETHER", False))
