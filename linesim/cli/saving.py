"""What the sub-commands that leave a results folder share: the settings in it, and what is told of it at the end."""

from __future__ import annotations

import shlex
import sys
from pathlib import Path
from typing import Any

import yaml

from linesim.cli.folders import LINE_FILE, SETTINGS_FILE
from linesim.cli.job import Job
from linesim.engine.contract import LockUp
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import filled


def keep_settings(folder: Path, settings: dict[str, Any], repeat: str, note: str = "") -> None:
    """Writes the settings into the folder, with the command that gives the same again."""
    text = yaml_text(settings, f"The settings as they were{note}. The same again: {repeat}")
    (folder / SETTINGS_FILE).write_text(text, encoding="utf-8")


def tell_where(folder: Path) -> None:
    """Prints where the results are, and what is there."""
    print(f"\nsaved in {folder}: {', '.join(_content_of(folder))}")


def tell_what_next(folder: Path, repeat: str, same: str = "the same again") -> None:
    """Prints the commands that give the same results again, and that make something to hand on of them."""
    print(f"{same}: {repeat}")
    print(f"to hand on: {shlex.join(['linesim', 'report', str(folder)])}")


def tell_lock_up(stand: LockUp, folder: Path) -> None:
    """Prints that the line in this folder came to a stand, and how to see why."""
    notes = [note.replace("LINE", shlex.quote(str(folder / LINE_FILE))) for note in stand.__notes__]
    of_line = f"{stand.line}: " if stand.line else ""
    print("\n".join([f"linesim: {of_line}{stand}", *notes]), file=sys.stderr)


def _content_of(folder: Path) -> list[str]:
    """What is in a folder; of a folder inside it the number of files."""
    seen = [each for each in folder.iterdir() if not each.name.startswith(".")]
    inside = sorted(seen, key=lambda each: (each.is_dir(), each.name))
    return [f"{each.name}/ ({_files(len(list(each.iterdir())))})" if each.is_dir() else each.name for each in inside]


def _files(count: int) -> str:
    return f"{count} file{'s' * (count != 1)}"


def settings_to_run(job: Job) -> dict[str, Any]:
    """The run settings of a job with nothing left open: hours filled in, a seed drawn."""
    settings = filled({key: value for key, value in job.settings.items() if key != "out"})
    settings["seed"] = drawn_seed() if settings["seed"] is None else settings["seed"]
    return settings


def overrides_of(settings: dict[str, Any]) -> list[str]:
    """The settings as words of the command line, those left out that change no number."""
    given = {key: value for key, value in settings.items() if value is not None and key not in ("plots", "trace")}
    if "precision" not in given and "indifference" not in given:
        given.pop("most_replications", None)
    return [f"{key}={_typed(value)}" for key, value in given.items()]


def _typed(value: Any) -> str:
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key}: {_typed(inner)}' for key, inner in value.items())}}}"
    return f"{value:.15g}" if isinstance(value, float) else str(value)


def chosen_by_user(job: Job) -> bool:
    """Whether the user named the results folder."""
    return any(word.startswith("out=") for word in job.words)


def yaml_text(content: dict[str, Any], note: str) -> str:
    return f"# {note}\n{yaml.safe_dump(content, sort_keys=False, allow_unicode=True, width=120)}"
