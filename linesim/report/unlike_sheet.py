"""The table of what is not the same in the files of several lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from linesim.line import Line, LineError, build
from linesim.report.defaults import MARK, NOT_NAMED, default_at
from linesim.report.sheets import TEXT, Cell, Column, Sheet

Path = tuple[str, ...]


def what_differs(names: Sequence[str], contents: Mapping[str, Mapping[str, Any] | None]) -> Sheet | None:
    """Keys of the line files whose values are not the same in all lines, each as its file writes it; None if a file is
    missing. Where a file does not name a key its default stands, so marked."""
    files = [content for name in names if (content := contents.get(name)) is not None]
    if len(files) < len(names):
        return None
    flat = [dict(_flat(content)) for content in files]
    lines = [_line(content) for content in files]
    rows: list[list[Cell]] = []
    for path in dict.fromkeys(path for each in flat for path in each):
        told = [each[path] if path in each else default_at(line, path) for each, line in zip(flat, lines, strict=True)]
        if len({words.removesuffix(MARK) for words in told}) > 1:
            rows.append([".".join(path), *told])
    columns = [Column("key of the line file", form=TEXT), *(Column(name, form=TEXT) for name in names)]
    note = f"{MARK.strip()}: the file does not name the key, and this holds. {NOT_NAMED}: nothing stands in its place."
    return Sheet("What is different", columns, rows, note) if rows else None


def _line(content: Mapping[str, Any]) -> Line | None:
    """None if it can't be read: by a later version, or since a file that it names is not there."""
    try:
        return build(content)
    except LineError:
        return None


def _flat(content: Any, above: Path = ()) -> Iterator[tuple[Path, str]]:
    if isinstance(content, Mapping) and content:
        for key, inner in content.items():
            yield from _flat(inner, (*above, str(key)))
    elif isinstance(content, list):
        yield above, ", ".join(map(str, content))
    else:
        yield above, "null" if content is None else str(content)
