"""From the words a user types to the overrides that Hydra reads."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from hydra.core.override_parser.overrides_parser import OverridesParser
from hydra.errors import HydraException

from linesim.line import LineError, Problem
from linesim.line.file_names import FILE_ENDINGS
from linesim.line.units import KINDS

FLAGS_WITH_VALUE = {"--config-dir", "-cd", "--config-name", "-cn", "--config-path", "-cp", "--cfg", "-c"}
FLAGS_WITH_VALUE |= {"--package", "-p", "--experimental-rerun"}
FLAGS = FLAGS_WITH_VALUE | {"--help", "-h", "--hydra-help", "--version", "--resolve", "--run", "-r", "--multirun", "-m"}
FLAGS |= {"--shell-completion", "-sc", "--info", "-i"}
UNITS = {unit for kind in KINDS.values() for unit in kind.units}
INFOS = ("all", "config", "defaults", "defaults-tree", "plugins", "searchpath")
LINE_STEM = "line"  # of the file in a results folder, which is told by the folder's name


@dataclass
class Arguments:
    """What Hydra gets instead of the user's words.

    words: overrides and flags. files: "line/file/x", "change/file/x" or "study/file/x" (group and name that stand for a
    file in the words) -> that file. folders: those given with --config-dir.
    """

    words: list[str] = field(default_factory=list)
    files: dict[str, Path] = field(default_factory=dict)
    folders: list[Path] = field(default_factory=list)


def read_arguments(words: Sequence[str]) -> Arguments:
    """Turns the words into Hydra's.

    A bare word is the line; a file for `line` or `change` becomes a name in Hydra's groups; overrides of the line get
    "++", so that keys which the file leaves out can be set; a value that Hydra cannot read gets quotes. Raises
    LineError for a flag that there is none of, and for a unit that stands by itself.
    """
    read = Arguments()
    flags: list[str] = []
    for kind, word in told_apart(lines_together(words)):
        if kind in ("flag", "value of a flag"):
            flag, _, value = word.partition("=") if kind == "flag" else (flags[-1], "", word)
            if kind == "flag":
                _check_flag(flag)
            flags.append(word)
            if flag in ("--config-dir", "-cd") and value:
                read.folders.append(Path(value))
        elif kind == "line":
            read.words.append(f"line={_options('line', f'line={word}', read.files)}")
        elif word.startswith("line="):
            read.words.append(f"line={_options('line', word, read.files)}")
        elif word.startswith(("change=", "study=")):
            group = word.partition("=")[0]
            read.words.append(f"{group}={_options(group, word, read.files)}")
        else:
            read.words.append(readable("++" + word if word.startswith("line.") else word))
    read.words += flags  # behind the overrides: Hydra takes these only in one row
    return read


def lines_together(words: Sequence[str]) -> list[str]:
    """The same words, but several lines as one word with commas between them, as Hydra takes them.

    Raises LineError for a unit that a blank has cut off from its number.
    """
    told = [*told_apart(words)]
    for (_, before), (kind, word) in itertools.pairwise(told):
        unit = word.partition(",")[0]
        if kind == "line" and unit in UNITS and "=" in before and before[-1].isdigit():
            key, _, number = before.partition("=")
            fix = f"quote the whole, '{before} {unit}', or leave the blank out, {before}{unit}"
            rule = f"ends at the blank: {unit} behind it is a word of its own"
            raise LineError([Problem(key, number, rule, fix)], "the command")
    lines = [word for kind, word in told if kind == "line"]
    together = [",".join(lines), *[""] * len(lines)]
    made = [together.pop(0) if kind == "line" else word for kind, word in told]
    return [word for (kind, _), word in zip(told, made, strict=True) if kind != "line" or word]


def told_apart(words: Sequence[str]) -> Iterator[tuple[str, str]]:
    """What each word is: a flag, the value of a flag, a line, or an override."""
    rest = list(words)
    while rest:
        word = rest.pop(0)
        flag, has_value, _ = word.partition("=")
        if not word.startswith("-"):
            yield ("line" if not has_value and word[:1] not in "~+" else "override"), word
            continue
        yield "flag", word
        takes_value = flag in FLAGS_WITH_VALUE or (flag in ("--info", "-i") and rest[:1] and rest[0] in INFOS)
        if takes_value and not has_value and rest:
            yield "value of a flag", rest.pop(0)


def _check_flag(flag: str) -> None:
    """Raises LineError for a flag that Hydra does not know; it takes beginnings of them as well."""
    if flag.startswith("--") and not any(known.startswith(flag) for known in FLAGS):
        fix = f"settings are written without dashes: {flag.strip('-')}=VALUE; --help tells them"
        raise LineError([Problem(flag, None, "is no flag", fix)], "the command")


def readable(word: str) -> str:
    """The override with its value in quotes if Hydra's grammar can't read it bare (`<`, `#`, an apostrophe, ...)."""
    key, _, value = word.partition("=")
    parser = OverridesParser.create()
    for candidate in (word, f"{key}={_quoted(value)}"):
        try:
            parser.parse_override(candidate)
        except HydraException:
            if value[:1] in ("[", "{", "'", '"'):
                break
        else:
            return candidate
    return word


def _options(group: str, word: str, files: dict[str, Path]) -> str:
    """The value of `line=` or `change=`: one name or file, or several in brackets or between commas."""
    value = word.partition("=")[2].strip()
    many = value.startswith("[") and value.endswith("]")
    names = [name.strip().strip("'\"") for name in (value[1:-1] if many else value).split(",")]
    options = [_option(group, name, files) for name in names]
    return f"[{','.join(option for option in options if option != '[]')}]" if many else ",".join(options)


def _option(group: str, name: str, files: dict[str, Path]) -> str:
    """The name itself, or a stand-in for it in `files` if it is the path of a file; [] for no change."""
    if group == "change" and name in ("none", "null", ""):
        return "[]"
    if not name.endswith(FILE_ENDINGS):
        return name
    path = Path(name)
    told = path.parent.name if path.stem == LINE_STEM and path.parent.name else path.stem
    stem = re.sub(r"\W+", "_", told)
    option, number = f"file/{stem}", 2
    while files.get(f"{group}/{option}", path) != path:
        option, number = f"file/{stem}_{number}", number + 1
    files[f"{group}/{option}"] = path
    return option


def _quoted(text: str) -> str:
    escaped = re.sub(r"(\\*)'", lambda match: match[1] * 2 + r"\'", text)
    return "'" + re.sub(r"(\\+)$", r"\1\1", escaped) + "'"
