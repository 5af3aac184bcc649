"""A page as one HTML file: no request leaves it, and no script runs in it but ours."""

from __future__ import annotations

from pathlib import Path

from linesim.report.parts import Page
from linesim.report.templating import digest, drawn, source
from linesim.results.files import write, write_text


def html(page: Page) -> str:
    """The whole page; its style and script stand inside."""
    scripts = [source("page.js")]
    if any(part.kind == "replay" for section in page.sections for part in section.parts):
        scripts += [source(name) for name in ("replay_story.js", "replay_charts.js", "replay.js")]
    allowed = " ".join(f"'{digest(script)}'" for script in scripts)
    return str(drawn("page.html", page=page, style=source("page.css"), scripts=scripts, allowed=allowed)) + "\n"


def write_page(page: Page, file: Path) -> Path:
    from functools import partial

    write(file, partial(write_text, html(page)))
    return file
