"""`linesim check`: a line's summary and rough-cut capacity. Its problems, if any, were told before it came this far."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from linesim.cli.job import Job

WIDTH = 120


def task(job: Job) -> int:
    """Prints the summary of a line that is right."""
    from linesim.line import summary
    from linesim.line.assumed import estimated_values, without_entry

    print(summary(job.line, job.content))
    print("\n" + "\n".join(_assumptions(without_entry(job.content), len(estimated_values(job.content)))))
    return 0


def _assumptions(without: Sequence[str], values: int) -> Iterator[str]:
    """Which values have no entry under `assumptions`, by what they belong to."""
    if not without:
        yield f"each of the {values} values has an entry under assumptions"
        return
    yield f"without an entry under assumptions, so nobody is told how sure they are: {len(without)} of {values} values"
    owners: dict[str, list[str]] = {}
    for key in without:
        _, owner, rest = key.split(".", 2)
        owners.setdefault(owner, []).append(rest)
    for owner, keys in owners.items():
        yield from textwrap.wrap(f"  {owner}: {', '.join(keys)}", WIDTH, subsequent_indent="    ")
