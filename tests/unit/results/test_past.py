"""What is told of past results, each of a study written by hand."""

import os
from pathlib import Path

import pytest

from linesim.results import ask, list_results, sweep_store
from linesim.results.past_text import answer, contents
from tests.unit.report.studies import acceptance, sensitivity
from tests.unit.report.sweeps import sweep

NAME = "a name of a line that is by far too long for any table on a narrow terminal of eighty letters"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With a sensitivity study and, saved an hour later, an acceptance test of two long-named lines."""
    sensitivity().save(tmp_path / "worth", plots=False)
    test = acceptance(lines=("promised",))
    test.about["lines"] = [NAME]
    test.outputs["line"] = NAME
    test.save(tmp_path / "tests" / "first", plots=False)
    for file in (tmp_path / "worth").iterdir():
        os.utime(file, (file.stat().st_atime, file.stat().st_mtime - 3600))
    return tmp_path


def test_studies_and_acceptance_tests_are_listed_with_what_they_found(folder: Path) -> None:
    """By hand: a tenth off the cycle makes 2.0 more, so 1 % 0.2; of the tests 101 to 200, five stay below 106."""
    test, study = list_results(folder).to_dict("records")
    assert (test["kind"], test["lines"], test["replications"]) == ("acceptance", 1, 100)
    assert test["what"] == f"{NAME}; highest mark of {NAME}: 106 in 8 h, missed by 5.0 % at most"
    assert (study["kind"], study["lines"], study["replications"], study["most_per_h"]) == ("sensitivity", 1, 15, 21.0)
    assert study["what"].endswith("(+0.200/h for 1 %, more)")
    with pytest.raises(FileNotFoundError, match="no runs, comparisons or sweeps are in there"):
        ask(folder)


def test_names_stand_whole_in_a_pipe_and_below_their_rows_where_a_terminal_is_too_narrow(folder: Path) -> None:
    head, first, *_ = contents(folder).splitlines()
    assert head.split()[-1] == "what"
    assert NAME in first
    told = contents(folder, width=80).splitlines()
    assert max(map(len, told)) <= max(80, len(told[0])), "figures are not cut"
    assert NAME in " ".join(" ".join(told).split())


def test_a_point_is_named_whole_however_long_its_levels_are(tmp_path: Path) -> None:
    made = sweep(extra_level=NAME)
    sweep_store.begin(tmp_path, made.about, made.points, [])
    sweep_store.keep(tmp_path, made.rows.to_dict("records"))  # type: ignore[arg-type]
    assert f"loader={NAME}" in answer(tmp_path, {})
