"""The part of the audit that looks at machines that work on several parts: with how many they start, who leaves."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState, to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Batch, Line, ThroughFeed


def check_batches(trace: Trace, line: Line) -> None:
    """Every batch machine starts with all that it holds, full or after its wait, and lets go in order; every
    through-feed takes a part a pitch, and lets them go in order too."""
    for machine, owner in enumerate(trace.owners):
        station = line.stations[owner.group] if owner.kind == "machine" else None
        rows = [row for row in trace.rows.tolist() if row[2] == machine]
        if station and station.batch:
            _check_machine(rows, station.batch, owner.name)
        elif station and station.through_feed:
            _check_feed(rows, station.through_feed, owner.name)


def _check_machine(rows: list[list[int]], batch: Batch, name: str) -> None:
    came: list[tuple[int, int]] = []  # parts that gather: when they came, in order
    at_work: list[int] = []
    done: list[int] = []
    ended_us = -1  # of the batch at work, -1: not yet
    for at, (time_us, what, _, part, _) in enumerate(rows):
        where = f"{name}, part {part} at {time_us} us"
        if what == What.ARRIVE:
            assert not at_work, f"{where}: is loaded at work"
            came.append((time_us, part))
        elif what == What.START:
            if not at_work:
                assert not done, f"{where}: starts with finished parts inside"
                _check_start(rows, at, came, batch, where)
                at_work, came, ended_us = [each for _, each in came], [], -1
            assert part in at_work, f"{where}: starts with a part that it has not"
        elif what == What.END:
            assert part == at_work[0], f"{where}: ends out of order"
            assert ended_us in (-1, time_us), f"{where}: ends later than others"
            ended_us = time_us
            done.append(at_work.pop(0))
        elif what == What.SCRAP:
            (done if part in done else at_work).remove(part)
        elif what == What.LEAVE:
            assert part == done.pop(0), f"{where}: leaves before its turn"


def _check_start(rows: list[list[int]], at: int, came: list[tuple[int, int]], batch: Batch, where: str) -> None:
    """All start in one instant, for as long; they are full, or enough and have waited long enough."""
    started = rows[at : at + len(came)]
    assert [row[1] for row in started] == [What.START] * len(came), f"{where}: starts without a part that is in"
    assert [row[3] for row in started] == [part for _, part in came], f"{where}: starts out of order"
    assert len({(row[0], row[4]) for row in started}) == 1, f"{where}: not started together"
    if len(came) < batch.size:
        assert batch.wait_at_most is not None, f"{where}: starts with {len(came)} of {batch.size}"
        assert len(came) >= (batch.at_least or 1), f"{where}: starts with {len(came)}"
        assert rows[at][0] - came[0][0] >= to_us(batch.wait_at_most), f"{where}: starts before its wait is over"


def _check_feed(rows: list[list[int]], feed: ThroughFeed, name: str) -> None:
    """A pitch of moving lies between two parts that enter, and nothing leaves but what is at the exit and first."""
    inside: list[int] = []
    ended: list[int] = []
    moved_us, moves_since, lost = to_us(feed.pitch), -1, False  # since the last part came in; whether that was lost
    for time_us, what, _, part, value in rows:
        where = f"{name}, part {part} at {time_us} us"
        if what == What.STATE:
            moved_us += time_us - moves_since if moves_since >= 0 else 0
            moves_since = time_us if value == MachineState.WORKING else -1
        elif what == What.ARRIVE:
            moved_us += time_us - moves_since if moves_since >= 0 else 0
            assert moved_us >= to_us(feed.pitch) or lost, f"{where}: enters {moved_us} us after another"
            moved_us, lost = 0, False
            moves_since = time_us if moves_since >= 0 else -1
            inside.append(part)
        elif what == What.START:
            assert value == to_us(feed.transit)
            assert part == inside[-1], f"{where}: starts behind another"
        elif what == What.END:
            assert (part, ended) == (inside[0], []), f"{where}: at the exit out of order"
            ended.append(part)
        elif what in (What.LEAVE, What.SCRAP):
            lost = lost or what == What.SCRAP
            assert what == What.SCRAP or part in ended, f"{where}: leaves from inside"
            inside.remove(part)
            ended = []
