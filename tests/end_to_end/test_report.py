"""`linesim report` as a user types it."""

import re
from pathlib import Path

from tests.end_to_end.conftest import Shell

QUICK = ("two_machines", "hours=3", "warmup_hours=1", "replications=2", "plots=false", "seed=5")


def test_a_page_is_made_from_a_stored_run_and_again(linesim: Shell, tmp_path: Path) -> None:
    assert linesim("run", *QUICK, "out=mine").returncode == 0
    page = tmp_path / "mine" / "report.html"
    made = linesim("report", "mine")
    assert (made.returncode, made.stderr) == (0, "")
    assert str(page.relative_to(tmp_path)) in made.stdout
    first = page.read_bytes()
    assert len(first) < 3_000_000
    assert (tmp_path / "mine" / "report.xlsx").read_bytes().startswith(b"PK")
    assert linesim("report", "mine").returncode == 0
    assert page.read_bytes() == first


def test_a_folder_without_results_is_refused_in_one_message(linesim: Shell) -> None:
    shown = linesim("report", "nothing_here")
    assert shown.returncode == 2
    assert "there is no such folder" in shown.stderr
    assert "Traceback" not in shown.stderr
    assert linesim("report").returncode == 2
    assert "FOLDER" in linesim("report", "--help").stdout


def test_a_comparison_has_a_page_too(linesim: Shell, tmp_path: Path) -> None:
    words = ("two_machines", "line.buffers.park.capacity=1,4", "hours=3", "warmup_hours=1", "replications=2", "seed=5")
    assert linesim("compare", *words, "plots=false", "out=both").returncode == 0
    made = linesim("report", "both")
    assert (made.returncode, made.stderr) == (0, "")
    page = (tmp_path / "both" / "report.html").read_text(encoding="utf-8")
    assert "Each line less “park.capacity=1”" in page
    assert "buffers.park.capacity" in page


def test_wrong_settings_of_a_report_are_told_together(linesim: Shell, tmp_path: Path) -> None:
    shown = linesim("report", "mine", "fron_h=3", "to_h=late", "replay=perhaps")
    assert shown.returncode == 2
    assert "Did you mean from_h" in shown.stderr
    assert "must be a number of hours" in shown.stderr
    assert "must be true or false" in shown.stderr
    assert linesim("run", *QUICK, "out=mine").returncode == 0
    assert "must be 0 or more" in linesim("report", "mine", "from_h=7").stderr
    assert linesim("report", "mine", "replay=false").returncode == 0
    assert 'id="replay"' not in (tmp_path / "mine" / "report.html").read_text(encoding="utf-8")


def test_a_replay_begins_where_the_line_works_after_its_warm_up(linesim: Shell, tmp_path: Path) -> None:
    def about(*settings: str) -> str:
        assert linesim("report", "mine", *settings).returncode == 0
        page = (tmp_path / "mine" / "report.html").read_text(encoding="utf-8")
        found = re.search(r"Replication 1, from .*?(?= Drawn from)", page)
        assert found is not None
        return found[0]

    shift = ("line.demand=null", "line.shifts={day: {days: mon to fri, from: '6:20', to: '14:00'}}")
    times = ("hours=12", "warmup_hours=20", "replications=1", "plots=false", "seed=5")
    assert linesim("run", "two_machines", *shift, *times, "out=mine").returncode == 0
    first = "It begins with the first planned working time after the warm-up."
    assert about() == f"Replication 1, from 30 h 20 min to 32 h after its start. {first}"
    assert about("from_h=21") == "Replication 1, from 21 h to 29 h after its start."
    assert about("to_h=24") == "Replication 1, from 20 h to 24 h after its start."


def test_an_acceptance_test_has_a_page_that_tells_what_differs(linesim: Shell, tmp_path: Path) -> None:
    words = ("two_machines", "line.buffers.park.capacity=6,0", "hours=2", "warmup_hours=1", "replications=20", "seed=5")
    ran = linesim("acceptance", *words, "engine=simpy", "plots=false", "mark=90", "out=test")
    assert "to hand on: linesim report test" in ran.stdout
    made = linesim("report", "test")
    assert (made.returncode, made.stderr) == (0, "")
    page = (tmp_path / "test" / "report.html").read_text(encoding="utf-8")
    assert "Which mark a risk allows" in page
    assert "buffers.park.capacity" in page
