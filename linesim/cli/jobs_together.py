"""Jobs that are run together, a line each: they share all settings, and are named by what sets them apart."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from linesim.cli.job import Job
from linesim.line import LineError, Problem
from linesim.line.file_names import GROUPS, short_levels


def refuse_other_settings(jobs: Sequence[Job], what: str, fewest: int = 1) -> None:
    """Lines run together have the same settings; raises LineError if several values were given for one."""
    problems = []
    if len(jobs) < fewest:
        fix = "write several values between commas, such as change=none,fast_gantry"
        problems.append(Problem("compare", None, "needs two lines at least", fix))
    for key in jobs[0].settings:
        values: list[Any] = list(dict.fromkeys(str(job.settings[key]) for job in jobs))
        if len(values) > 1:
            problems.append(Problem(key, ",".join(values), "must be the same for all lines", "write one value"))
    if problems:
        raise LineError(problems, what)


def names_of(jobs_words: Sequence[Sequence[str]]) -> list[str]:
    """A name for each line: the words in which it differs from the others, as short as they can be told."""
    same = set.intersection(*(set(words) for words in jobs_words))
    other = [[word.lstrip("+~").partition("=") for word in words if word not in same] for words in jobs_words]
    keys = {key for words in other for key, _, _ in words}
    chosen = {key: [value for words in other for of, _, value in words if of == key] for key in GROUPS}
    files = {key: short_levels(values, ",") for key, values in chosen.items()}
    return [", ".join(_name(key, value, keys, files) for key, _, value in words) or "line" for words in other]


def _name(key: str, value: str, keys: Collection[str], files: Mapping[str, Mapping[str, str]]) -> str:
    """`change=fast_gantry` is told as its value, `line.buffers.park_1.capacity=4` as park_1.capacity=4: the last two
    steps of the key, or as many as set it apart from the other keys."""
    if key in GROUPS:
        return "no change" if value == "none" else files[key][value]
    steps, length = key.split("."), 2
    while length < len(steps) and any(other != key and other.split(".")[-length:] == steps[-length:] for other in keys):
        length += 1
    return f"{'.'.join(steps[-length:])}={value.replace(chr(92), '')}"
