"""Reading the carriages of a loader: each is a loader of its own, with its map laid over the common one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from linesim.line import model
from linesim.line.carriers import OF_ONE_CARRIAGE, inherited
from linesim.line.problems import KeyPath
from linesim.line.reading_machines import Read, laid_over_whole

if TYPE_CHECKING:
    from linesim.line.reading import Reader

Refer = Callable[[str, str, KeyPath], str]  # a name that must exist in a group of names


def read_carriages(
    reader: Reader, read: Read, refer: Refer, loader: Mapping[str, Any], path: KeyPath
) -> dict[str, model.Loader]:
    """Each carriage as it holds for itself, with those stops of the loader that it names; problems go to the reader."""
    given = loader["carriages"]
    if not isinstance(given, Mapping) or len(given) < 2:
        rule = "must be a map of two carriages or more"
        reader.note(path, given, rule, "write {left: {stops: [places, it, serves]}, right: ...}")
        return {}
    stops: dict[str, list[str]] = {}
    for name, own in given.items():
        named = own.get("stops") if isinstance(own, Mapping) else None
        here = (*path, name, "stops")
        if isinstance(named, list) and named:
            stops[name] = [refer(str(place), "stops", (*here, at)) for at, place in enumerate(named)]
        else:
            reader.note(here, named, "must be a list of stops of this loader", "write [stocker, turn]")
    carriages = {}
    for name, of_carriage in stops.items():
        own = {key: value for key, value in given[name].items() if key != "stops"}
        common = inherited(loader, of_carriage)
        carriages[name] = laid_over_whole(reader, read, model.Loader, common, own, OF_ONE_CARRIAGE, (*path, name))
    return carriages
