"""Hydra's complaints about what the user typed, as problems in our own form: key, value, rule, fix, nearest name."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import yaml
from hydra.errors import HydraException, MissingConfigException, OverrideParseException
from omegaconf.errors import OmegaConfBaseException

from linesim.line import Line, LineError, Problem
from linesim.line.sources import PACKAGE_HEADER, read_line_file

CAUGHT = (HydraException, OmegaConfBaseException, yaml.YAMLError, ValueError)
LINE_KEYS = tuple(Line.__dataclass_fields__)


def explain(error: Exception, kinds: Mapping[str, str], words: list[str]) -> Problem:
    """The problem behind an exception of Hydra, OmegaConf or the YAML reader.

    kinds: the run settings there are -> the kind of value each takes, in words. words: what Hydra was given.
    """
    match error:
        case MissingConfigException():
            return _missing_file(error)
        case OverrideParseException():
            return _unreadable(error.override)
        case yaml.YAMLError():
            return _broken_file(error)
    text = str(error)
    cause = error.__cause__ if isinstance(error.__cause__, OmegaConfBaseException) else error
    key = str(getattr(cause, "full_key", None) or getattr(cause, "key", None) or "")
    if "requires --multirun" in text or "Ambiguous value" in text:
        word = next(word for word in words if word in text)
        several = word.lstrip("+").partition("=")[0].partition(".")[0] in ("line", "change", *kinds)
        return _several_values(word) if several else _override(text, key, kinds, [word])
    if text.startswith(("Could not override", "Error merging override")):
        return _override(text, key, kinds, words)
    if composed := re.search(r"^In '(\w+)': \w+ raised.*?(?:Value '(.*?)' of type.*)?full_key: (\S+)", text, re.DOTALL):
        file, value, name = composed.groups()
        return replace(_override(text, name, kinds, [f"{name}={value}"]), value=value, file=f"{file}.yaml")
    if no_map := re.search(r"(?:In|primary config) '([\w/]+)'.*(?:Cannot merge|must be a) DictConfig", text, re.DOTALL):
        rule, fix = "must be a map of keys", "write KEY: VALUE at the start of a line"
        return Problem("", None, rule, fix, f"{no_map[1]}.yaml")
    if headless := re.search(r"In 'change/([^']+)'.*Key 'change' not in", text, re.DOTALL):
        rule = f"a change must be headed {PACKAGE_HEADER}"
        return Problem("change", headless[1], rule, "make that the first line of its file")
    if absent := re.search(r"Could not delete from config. '(.+)' does not exist", text):
        return Problem(absent[1], None, "is not there, so it can't be taken away", "look at its name with --cfg job")
    reason = " ".join((text or str(cause)).split()).rstrip(".")
    return Problem(key or "command line", None, reason, "look at the key's name, or at linesim COMMAND --help")


def _override(text: str, key: str, kinds: Mapping[str, str], words: list[str]) -> Problem:
    named = [word for word in words if key and re.match(rf"[+~]*{re.escape(key)}[.=]", word)]  # the key or one below it
    word = next((word for word in words if word in text), named[0] if named else f"{key}=")
    name, _, value = word.lstrip("+~").partition("=")
    if name.startswith("line."):
        rule = "lies below a key that holds a plain value, not a map"
        return Problem(name, value, rule, "give the key above it a map first, or change the value in the line file")
    if name in ("line", "change") and "No match in the defaults list" in text:
        rule = "can't be chosen: your settings file has a defaults list without it"
        return Problem(name, value, rule, "take its defaults away, so that it lies over the shipped settings")
    if name in kinds:
        return Problem(name, value, f"must be {kinds[name]}", f"write for example {_example(name, kinds[name])}")
    if name.partition(".")[0] in LINE_KEYS:
        return Problem(name, value, "belongs to the line, not to the run settings", f"write line.{name}={value}")
    near = difflib.get_close_matches(name, kinds, n=1)
    known = f"known settings: {', '.join(kinds)}; a key of the line begins with line."
    return Problem(name, value, "is not a run setting", known, suggestion=near[0] if near else None)


def _example(name: str, kind: str) -> str:
    values = {
        "a number of hours": "100",
        "a number of weeks": "4",
        "a whole number": "5",
        "true or false": "true",
        "a name": "grind",
    }
    first = kind.removesuffix(" or null")
    return f"{name}={values.get(first, first.split(', ')[0].split()[-1])}"


def _missing_file(error: MissingConfigException) -> Problem:
    path = (error.missing_cfg_file or "").removesuffix(".yaml")
    group, _, name = path.partition("/") if path.startswith(("line/", "change/")) else path.rpartition("/")
    options = [option for option in error.options or () if option != "file"]
    near = difflib.get_close_matches(name, options, n=1)
    fix = f"take one of {', '.join(options)}" if options else "look at --config-dir and --config-name"
    if group == "line":
        fix += ", or give the path of a file that ends in .yaml on the command line"
        if meant := _file_meant(Path(name)):
            return Problem(group, name, "is a folder" if Path(name).is_dir() else "is no shipped line", meant)
    what = f"no {group or 'file'} of this name is in ./conf, $LINESIM_CONF or among the shipped ones"
    return Problem(group or "--config-name", name, what, fix, suggestion=near[0] if near else None)


def _file_meant(path: Path) -> str:
    """What to write for a path that leads to no file by itself but to one with a little more."""
    if path.is_dir():
        return f"write {path / 'line.yaml'}" if (path / "line.yaml").is_file() else "give the path of a line file"
    beside = path.with_name(f"{path.name}.yaml")
    return f"write {beside}" if beside.is_file() else ""


def _unreadable(word: str) -> Problem:
    name, equals, value = word.partition("=")
    shown = name.lstrip("+~")
    if not equals:
        return Problem(shown, None, "is neither KEY=VALUE nor the path of a line file", f"write {shown}=VALUE")
    if value[:1] in ("[", "{"):
        rule = "must be a list [a, b] or a map {a: 1, b: 2} with all its brackets and commas"
        return Problem(shown, value, rule, f"quote the whole for the shell: '{shown}=...'")
    rule = "is a key that the command line can't read: only letters, digits, _ - and dots"
    return Problem(shown, value, rule, "set this value in the line file")


def _several_values(word: str) -> Problem:
    name, _, value = word.lstrip("+").partition("=")
    rule = "is several values, but one run takes one"
    if name in ("line", "change"):
        shown = value.replace("file/", "").replace("[]", "none")
        both = f", or lay all over one line: change=[{shown}]" * (name == "change" and "none" not in shown)
        return Problem(name, shown, rule, f"set them side by side with linesim compare{both}")
    return Problem(name, value, rule, f"add --multirun for a run with each, or write {name}=[{value}] for a list")


def _broken_file(error: yaml.YAMLError) -> Problem:
    """The problem as the reader of line files would tell it, if the file is still the same."""
    mark = getattr(error, "problem_mark", None)
    try:
        read_line_file(Path(mark.name) if mark else Path())
    except LineError as told:
        return told.problems[0]
    return Problem("", None, f"is not YAML: {error}", file=mark.name if mark else None)
