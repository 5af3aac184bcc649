"""Where lines and changes come from: finding their files, and YAML read with the line each key stands on."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from linesim.line.file_names import FILE_ENDINGS
from linesim.line.problems import KeyPath, LineError, Problem, dotted, listed, nearest

PACKAGE_HEADER = "# @package line"
STUDY_HEADER = "# @package _global_"


_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # the fast one is not on every system


class ValueLoader(_Loader):
    """Reads YAML, but leaves a time of day as it is written: to YAML 6:00 is the number 360, and 06:00 a text."""


def _whole_number(loader: Any, node: yaml.ScalarNode) -> Any:
    return node.value if ":" in node.value else loader.construct_yaml_int(node)


ValueLoader.add_constructor("tag:yaml.org,2002:int", _whole_number)


class Origin(NamedTuple):
    """Where a value came from: its file and line there, and the layer: "line", "change <name>" or "override"."""

    file: str
    line: int | None
    layer: str


Origins = dict[KeyPath, Origin]


class Source(NamedTuple):
    """What one file says: plain maps, lists and values, and where each key of it stands."""

    content: Any
    origins: Origins


def conf_dir() -> Path:
    """The folder of shipped settings, lines and changes: inside the package once installed, beside it in a checkout."""
    package = Path(__file__).resolve().parents[1]
    return next((folder for folder in (package / "conf", package.parent / "conf") if folder.is_dir()), package / "conf")


def user_dirs() -> list[Path]:
    """The user's own folders: conf/ in the working folder, then the one that the variable LINESIM_CONF names."""
    from_environment = os.environ.get("LINESIM_CONF")
    return [Path("conf"), *([Path(from_environment)] if from_environment else [])]


def conf_dirs() -> list[Path]:
    """Folders searched for a name, in order: the user's own go before the shipped one."""
    return [*user_dirs(), conf_dir()]


def known_names(group: str) -> list[str]:
    """Names of all lines ("line"), changes ("change") or studies ("study") that can be given without a path."""
    return sorted({file.stem for folder in conf_dirs() for file in (folder / group).glob("*.yaml")})


def find(group: str, name: str | Path) -> Path:
    """The file of a line, change or study, given by name or by path. Raises LineError when there is none."""
    path = Path(name)
    if path.suffix in FILE_ENDINGS or len(path.parts) != 1:
        candidates = [path, path.with_name(path.name + ".yaml")]
    else:
        candidates = [folder / group / f"{path.name}.yaml" for folder in conf_dirs()]
    for candidate in candidates:
        if candidate.is_file():
            return candidate
    names = known_names(group)
    rule = f"there is no such file for a {group}"
    fix = f"give the path of a YAML file, or one of {listed(names, 'or')}" if names else "give the path of a YAML file"
    raise LineError([Problem(group, str(name), rule, fix, suggestion=_file_meant(path) or nearest(path.stem, names))])


def _file_meant(path: Path) -> str | None:
    """The YAML file in the same folder whose name looks most like this one."""
    near = nearest(path.name, (file.name for ending in FILE_ENDINGS for file in path.parent.glob(f"*{ending}")))
    return str(path.with_name(near)) if near else None


def read_line_file(path: Path) -> Source:
    """The content of a line file. Raises LineError with file and line where the YAML can't be read."""
    return _read(path, "line")


def read_change(name: str | Path) -> Source:
    """The content of a change, by name or path; its file must carry the header that lays it over the line."""
    return _headed("change", name, PACKAGE_HEADER)


def read_study(name: str | Path) -> Source:
    """The content of a study, by name or path; its file must carry the header that lays it over the settings."""
    return _headed("study", name, STUDY_HEADER)


def _headed(group: str, name: str | Path, header: str) -> Source:
    path = find(group, name)
    source = _read(path, f"{group} {path.stem}")
    comments = (line.strip() for line in path.read_text(encoding="utf-8").splitlines() if line.strip().startswith("#"))
    if header not in (" ".join(comment.split()) for comment in comments):
        rule = f"a {group} must be headed {header}"
        raise LineError([Problem("", None, rule, "make that its first line", str(path), 1)], f"{group} {path.stem}")
    return source


