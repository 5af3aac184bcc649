"""When progress speaks, where and in which words."""

import io

import pytest

from linesim.study.progress import Progress, Tally, readable


class Clock:
    """A clock that a test sets by hand [s]."""

    now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


class Terminal(io.StringIO):
    """Text that claims to be a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_short_run_says_nothing_in_a_log() -> None:
    clock, log = Clock(), io.StringIO()
    with Progress(100, stream=log, clock=clock) as shown:
        clock.now_s = 29.9
        shown.update(50, "replication 1 of 2")
    assert log.getvalue() == ""


def test_a_log_gets_a_line_each_half_minute_with_the_time_left() -> None:
    clock, log = Clock(), io.StringIO()
    with Progress(100, stream=log, clock=clock) as shown:
        for clock.now_s in (10.0, 20.0, 30.0, 40.0, 50.0, 60.0):
            shown.update(clock.now_s / 2, "replication 1 of 2")
    # 15 % in 30 s leave 170 s; 30 % in 60 s leave 140 s
    assert log.getvalue().splitlines() == [
        "replication 1 of 2: 15% done after 30 s, about 3 min left",
        "replication 1 of 2: 30% done after 60 s, about 2 min left",
    ]


def test_nothing_is_written_when_it_is_off() -> None:
    clock, log = Clock(), Terminal()
    with Progress(100, on=False, stream=log, clock=clock) as shown:
        clock.now_s = 1000.0
        shown.update(50, "replication 1 of 2")
    assert log.getvalue() == ""


def test_a_terminal_gets_a_bar_with_the_words() -> None:
    terminal = Terminal()
    with Progress(100, stream=terminal) as shown:
        shown.update(50, "replication 1 of 2")
    assert "replication 1 of 2" in terminal.getvalue()
    assert "50%" in terminal.getvalue()


def test_replications_side_by_side_add_up() -> None:
    clock, log = Clock(), io.StringIO()
    with Progress(400, stream=log, clock=clock) as shown:
        tally = Tally(shown, planned=4, horizon_us=100)
        for clock.now_s, replication, now_us in ((10, 1, 40), (20, 2, 30), (30, 1, 100), (40, 3, 10), (60, 2, 60)):
            tally.report(replication, now_us)
    # 100 + 30 = 130 of 400 in 30 s; 100 + 60 + 10 = 170 of 400 in 60 s
    assert log.getvalue().splitlines() == [
        "1 of 4 replications done: 32% done after 30 s, about 62 s left",
        "1 of 4 replications done: 42% done after 60 s, about 81 s left",
    ]


@pytest.mark.parametrize(
    ("seconds", "text"), [(0, "0 s"), (99.4, "99 s"), (100, "2 min"), (5940, "99 min"), (12000, "3 h 20 min")]
)
def test_times_are_told_in_the_unit_that_people_use(seconds: float, text: str) -> None:
    assert readable(seconds) == text
