"""The results folder of a run: taken before the run so that no other run writes there, given back if it stays empty."""

from __future__ import annotations

import contextlib
from pathlib import Path

from linesim.line.problems import LineError, Problem
from linesim.results.sweep_store import is_sweep

LINE_FILE, SETTINGS_FILE = "line.yaml", "settings.yaml"


def claim(folder: Path, chosen_by_user: bool, line_text: str) -> Path:
    """Makes the folder and puts the line into it; returns the folder.

    Results are never written over: where some are, a folder that the user chose is refused (LineError), and one that
    we named gets a number behind its name.
    """
    here, number = folder, 1
    while True:
        try:
            if not _fits(here):
                raise unusable(here, "a file stands where it would be")
            here.mkdir(parents=True, exist_ok=number == 1)  # Hydra has made the first one
            if any(here.iterdir()):
                raise FileExistsError
            with open(here / LINE_FILE, "x", encoding="utf-8") as file:
                file.write(line_text)
            return here
        except FileExistsError:
            if chosen_by_user:
                raise _taken(folder) from None
            number += 1
            here = folder.with_name(f"{folder.name}_{number}")
        except OSError as error:
            raise unusable(here, str(error.strerror)) from None


def claim_sweep(folder: Path, chosen_by_user: bool) -> Path:
    """The folder of a sweep, new, empty, or with a sweep that is to go on; as in `claim` nothing is written over."""
    if not _fits(folder):
        raise unusable(folder, "a file stands where it would be")
    here, number = folder, 1
    while here.is_dir() and any(here.iterdir()) and not (chosen_by_user and is_sweep(here)):
        if chosen_by_user:
            raise _taken(folder)
        number += 1
        here = folder.with_name(f"{folder.name}_{number}")
    return here


def abandon(folder: Path) -> None:
    """Takes back a claimed folder in which a run left no results."""
    for name in (LINE_FILE, SETTINGS_FILE):
        (folder / name).unlink(missing_ok=True)
    release(folder)


def release(folder: Path) -> None:
    """Takes the folder away if it is empty, and those above it that are empty then; never the working folder."""
    if Path.cwd().is_relative_to(folder.resolve()):
        return
    with contextlib.suppress(OSError):  # a folder that holds anything is not removed
        folder.rmdir()
        for above in folder.resolve().parents:
            if above == Path.cwd() or not above.is_relative_to(Path.cwd()):
                break
            above.rmdir()


def said(error: OSError) -> str:
    """What a system refused, and of which file, in words for the user."""
    return f"{error.filename}: {error.strerror}" if error.filename else str(error)


def unusable(folder: Path | str, why: str) -> LineError:
    """What to tell of a results folder that can't be made."""
    fix = "write another folder after out="
    return LineError([Problem("out", str(folder), f"is no folder that can be made: {why}", fix)], "the run settings")


def _fits(folder: Path) -> bool:
    """Whether it is a folder, or one can be made there; not asked whether the user may."""
    return next(path for path in (folder, *folder.parents) if path.exists()).is_dir()


def _taken(folder: Path) -> LineError:
    fix = "write another folder after out=, or move away what is there"
    return LineError([Problem("out", str(folder), "holds files already", fix)], "the run settings")
