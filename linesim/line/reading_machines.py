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
Read = Callable[[type, Any, KeyPath], Any]  # makes a dataclass from a map


def unequal_machines(reader: Reader, read: Read, station: Mapping[str, Any], path: KeyPath) -> dict[str, model.Station]:
    """Each named machine as it holds for itself; problems go to the reader."""
    common = {key: value for key, value in station.items() if key != "machines"}
    machines = {}
    for name, own in station["machines"].items():
        here = (*path, name)
        if not isinstance(own, Mapping):
            reader.note(here, own, "must be a map of what differs there", "write {} for a machine like the others")
            own = {}
        machines[name] = laid_over_whole(reader, read, model.Station, common, own, OF_ONE_MACHINE, here)
    return machines


def laid_over_whole(
    reader: Reader,
    read: Read,
    whole: type,
    common: Mapping[str, Any],
    own: Mapping[str, Any],
    may_differ: tuple[str, ...],
    path: KeyPath,
) -> Any:
    """A named part of a whole, as it holds for itself. may_differ: keys that its own map may hold."""
    if not NAME.fullmatch(str(path[-1])):
        reader.note(path, None, "names hold letters, digits and _ only, a letter first", "rename it")
    noun = str(path[-2]).removesuffix("s")
    foreign = [key for key in own if key not in may_differ]
    for key in foreign:
        fix = "" if nearest(key, may_differ) else f"a {noun} has {listed(may_differ)}"
        reader.note((*path, key), own[key], f"can't differ by {noun}", fix, nearest(key, may_differ))
    own = {key: value for key, value in own.items() if key not in foreign}
    for lacking, inside in nothing_to_take_away(common, own):
        near = nearest(lacking[-1], inside)
        fix = f"known: {listed(inside)}" if inside and not near else ""
        reader.note((*path, *lacking), None, "there is nothing of this name to take away", fix, near)
    before = len(reader.problems)
    found = read(whole, laid_over(common, own), path)
    # What is wrong with the whole is told there; here only what the own map brings in.
    told = [dotted((*path, key)) for key in own]
    reader.problems[before:] = [
        problem
        for problem in reader.problems[before:]
        if any(problem.key == key or problem.key.startswith((f"{key}.", f"{key}[")) for key in told)
    ]
    return found
