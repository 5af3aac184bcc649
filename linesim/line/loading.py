"""The way in: a line from a file or map, with changes and overrides, checked as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from linesim.line.checks import check
from linesim.line.checks_aside import check_aside
from linesim.line.checks_batches import check_batches
from linesim.line.checks_crews import check_crews
from linesim.line.checks_ends import check_ends
from linesim.line.checks_floor import check_floor
from linesim.line.checks_hands import check_hands
from linesim.line.checks_loaders import check_loaders
from linesim.line.checks_parts import check_parts
from linesim.line.checks_shifts import check_shifts
from linesim.line.checks_sizes import check_sizes
from linesim.line.checks_skips import check_skips
from linesim.line.checks_stations import check_stations
from linesim.line.layers import compose, without_nulls
from linesim.line.model import Line
from linesim.line.problems import LineError, Problem, dotted
from linesim.line.reading import Reader
from linesim.line.sources import Origins
from linesim.line.strangers import stranger_findings, strangers

CHECKS = (
    check_loaders,
    check_stations,
    check_sizes,
    check_ends,
    check_shifts,
    check_parts,
    check_skips,
    check_crews,
    check_aside,
    check_floor,
    check_hands,
    check_batches,
)


def load_line(
    source: str | Path | Mapping[str, Any],
    overrides: Sequence[str] = (),
    change: str | Path | Sequence[str | Path] | None = None,
) -> Line:
    """A line from its file, ready to be simulated.

    source: path of a YAML file, name of a line in ./conf/line, in line/ of the folder that the variable LINESIM_CONF
        names, or of a shipped one, or a map of the same keys;
    overrides: `buffers.park.capacity=8`, with or without `line.` in front, laid over last; a map over a map merges and
        null takes a key away;
    change: name or path of a change to lay over the line, or several, in order; "none" is no change.
    Raises LineError (a ValueError) with all problems of file, changes and overrides together.
    """
    merged = compose(source, overrides, change)
    return build(merged.content, merged.origins)


def line_mapping(
    source: str | Path | Mapping[str, Any],
    overrides: Sequence[str] = (),
    change: str | Path | Sequence[str | Path] | None = None,
) -> dict[str, Any]:
    """The plain map that `load_line` reads with the same arguments: the resolved line, in the units of its files."""
    content: dict[str, Any] = compose(source, overrides, change).content
    return content


def build(mapping: Mapping[str, Any], origins: Origins | None = None) -> Line:
    """A line from a plain map that already holds its changes and overrides; null counts as not given.

    origins: file and line of each key, for messages. Raises LineError with all problems together.
    """
    content = without_nulls(mapping)
    if not isinstance(content, Mapping):
        raise LineError([Problem("line", content, "must be a map with route, stations and more", "name one line file")])
    reader = Reader(origins or {})
    line = reader.read(content)
    if (line.route and line.stations) or not reader.problems:
        _note_findings(line, content, reader)
    if reader.problems:
        raise LineError(reader.problems, str(content.get("name", "the line")))
    return line


def _note_findings(line: Line, content: Mapping[str, Any], reader: Reader) -> None:
    """Add what the cross checks find, unless a problem with the same keys already explains it."""
    found = strangers(line, content, reader.origins)
    keys_of_strangers = {dotted(path) for path in found}
    noted = [problem.key for problem in reader.problems]
    reader.problems = [problem for problem in reader.problems if not _at_or_below(problem.key, keys_of_strangers)]

    for finding in [*check(line, content, reader.origins), *(found for each in CHECKS for found in each(line))]:
        key, beside = dotted(finding.path), [dotted(path) for path in finding.beside]
        explained = any(other == key or _at_or_below(other, beside) for other in noted)
        if not explained and not _at_or_below(key, keys_of_strangers):
            reader.note(*finding[:5])
    for finding in stranger_findings(line, found):
        reader.note(*finding[:5])


def _at_or_below(key: str, others: Iterable[str]) -> bool:
    return any(key == other or key.startswith((f"{other}.", f"{other}[")) for other in others)