def _read(path: Path, layer: str) -> Source:
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        problem = Problem("", None, f"can't be read: {error.strerror}", "look at its permissions", str(path))
        raise LineError([problem], str(path)) from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        rule = f"is not UTF-8: no character begins with byte {error.object[error.start]:#04x}"
        raise LineError([Problem("", None, rule, "save it as UTF-8 text", str(path), line)], str(path)) from None
    try:
        return _Reader(path, layer).read(text)
    except yaml.YAMLError as error:
        raise LineError([_syntax_problem(error, path, text)], str(path)) from None


def _syntax_problem(error: yaml.YAMLError, path: Path, text: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    said = getattr(error, "problem", None) or str(error)
    context = getattr(error, "context", None)
    fix = "look at this line and the one above: indents, brackets, a blank after each colon"
    line = text.splitlines()[mark.line] if mark and mark.line < len(text.splitlines()) else ""
    if "\t" in line[: len(line) - len(line.lstrip())]:
        fix = "indent with blanks, not with tabs"
    begun = getattr(error, "context_mark", None)
    since = f" that begins in line {begun.line + 1}" if begun and mark and begun.line != mark.line else ""
    rule = f"is not YAML: {said}{f' {context}{since}' if context else ''}"
    return Problem("", None, rule, fix, str(path), mark.line + 1 if mark else None)


class _Reader:
    """Turns the nodes of a YAML file into plain values and notes where each stands."""

    def __init__(self, path: Path, layer: str) -> None:
        self.file, self.layer = str(path), layer
        self.origins: Origins = {}
        self.problems: list[Problem] = []

    def read(self, text: str) -> Source:
        self.yaml = ValueLoader(text)
        root = self.yaml.get_single_node()
        content = self._plain(root, (), ()) if root else {}
        if root is None and self.layer == "line":
            self.problems = [Problem("", None, "is empty", "write route and stations at least", self.file)]
        if not isinstance(content, dict | None):
            rule = "must be a map of keys, such as route, stations and buffers"
            self.problems = [Problem("", None, rule, "write KEY: VALUE at the start of a line", self.file, 1)]
        if self.problems:
            raise LineError(self.problems, self.file)
        return Source(content, self.origins)

    def _plain(self, node: yaml.Node, path: KeyPath, above: tuple[yaml.Node, ...]) -> Any:
        if node in above:
            raise yaml.constructor.ConstructorError(None, None, "an alias inside its own anchor", node.start_mark)
        self.origins.setdefault(path, self._origin(node))
        if isinstance(node, yaml.MappingNode):
            return {key: self._plain(inner, (*path, key), (*above, node)) for key, inner in self._pairs(node, path)}
        if isinstance(node, yaml.SequenceNode):
            return [self._plain(inner, (*path, at), (*above, node)) for at, inner in enumerate(node.value)]
        return self.yaml.construct_object(node)

    def _pairs(self, node: yaml.MappingNode, path: KeyPath) -> Iterator[tuple[str, yaml.Node]]:
        """Keys as they are written (`on` stays on) and their values; a `<<` counts as if its map were written out."""
        lines: dict[str, int] = {}
        for key_node, _ in node.value:
            key, line = str(key_node.value), key_node.start_mark.line + 1
            if key in lines:
                rule = f"stands twice here, first in line {lines[key]}"
                problem = Problem(dotted((*path, key)), None, rule, "keep one of them", self.file, line)
                if problem not in self.problems:
                    self.problems.append(problem)
            lines.setdefault(key, line)
        self.yaml.flatten_mapping(node)
        for key_node, inner in node.value:
            key = str(key_node.value)
            self.origins[(*path, key)] = self._origin(key_node)
            yield key, inner

    def _origin(self, node: yaml.Node) -> Origin:
        return Origin(self.file, node.start_mark.line + 1, self.layer)
