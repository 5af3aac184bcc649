"""Study files of `linesim sweep`: settings in a file, which win over the shipped ones and give way to the words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from linesim.cli.arguments import FILE_ENDINGS, told_apart
from linesim.line.sources import find, known_names, read_study

CHOICES = ("line", "change", "out")  # choose files and a folder, as the same words do; all else are settings


def with_study(words: Sequence[str]) -> list[str]:
    """The words, a study's name as the path of its file, and what it chooses as words where the user chose nothing.

    A name that only Hydra can find, in a folder of --config-dir, is left to it.
    """
    return [each for word in words for each in _read(word, words)]


def study_settings(path: Path) -> dict[str, Any]:
    """What a study file sets, its choices left out. Raises LineError if it can't be read, or lacks the header."""
    return {key: value for key, value in _content(path).items() if key not in CHOICES}


def _read(word: str, words: Sequence[str]) -> Iterator[str]:
    key, _, name = word.partition("=")
    named = name in known_names("study")
    if key != "study" or not (named or name.endswith(FILE_ENDINGS)):
        yield word
        return
    path = find("study", name)
    yield f"study={path}"
    for choice, value in _content(path).items():
        if choice in CHOICES and isinstance(value, str | list) and not _chosen(choice, words):
            several = isinstance(value, list)
            yield f"{choice}=[{','.join(map(str, value))}]" if several else f"{choice}={value}"


def _chosen(choice: str, words: Sequence[str]) -> bool:
    """Whether the user's own words choose it; a bare word is a line."""
    told = told_apart(words)
    return any((kind, choice) == ("line", "line") or word.startswith(f"{choice}=") for kind, word in told)


def _content(path: Path) -> dict[str, Any]:
    return dict(read_study(path).content)
