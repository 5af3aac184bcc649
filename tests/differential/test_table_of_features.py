"""The table of features: every key that changes what happens has a row, and what a row names is there."""

from __future__ import annotations

import dataclasses
import re
import typing
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from linesim.line import model
from tests.differential.test_each_feature import CASES, TELL_NOTHING_OF_TIME

PROJECT = Path(__file__).resolve().parents[2]
TICK = "✓"
COLUMNS = ["feature", "keys", "SimPy", "compiled", "exact test", "differential test"]
OF_ANY_DURATION = "family"


class Row(NamedTuple):
    feature: str
    keys: tuple[str, ...]
    ticks: tuple[str, str]
    exact: tuple[str, ...]
    tiny_lines: tuple[str, ...]


def rows_of(text: str) -> list[Row]:
    """The table under the heading Features."""
    section = text.partition("\n## Features\n")[2].partition("\n## ")[0]
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in section.splitlines() if "|" in line]
    assert cells[0] == COLUMNS
    return [Row(a, quoted(b), (c, d), quoted(e), quoted(f)) for a, b, c, d, e, f in cells[2:]]


def quoted(cell: str) -> tuple[str, ...]:
    return tuple(re.findall(r"`([^`]+)`", cell))


ROWS = rows_of((PROJECT / "DEVELOPERS.md").read_text(encoding="utf-8"))


def key_paths(kind: Any, before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Keys of a line file that change what happens, without the names between: ("stations", "breakdowns", "mtbf")."""
    hints = typing.get_type_hints(kind)
    for field in dataclasses.fields(kind):
        if field.name in TELL_NOTHING_OF_TIME or "read_from" in field.metadata:  # such a key is another field's too
            continue
        path = (*before, field.metadata.get("key", field.name))
        inner = [one for one in parts_of(hints[field.name]) if dataclasses.is_dataclass(one) and one is not kind]
        below = [further for one in inner for further in key_paths(one, path)] if len(path) < 5 else []
        yield from below or [path]


def parts_of(hint: Any) -> Iterator[Any]:
    yield hint
    for inner in typing.get_args(hint):
        yield from parts_of(inner)


PATHS = list(key_paths(model.Line))


def speaks_of(key: str, path: tuple[str, ...]) -> bool:
    """Whether a key of the table stands in a path: `breakdowns.crew` in stations.breakdowns.crew."""
    words = tuple(key.split("."))
    return any(path[at : at + len(words)] == words for at in range(len(path)))


def mentions(given: Any, word: str) -> bool:
    """Whether a plain line has a key of this name somewhere."""
    if isinstance(given, Mapping):
        return word in given or any(mentions(value, word) for value in given.values())
    return isinstance(given, list) and any(mentions(value, word) for value in given)


def test_every_key_that_changes_what_happens_has_a_row() -> None:
    keys = {key for row in ROWS for key in row.keys}
    missing = {".".join(path) for path in PATHS if not any(speaks_of(key, path) for key in keys)}
    assert missing == set(), "give each a row in DEVELOPERS.md, Features"


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.feature)
def test_what_a_row_names_is_there(row: Row) -> None:
    assert row.ticks == (TICK, TICK)
    assert row.keys
    assert [key for key in row.keys if key != OF_ANY_DURATION and not any(speaks_of(key, p) for p in PATHS)] == []
    assert row.exact
    assert [path for path in row.exact if not (PROJECT / path).is_file()] == []
    assert row.tiny_lines
    assert [name for name in row.tiny_lines if name not in CASES] == []
    words = {key.rpartition(".")[2] for key in row.keys}
    for name in row.tiny_lines:
        assert any(mentions(CASES[name].line, word) for word in words), f"{name} has none of {row.keys}"


def test_a_row_that_is_wrong_is_found() -> None:
    """The helpers can fail: a key that is nowhere, a line that has not what it is named for."""
    assert not any(speaks_of("parts.skip", path) for path in PATHS)
    assert not any(speaks_of("crews.mtbf", path) for path in PATHS)
    assert any(speaks_of("parts.skips", path) for path in PATHS)
    assert not mentions(CASES["dwell"].line, "skips")
    assert mentions(CASES["parts_that_skip_a_station"].line, "skips")
