"""One job of the command line: its settings and its line, checked, from the configuration that Hydra composed."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from hydra.core.hydra_config import HydraConfig
from hydra.core.override_parser.overrides_parser import OverridesParser
from omegaconf import DictConfig, OmegaConf

from linesim.cli.own_folders import SCHEME
from linesim.line import Line, LineError, Problem, build
from linesim.line.file_names import GROUPS
from linesim.line.layers import compose
from linesim.line.sources import Source
from linesim.study.run_settings import check_run_settings

NOT_RULED = {"plots", "trace", "out", "machine", "parquet"}  # settings of any value that Hydra lets through
NOT_RULED |= {"design", "factors", "only", "table", "assumptions", "cluster", "budget"}  # the sweep judges them
NOT_RULED |= {"indifference"}  # judged where the runs are planned


@dataclass(frozen=True)
class Chosen:
    """What a line was composed of: its file if that is known, files of changes, and overrides such as `cycle="9 s"`."""

    line: Path | None
    changes: list[Path]
    overrides: list[str]


@dataclass(frozen=True)
class Job:
    """settings: key -> value of each run setting. content: the line as a plain map, as it was composed.

    folder: where results go. number: of this job in a multirun, or None. words: the overrides as the user gave them.
    """

    settings: dict[str, Any]
    line: Line
    content: dict[str, Any]
    folder: Path
    number: int | None
    words: list[str]
    chosen: Chosen


def read_job(config: DictConfig, known: Collection[str], files: Mapping[str, Path]) -> Job:
    """Builds the line and checks the settings; raises LineError with all problems of both.

    known: the keys that a configuration may have. files: what stands for "line/file/x" and "change/file/x".
    """
    problems = [
        Problem(key, None, "has no value", f"write {key}=VALUE")
        for key in sorted(OmegaConf.missing_keys(config))
        if not key.startswith("line.")
    ]
    problems += [
        Problem(str(key), value, "is not a run setting", "leave it out")
        for key, value in config.items()
        if str(key) not in known
    ]
    if problems:
        raise LineError(problems, "the run settings")
    settings = {str(key): _plain(value) for key, value in config.items() if key != "line"}
    hydra = HydraConfig.get()
    words = list(hydra.overrides.task)
    chosen = _chosen(hydra, words, files)
    source = compose(chosen.line, chosen.overrides, list(chosen.changes)) if chosen.line else Source({}, {})
    content = _as_written(_plain(config.line), source.content)
    line = None
    try:
        check_run_settings(**{key: value for key, value in settings.items() if key not in NOT_RULED})
    except LineError as error:
        problems += error.problems
    try:
        line = build(content, source.origins)
    except LineError as error:
        problems += error.problems
    if problems or line is None:
        raise LineError(problems, "what was asked for")
    number = None if OmegaConf.is_missing(hydra.job, "num") else int(hydra.job.num)
    typed = [as_typed(word, files) for word in words]
    return Job(settings, line, content, _short(Path(hydra.runtime.output_dir)), number, typed, chosen)


def as_typed(word: str, files: Mapping[str, Path]) -> str:
    """A word for Hydra as the user gave it: files for what stands for them, several between commas."""
    group, _, value = word.partition("=")
    if group not in GROUPS:
        return word
    names = value.strip("[]").split(",")
    return f"{group}={','.join(str(files.get(f'{group}/{name}', name or 'none')) for name in names)}"


def _chosen(hydra: Any, words: list[str], files: Mapping[str, Path]) -> Chosen:
    """The files that the line was composed of, as far as they are known."""
    lines = [_file("line", name, hydra, files) for name in _names("line", hydra, words)]
    changes = [_file("change", name, hydra, files) for name in _names("change", hydra, words)]
    parsed = OverridesParser.create().parse_overrides([word for word in words if word.lstrip("+~").startswith("line.")])
    overrides = [f"{each.key_or_group}={json.dumps(None if each.is_delete() else each.value())}" for each in parsed]
    return Chosen(lines[0] if len(lines) == 1 else None, changes, overrides)


def _as_written(composed: Any, source: Any) -> Any:
    """What Hydra composed, times of day as they are written: to Hydra, as to YAML, 6:00 is the number 360."""
    if isinstance(composed, dict) and isinstance(source, Mapping):
        return {key: _as_written(value, source.get(key)) for key, value in composed.items()}
    if isinstance(composed, int) and isinstance(source, str) and ":" in source:
        return source
    return composed


def _names(group: str, hydra: Any, words: list[str]) -> list[str]:
    """The files of a group that were chosen, by their names in Hydra."""
    value: Any = hydra.runtime.choices.get(group)
    for word in words:
        if word.startswith(f"{group}="):
            value = OverridesParser.create().parse_override(word).value()
    return list(value) if isinstance(value, list) else [str(value)] if value else []


def _file(group: str, name: str, hydra: Any, files: Mapping[str, Path]) -> Path:
    """The file behind a name: from the command line, or the first in the folders that Hydra searched."""
    folders = [Path(source.path) for source in hydra.runtime.config_sources if source.schema in ("file", SCHEME)]
    candidates = [folder / group / f"{name}.yaml" for folder in folders]
    return files.get(f"{group}/{name}") or next(filter(Path.is_file, candidates), Path(name))


def _short(folder: Path) -> Path:
    """The folder as seen from the working folder, if it lies in there."""
    return folder.relative_to(Path.cwd()) if folder.is_relative_to(Path.cwd()) else folder


def _plain(value: Any) -> Any:
    """A setting as Python's own type; an engine by its name."""
    if isinstance(value, Enum):
        return value.value
    return OmegaConf.to_container(value, resolve=True) if OmegaConf.is_config(value) else value
