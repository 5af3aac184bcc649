"""`linesim check`: a line's summary and rough-cut capacity. Its problems, if any, were told before it came this far."""

from __future__ import annotations

from linesim.cli.job import Job


def task(job: Job) -> int:
    """Prints the summary of a line that is right."""
    from linesim.line import summary

    print(summary(job.line))
    return 0
