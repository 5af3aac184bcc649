"""A line as it is asked for: its file, changes laid over it, then overrides. Maps merge, null takes a key away."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import partial
from pathlib import Path
from typing import Any

import yaml

from linesim.line import model
from linesim.line.problems import KeyPath, LineError, Problem, dotted, listed, nearest
from linesim.line.sources import Origin, Origins, Source, ValueLoader, find, read_change, read_line_file

OVERRIDE = Origin("override", None, "override")
MODEL_KEYS = {field.name for kind in vars(model).values() if is_dataclass(kind) for field in fields(kind)}


def compose(
    source: str | Path | Mapping[str, Any],
    overrides: Sequence[str] | Mapping[str, Any] = (),
    change: str | Path | Sequence[str | Path] | None = None,
) -> Source:
    """The merged plain map of a line and the origin of each key; arguments as for `load_line`.

    overrides: may be a map, too, such as {"buffers.park.capacity": 8}, whose values are taken as they are.
    Raises LineError for files and overrides that can't be read, all of them together.
    """
    base, *above = _read_layers(source, overrides, change)
    merged = Source({}, {(): base.origins.get((), Origin("", None, "line"))})
    _lay_over(merged, base.content, base.origins, ())
    problems = []
    for layer in above:
        problems += _nothing_to_remove(merged.content, layer.content, layer.origins)
        _lay_over(merged, layer.content, layer.origins, ())
    if problems:
        raise LineError(problems)
    return Source(without_nulls(merged.content), merged.origins)


def change_names(change: str | Path | Sequence[str | Path] | None) -> list[str | Path]:
    """The changes that are asked for; None and "none" mean no change."""
    names = [change] if isinstance(change, (str, Path)) else list(change or ())
    return [name for name in names if str(name) not in ("", "none")]


def without_nulls(content: Any) -> Any:
    """The same line without the keys that are null; an infeed or outfeed on the route may be null, nothing to say."""
    if isinstance(content, Mapping):
        route = content.get("route")
        for kind in ("infeed", "outfeed"):
            if isinstance(content.get(kind), Mapping) and isinstance(route, list):
                bare: dict[str, Any] = {
                    name: {} for name, value in content[kind].items() if value is None and name in route
                }
                content = {**content, kind: {**content[kind], **bare}}
    return _pruned(content)


def _pruned(content: Any, path: KeyPath = ()) -> Any:
    if not isinstance(content, Mapping):
        return content
    if _is_of_one_machine(path):
        return {str(key): _as_text(inner) for key, inner in content.items()}
    return {str(key): _pruned(inner, (*path, str(key))) for key, inner in content.items() if inner is not None}


def _is_of_one_machine(path: KeyPath) -> bool:
    """Whether this is, or is inside, the map of a named machine: null there takes away what its station has."""
    return len(path) >= 4 and (path[0], path[2]) == ("stations", "machines")


def _as_text(content: Any) -> Any:
    if isinstance(content, Mapping):
        return {str(key): _as_text(inner) for key, inner in content.items()}
    return content


def _read_layers(source: Any, overrides: Sequence[str] | Mapping[str, Any], change: Any) -> list[Source]:
    """File, changes and overrides, each as a map of its own; raises LineError with what is wrong in any of them."""
    problems: list[Problem] = []
    layers: list[Source] = []
    readers: list[Callable[[], Source]] = [partial(_base, source)]
    readers += [partial(read_change, name) for name in change_names(change)]
    if isinstance(overrides, Mapping):
        readers += [partial(_layer, key.split("."), value) for key, value in overrides.items()]
    else:
        readers += [partial(_override, text) for text in overrides]
    for read in readers:
        try:
            layers.append(read())
        except LineError as error:
            problems += error.problems
    problems += [_not_a_map(layer) for layer in layers if not isinstance(layer.content, Mapping)]
    if problems:
        raise LineError(problems)
    return layers


def _base(source: str | Path | Mapping[str, Any]) -> Source:
    if isinstance(source, Mapping):
        return Source(source, {})
    return read_line_file(find("line", source))


def _override(text: str) -> Source:
    """`buffers.park.capacity=8` as a small layer; prefixes `line.`, `+`, `++`, and `~` for taking a key away."""
    key, equals, value_text = text.partition("=")
    removes = key.startswith("~")
    key = key.lstrip("~+").strip().removeprefix("line.")
    steps = key.split(".")
    if not all(steps) or (not equals and not removes):
        raise LineError(
            [Problem("", text, f"{text} is not an override", "write key=value, such as buffers.park.capacity=8")]
        )
    try:
        value = None if removes else yaml.load(value_text, ValueLoader)
    except yaml.YAMLError:
        rule = f"{value_text} can't be read as a value"
        raise LineError([Problem(key, None, rule, "write a value, [a, list] or {a: map}", "override")]) from None
    return _layer(steps, value)


def _layer(steps: Sequence[str], value: Any) -> Source:
    """A layer of one value, so many steps down."""
    for step in reversed(steps):
        value = {step: value}
    return Source(value, dict.fromkeys(_paths(value), OVERRIDE))


def _paths(content: Any, path: KeyPath = ()) -> list[KeyPath]:
    """Paths of all keys and list items below this content."""
    if isinstance(content, Mapping):
        pairs: list[tuple[str | int, Any]] = [(str(key), inner) for key, inner in content.items()]
    else:
        pairs = list(enumerate(content)) if isinstance(content, list) else []
    return [found for key, inner in pairs for found in [(*path, key), *_paths(inner, (*path, key))]]


def _lay_over(under: Source, content: Mapping[str, Any], origins: Origins, path: KeyPath) -> None:
    """Merge a map into the map that is there; what already stood keeps its origin as a map, values take the new one."""
    target = under.content
    for step in path:
        target = target[step]
    for key, value in content.items():
        here = (*path, str(key))
        old = target.get(str(key))
        if isinstance(value, Mapping):
            if not isinstance(old, Mapping):
                _move_in(under.origins, origins, here)
                target[str(key)] = {}
            _lay_over(under, value, origins, here)
        else:
            _move_in(under.origins, origins, here)
            target[str(key)] = value
            for inner in _paths(value, here):
                _move_in(under.origins, origins, inner)


def _move_in(origins: Origins, new: Origins, path: KeyPath) -> None:
    if path in new:
        origins[path] = new[path]
    else:
        origins.pop(path, None)


def _nothing_to_remove(below: Any, content: Mapping[str, Any], origins: Origins, path: KeyPath = ()) -> list[Problem]:
    """Nulls for names that are not there, most likely misspelt. A key that the model knows may be null anyway."""
    known = below if isinstance(below, Mapping) else {}
    problems = []
    for key, value in content.items():
        here = (*path, str(key))
        if isinstance(value, Mapping):
            problems += _nothing_to_remove(known.get(str(key)), value, origins, here)
        elif value is None and key not in known and key not in MODEL_KEYS and not _is_of_one_machine(path):
            file, line, _ = origins.get(here, OVERRIDE)
            rule, fix = "there is nothing of this name to take away", f"known: {listed(known)}" if known else ""
            problems.append(Problem(dotted(here), None, rule, fix, file, line, nearest(key, known)))
    return problems


def _not_a_map(layer: Source) -> Problem:
    origin = layer.origins.get((), OVERRIDE)
    rule = "must hold keys with values, such as route, stations and buffers"
    return Problem("", None, rule, "write key: value", origin.file, origin.line)
