"""What is wrong with a line: problems that name key, value, rule, fix and place, and the error that holds them."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

KeyPath = tuple[str | int, ...]  # ("stations", "turn", "cycle"); whole numbers are positions in a list


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong in a line file, a change or an override.

    key: its full key, or "" for a whole file; value: what was given, None where something is missing;
    rule, fix: what it breaks and what to write instead; file, line: where it stands, as far as that is known (`file` is
    "override" for a value set on the command line or in Python); suggestion: the nearest known name.
    """

    key: str
    value: Any
    rule: str
    fix: str = ""
    file: str | None = None
    line: int | None = None
    suggestion: str | None = None

    def __str__(self) -> str:
        what = f"{self.key} = {shown(self.value)}" if self.key and self.value is not None else self.key
        where = f"{self.file}:{self.line}" if self.line else self.file or ""
        head = f"{what} ({where})" if what and where else what or where
        hint = f"did you mean {self.suggestion}?" if self.suggestion else ""
        sentences = [
            text[0].upper() + text[1:] + ("" if text[-1] in ".?" else ".") for text in (hint, self.fix) if text
        ]
        return " ".join([f"{head}: {self.rule}." if head else f"{self.rule}.", *sentences])


class LineError(ValueError):
    """A line that can't be used; `problems` holds everything that was found, the message lists it."""

    def __init__(self, problems: Sequence[Problem], name: str = "the line") -> None:
        self.problems = list(problems)
        count = "1 problem" if len(self.problems) == 1 else f"{len(self.problems)} problems"
        super().__init__("\n".join([f"{count} in {name}:", *(f"  - {problem}" for problem in self.problems)]))


def shown(value: Any) -> str:
    """A given value as the file would show it, cut short."""
    if isinstance(value, Mapping):
        text = "{" + ", ".join(f"{key}: {shown(inner)}" for key, inner in value.items()) + "}"
    elif isinstance(value, (list, tuple)):
        text = "[" + ", ".join(shown(inner) for inner in value) + "]"
    elif isinstance(value, bool):
        text = str(value).lower()
    else:
        text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def dotted(path: KeyPath) -> str:
    """The full key of a path: `loaders.gantry.stops.turn[1]`."""
    return "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in path).removeprefix(".")


def nearest(name: Any, known: Iterable[str]) -> str | None:
    """The known name that looks most like this one, or None when none comes near."""
    matches = difflib.get_close_matches(str(name), list(known), n=1, cutoff=0.65)
    return matches[0] if matches else None


def listed(names: Iterable[Any], last: str = "and") -> str:
    """Names in a sentence: `a, b and c`."""
    words = [str(name) for name in names]
    if len(words) > 20:
        words[15:] = [f"{len(words) - 15} more"]
    return " ".join([", ".join(words[:-1]), last, words[-1]]) if len(words) > 1 else "".join(words)
