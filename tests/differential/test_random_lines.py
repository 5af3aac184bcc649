"""Random legal lines: both engines tell the same story, to the last bit.

A quick run compares LINESIM_RANDOM_LINES lines (250 if not set), the same ones every time. A long one:

    LINESIM_RANDOM_LINES=2000 pytest tests/differential/test_random_lines.py
    LINESIM_RANDOM_LINES=5000 LINESIM_RANDOM_SEED=17 pytest tests/differential/test_random_lines.py     # other lines

`pytest tests/differential -m long` (with `-o faulthandler_timeout=0`, for it is long) looks at 2,000 further ones of a
seed that is drawn and printed. A line on which the engines part is made as small as possible and kept as a line file in
`outputs/failed_lines`, one for each kind of trouble; load it by its path.
"""

from __future__ import annotations

import hashlib
import os
import re
import secrets
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, seed, settings

import linesim
from tests.differential.same_run import Span, assert_same_run
from tests.helpers.lines import Plain
from tests.helpers.random_lines import lines

FAILED_LINES = Path(__file__).resolve().parents[2] / "outputs" / "failed_lines"
LONG_LINES = 2000
SPANS = (Span(240, 0, 50), Span(240, 47, 50))


def compare(plain: Plain) -> None:
    """Compare with and without a warm-up; keep the line if it fails."""
    line = linesim.load_line(plain)
    try:
        for span in SPANS:
            assert_same_run(line, span)
    except Exception as failure:
        failure.add_note(f"kept in {keep(plain, failure)}")
        raise


def keep(plain: Plain, failure: Exception) -> Path:
    """Write a line down with what went wrong with it; the next line with the same trouble replaces it."""
    reason = (str(failure).splitlines() or [type(failure).__name__])[0]
    name = hashlib.sha256(re.sub(r"\d+", "", reason).encode()).hexdigest()[:12]
    FAILED_LINES.mkdir(parents=True, exist_ok=True)
    file = FAILED_LINES / f"{name}.yaml"
    text = yaml.safe_dump(plain, sort_keys=False, default_flow_style=None, width=120)
    file.write_text(f"# {reason}\n{text}", encoding="utf-8")
    return file


def looking_at(examples: int, from_seed: int | None, skips: bool | None = None) -> Callable[[], None]:
    """A test of so many lines: always the same ones, or those of a seed. skips: only such whose parts skip places."""
    how = settings(
        max_examples=examples,
        derandomize=from_seed is None,
        database=None,
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
    )
    test = how(given(plain=lines(skips=skips))(compare))
    return test if from_seed is None else seed(from_seed)(test)


def test_both_engines_tell_the_same_story_of_random_lines() -> None:
    given_seed = os.environ.get("LINESIM_RANDOM_SEED")
    looking_at(int(os.environ.get("LINESIM_RANDOM_LINES", "250")), int(given_seed) if given_seed else None)()


def test_both_engines_tell_the_same_story_of_random_lines_whose_parts_skip_places() -> None:
    looking_at(40, None, skips=True)()


@pytest.mark.long
def test_both_engines_tell_the_same_story_of_thousands_of_random_lines() -> None:
    drawn = int(os.environ.get("LINESIM_RANDOM_SEED") or secrets.randbelow(10**6))
    print(f"LINESIM_RANDOM_SEED={drawn}")
    looking_at(int(os.environ.get("LINESIM_RANDOM_LINES", str(LONG_LINES))), drawn)()
