"""Changes and overrides that name what the line does not have: one message instead of the many that follow."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from typing import Any

from linesim.line.called import each_called
from linesim.line.checks import NAMED, PLACES, Finding
from linesim.line.model import Line, Loader
from linesim.line.problems import listed, nearest
from linesim.line.sources import Origins


def strangers(line: Line, content: Mapping[str, Any], origins: Origins) -> dict[tuple[str, str], str]:
    """(kind, name) -> layer of each thing that a layer above the file adds and that can't be meant as new.

    Such are places that the route doesn't name, crews that nobody calls and loaders that lack needed keys.
    """
    called = {name for _, each in each_called(line) for name in each.crew}
    needed = {field.name for field in fields(Loader) if field.default is field.default_factory is MISSING}
    found = {}
    for kind in NAMED:
        for name in getattr(line, kind):
            origin = origins.get((kind, name))
            astray = (
                (kind in PLACES and name not in line.route)
                or (kind == "crews" and name not in called)
                or (kind == "loaders" and not needed <= set(_keys(content[kind][name])))
            )
            if origin and origin.layer != "line" and astray:
                found[kind, name] = origin.layer
    return found


def stranger_findings(line: Line, found: Mapping[tuple[str, str], str]) -> Iterator[Finding]:
    """A finding for each layer and kind of strangers."""
    groups: dict[tuple[str, str], list[str]] = defaultdict(list)
    for (kind, name), layer in found.items():
        groups[layer, kind].append(name)
    for (layer, kind), names in groups.items():
        own = [name for name in getattr(line, kind) if (kind, name) not in found]
        has = f"it has {listed(own)}" if own else f"it has no {kind}"
        rule = f"{layer} sets {listed(names)}, but the line has no such {kind}: {has}"
        is_change = layer.startswith("change")
        fix = "take a change made for this line, or " * is_change + "give what is new all its keys, and use it"
        near = nearest(names[0], own) if len(names) == 1 else None
        yield Finding((kind, names[0]), None, rule, fix, near)


def _keys(given: Any) -> list[str]:
    return list(given) if isinstance(given, Mapping) else []
