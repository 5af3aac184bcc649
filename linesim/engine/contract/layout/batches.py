"""Machines that hold several parts, on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.ledger import to_us
from linesim.line.model import Batch, ThroughFeed


def write_batch(layout: Layout, machine: int, batch: Batch | None) -> None:
    """How many parts a machine works on together, and when it starts with fewer."""
    layout.set(machine, LONGEST_WAIT=-1, FIRST_CAME=-1)
    if batch is None:
        return
    layout.set(machine, ROOM_FOR=batch.size, QUEUE=layout.room(batch.size), AT_LEAST=batch.least)
    if batch.wait_at_most is not None:
        layout.set(machine, LONGEST_WAIT=to_us(batch.wait_at_most))
    layout.most_together += batch.size


def write_through_feed(layout: Layout, machine: int, feed: ThroughFeed) -> None:
    """A through-feed, with a clock for each part that may be in it at a time."""
    first = layout.room(feed.positions * r.FEED_CLOCK_SIZE)
    for n in range(feed.positions):
        layout.set(first + n * r.FEED_CLOCK_SIZE, FEED_OF=machine)
    layout.set(machine, ROOM_FOR=feed.positions, QUEUE=layout.room(feed.positions), FEED_CLOCKS=first)
    layout.set(machine, PITCH=to_us(feed.pitch), TRANSIT=to_us(feed.transit))
    layout.most_together += feed.positions
