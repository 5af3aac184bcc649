"""From the words a user types to the overrides that Hydra reads."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from hydra.core.override_parser.overrides_parser import OverridesParser
from hydra.errors import HydraException

FLAGS_WITH_VALUE = {"--config-dir", "-cd", "--config-name", "-cn", "--config-path", "-cp", "--cfg", "-c"}
FLAGS_WITH_VALUE |= {"--package", "-p", "--experimental-rerun"}
INFOS = ("all", "config", "defaults", "defaults-tree", "plugins", "searchpath")
LINE_STEM = "line"  # of the file in a results folder, which is told by the folder's name
FILE_ENDINGS = (".yaml", ".yml")


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
    "++", so that keys which the file leaves out can be set; a value that Hydra cannot read gets quotes.
    """
    read, flags = Arguments(), []
    rest = list(words)
    while rest:
        word = rest.pop(0)
        flag, has_value, value = word.partition("=")
        if word.startswith("-"):
            flags.append(word)
            takes_value = flag in FLAGS_WITH_VALUE or (flag in ("--info", "-i") and rest[:1] and rest[0] in INFOS)
            if takes_value and not has_value and rest:
                value = rest.pop(0)
                flags.append(value)
            if flag in ("--config-dir", "-cd"):
                read.folders.append(Path(value))
        elif "=" not in word and word[:1] not in "~+":
            read.words.append(f"line={_option('line', word, read.files)}")
        elif word.startswith("line="):
            read.words.append(f"line={_options('line', word, read.files)}")
        elif word.startswith(("change=", "study=")):
            group = word.partition("=")[0]
            read.words.append(f"{group}={_options(group, word, read.files)}")
        else:
            read.words.append(readable("++" + word if word.startswith("line.") else word))
    read.words += flags  # behind the overrides: Hydra takes these only in one row
    return read


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
