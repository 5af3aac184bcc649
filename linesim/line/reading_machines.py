"""Reading the named machines of a station: each is a station of its own, with its map laid over the common one."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from linesim.line import model
from linesim.line.machines import OF_ONE_MACHINE, laid_over, nothing_to_take_away
from linesim.line.problems import KeyPath, dotted, listed, nearest

if TYPE_CHECKING:
    from linesim.line.reading import Reader

NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")  # of anything that a file names


def unequal_machines(
    reader: Reader, read: Callable[[type, Any, KeyPath], Any], station: Mapping[str, Any], path: KeyPath
) -> Mapping[str, model.Station]:
    """Each named machine as it holds for itself. read: makes a dataclass from a map; problems go to the reader."""
    common = {key: value for key, value in station.items() if key != "machines"}
    machines = {}
    for name, own in station["machines"].items():
        here = (*path, name)
        if not NAME.fullmatch(name):
            reader.note(here, None, "names hold letters, digits and _ only, a letter first", "rename it")
        if not isinstance(own, Mapping):
            reader.note(here, own, "must be a map of what differs there", "write {} for a machine like the others")
            own = {}
        foreign = [key for key in own if key not in OF_ONE_MACHINE]
        for key in foreign:
            fix = "" if nearest(key, OF_ONE_MACHINE) else f"a machine has {listed(OF_ONE_MACHINE)}"
            reader.note((*here, key), own[key], "can't differ by machine", fix, nearest(key, OF_ONE_MACHINE))
        own = {key: value for key, value in own.items() if key not in foreign}
        for lacking, inside in nothing_to_take_away(common, own):
            near = nearest(lacking[-1], inside)
            fix = f"known: {listed(inside)}" if inside and not near else ""
            reader.note((*here, *lacking), None, "there is nothing of this name to take away", fix, near)
        before = len(reader.problems)
        machines[name] = read(model.Station, laid_over(common, own), here)
        # What is wrong with the station is told there; here only what the machine's own map brings in.
        told = [dotted((*here, key)) for key in own]
        reader.problems[before:] = [
            problem
            for problem in reader.problems[before:]
            if any(problem.key == key or problem.key.startswith((f"{key}.", f"{key}[")) for key in told)
        ]
    return machines
