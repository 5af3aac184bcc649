"""From the words of `linesim sweep` to Hydra's: several values of a key become a factor, which Hydra hands on."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Any

from hydra.core.override_parser.overrides_parser import OverridesParser
from hydra.core.override_parser.types import Glob, IntervalSweep, Override, QuotedString
from hydra.errors import HydraException

from linesim.cli.arguments import lines_together, readable
from linesim.cli.study_files import with_study
from linesim.line.file_names import GROUPS
from linesim.line.sources import known_names


def with_factors(words: Sequence[str]) -> list[str]:
    """The same words, but several lines, `line.K=a,b`, `line=a,b` and `change=a,b` as factors: `++factors.K=[a,b]`.

    What a study file chooses counts as typed. Lists, ranges and globs as Hydra reads them; of `line` and `change`
    Hydra gets the first value as well. Words that can't be read stay for Hydra to complain about.
    """
    return [each for word in lines_together(with_study(words)) for each in _read(word)]


def _read(word: str) -> Iterator[str]:
    key, equals, _ = word.partition("=")
    bare = not equals and not word.startswith(("-", "+", "~"))
    if not bare and key not in GROUPS and not key.startswith("line."):
        yield word
        return
    try:
        override = OverridesParser.create().parse_override(readable(f"line={word}" if bare else word))
    except HydraException:
        yield word
        return
    if not override.is_sweep_override():
        yield word
        return
    value: Any = override.value()
    levels = [] if isinstance(value, IntervalSweep) else [*_levels(override)]
    if key in GROUPS or bare:
        group = override.key_or_group
        first = levels[0] if levels else ""
        yield f"{group}={_as_word(first)}"
        yield f"++factors.{group}={json.dumps(levels)}"
    elif isinstance(value, IntervalSweep):
        yield f"++factors.{key.removeprefix('line.')}={{low:{value.start:.15g},high:{value.end:.15g}}}"
    else:
        yield f"++factors.{key.removeprefix('line.')}={_in_brackets(levels)}"


def _levels(override: Override) -> Iterator[Any]:
    value: Any = override.value()
    if isinstance(value, Glob):
        yield from value.filter(known_names(override.key_or_group))
        return
    for level in override.sweep_iterator():
        yield _plain(level)


def _plain(level: Any) -> Any:
    if isinstance(level, QuotedString):
        return level.text
    if isinstance(level, list):
        return [_plain(each) for each in level]
    if isinstance(level, dict):
        return {str(_plain(key)): _plain(each) for key, each in level.items()}
    return level


def _in_brackets(level: Any) -> str:
    """A level as Hydra reads it in brackets: as JSON, but no quotes around the keys of a map."""
    if isinstance(level, list):
        return f"[{', '.join(map(_in_brackets, level))}]"
    if isinstance(level, dict):
        return f"{{{', '.join(f'{key}: {_in_brackets(value)}' for key, value in level.items())}}}"
    return json.dumps(level, ensure_ascii=False)


def _as_word(level: Any) -> str:
    return f"[{','.join(level)}]" if isinstance(level, list) else str(level)
