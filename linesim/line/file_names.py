"""Files of lines and changes as people are shown them: by a short name that tells each from the others."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePath

LINE, CHANGE = GROUPS = ("line", "change")  # what is chosen by the name or path of a file
FILE_ENDINGS = (".yaml", ".yml")
TOGETHER = " + "  # between files that are laid over one line together


def short_file_names(given: Iterable[str]) -> dict[str, str]:
    """Each name or path -> as few of its last parts as tell it from the others, without its ending.

    A line.yaml goes by its folder, since every results folder has one. What no part tells apart is shown as given.
    """
    ways = {each: _from_short_to_whole(each) for each in given}
    shown = {}
    for each, own in ways.items():
        others = {way for other, those in ways.items() if other != each for way in those}
        shown[each] = next((way for way in own if way not in others), each)
    return shown


def short_levels(levels: Iterable[str], together: str = TOGETHER) -> dict[str, str]:
    """The same for levels that may be several files together, such as "fast_gantry + my/own.yaml"."""
    parted = {level: level.split(together) for level in levels}
    names = short_file_names(name for parts in parted.values() for name in parts)
    return {level: together.join(names[name] for name in parts) for level, parts in parted.items()}


def _from_short_to_whole(given: str) -> list[str]:
    path = PurePath(given)
    parts = path.with_suffix("").parts if path.suffix in FILE_ENDINGS else path.parts
    if len(parts) > 1 and path.name == "line.yaml":
        parts = parts[:-1]
    return [str(PurePath(*parts[-count:])) for count in range(1, len(parts) + 1)]
