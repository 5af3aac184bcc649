"""The stories: what machines, carriages, buffers, breakdowns and stops go through, and how long it takes.

Who gets what is none of their business: the rules of the contract decide that and fire `begins[...]` when a timer is to
start. A story draws the duration, waits, and tells the rules what has ended.
"""

from __future__ import annotations

from collections.abc import Generator
from functools import partial
from typing import TYPE_CHECKING

import simpy

from linesim.engine.contract import records as r
from linesim.engine.contract.ahead import call_ahead
from linesim.engine.contract.batches import parts_at_work, wait_ends_at, wait_over
from linesim.engine.contract.carriages import end_handling, end_leg
from linesim.engine.contract.crews import crew_arrives
from linesim.engine.contract.ends import parts_arrive
from linesim.engine.contract.layout import Stoppage
from linesim.engine.contract.places import ripe_at, ripen
from linesim.engine.contract.shifts import next_edge_in, turn_edge
from linesim.engine.contract.stoppages import fail, fall_due, repaired, stop_over
from linesim.engine.contract.strokes import strokes_to_make
from linesim.engine.contract.through_feed import open_entry
from linesim.engine.contract.tool_life import new_life
from linesim.engine.contract.work import clock_of_entry, end_operation, note_start

if TYPE_CHECKING:
    from linesim.engine.simpy.shop import Shop

Story = Generator[simpy.Event, object, None]


def machine_story(shop: Shop, machine: int) -> Story:
    """A machine works on one part after the other. A breakdown may scrap the part, or make the work start again."""
    floor, clock = shop.floor, shop.clocks[shop.floor[machine + r.TIMER]]
    while True:
        yield shop.begins(r.START_OPERATION, machine)
        duration = shop.draw(floor[machine + r.CYCLE_STREAM])
        for _ in range(_strokes(shop, machine)):
            duration += shop.draw(floor[machine + r.STROKE_STREAM])
        note_start(floor, machine, duration)
        came_to_its_end = False
        while not came_to_its_end and floor[machine + r.PHASE] == r.WORKING:
            ended = clock.set(duration)
            if 0 <= floor[machine + r.CALLS_AHEAD] < duration:
                _set_call_ahead(shop, machine)
            shop.settle(machine)
            came_to_its_end = bool((yield ended))
        if came_to_its_end:
            for _ in range(parts_at_work(floor, machine)):
                _end_for_a_part(shop, machine)
            shop.settle(machine)


def _end_for_a_part(shop: Shop, machine: int) -> None:
    floor, step, drawn = shop.floor, shop.floor[machine + r.STEP], shop.floor[machine + r.DRAWN]
    draws = shop.draw(floor[step + r.DEFECT_STREAM]), shop.draw(floor[step + r.GAUGE_STREAM])
    for at in range(drawn, drawn + 2 * floor[machine + r.N_DRAWN], 2):
        floor[floor[at + 1]] = shop.draw(floor[at])
    end_operation(floor, machine, *draws)


def through_feed_story(shop: Shop, machine: int) -> Story:
    """Parts enter a through-feed; each has a clock until it is at the exit, the entry one until it is free again."""
    floor = shop.floor
    while True:
        yield shop.begins(r.START_TRANSIT, machine)
        if position := clock_of_entry(floor, machine):
            at_exit = shop.clocks[floor[position + r.FEED_TIMER]].set(floor[machine + r.TRANSIT])
            at_exit.callbacks.append(partial(_reach_exit, shop, machine))
        inside = shop.clocks[floor[machine + r.PITCH_TIMER]].set(floor[machine + r.PITCH])
        inside.callbacks.append(lambda _: open_entry(floor, machine))
        shop.settle(machine)


def _reach_exit(shop: Shop, machine: int, ended: simpy.Event) -> None:
    if ended.value:
        _end_for_a_part(shop, machine)
        shop.settle(machine)


def belt_story(shop: Shop, machine: int) -> Story:
    """A through-feed moves on, with all that is in it."""
    while True:
        yield shop.begins(r.START_OPERATION, machine)
        shop.settle(machine)


def _set_call_ahead(shop: Shop, machine: int) -> None:
    """Let the loader be called a while before the operation that starts now should end."""

    def tell(came_to_its_end: simpy.Event) -> None:
        if came_to_its_end.value:
            call_ahead(shop.floor, machine)

    clock = shop.clocks[shop.floor[machine + r.AHEAD_TIMER]]
    called = clock.set(shop.floor[machine + r.CALLS_AHEAD])
    assert called.callbacks is not None
    called.callbacks.append(tell)


def _strokes(shop: Shop, machine: int) -> int:
    """How many strokes the operation that starts now will take."""
    step = shop.floor[machine + r.STEP]
    if not shop.floor[step + r.N_STROKES]:
        return 0
    return strokes_to_make(shop.floor, machine, shop.draw(shop.floor[step + r.STROKES_STREAM]))


def carriage_story(shop: Shop, carriage: int) -> Story:
    """A carriage travels and handles, leg by leg; people handle for as long as it takes them."""
    floor, clock = shop.floor, shop.clocks[shop.floor[carriage + r.TIMER]]
    while True:
        yield shop.begins(r.START_LEG, carriage)
        stream = floor[carriage + r.LEG_STREAM]
        ended = clock.set(shop.draw(stream) if stream >= 0 else floor[carriage + r.LEG_TIME])
        shop.settle(carriage)
        yield ended
        if floor[carriage + r.MOTION] == r.HANDLING:
            end_handling(floor, carriage)
        else:
            end_leg(floor, carriage)
        shop.settle(carriage)


def buffer_story(shop: Shop, buffer: int) -> Story:
    """Parts in a buffer become ripe one after the other, first in, first out."""
    floor, clock = shop.floor, shop.clocks[shop.floor[buffer + r.TIMER]]
    while True:
        yield shop.begins(r.START_DWELL, buffer)
        while (due := ripe_at(floor, buffer)) >= 0:
            ended = clock.set(due - floor[r.NOW])
            clock.go_on()
            yield ended
            ripen(floor, buffer)


def batch_wait_story(shop: Shop, machine: int) -> Story:
    """Parts that gather in a machine wait so long for others at the most. A wait is timed on after its batch has
    started, and then found to be over or to be that of the next one."""
    floor, clock = shop.floor, shop.clocks[shop.floor[machine + r.WAIT_TIMER]]
    while True:
        yield shop.begins(r.START_WAIT, machine)
        while (due := wait_ends_at(floor, machine)) >= 0:
            ended = clock.set(due - floor[r.NOW])
            clock.go_on()
            yield ended
            wait_over(floor, machine)


def arrivals_story(shop: Shop, infeed: int) -> Story:
    """Blanks come to the infeed, batch after batch."""
    floor, clock = shop.floor, shop.clocks[shop.floor[infeed + r.TIMER]]
    while True:
        ended = clock.set(shop.draw(floor[infeed + r.ARRIVAL_STREAM]))
        clock.go_on()
        yield ended
        parts_arrive(floor, infeed)


def breakdown_story(shop: Shop, stoppage: Stoppage) -> Story:
    """One cause of breakdown: it ages, strikes, calls its crew, is repaired; the next time to failure is drawn then."""
    floor, record = shop.floor, stoppage.record
    owner = floor[record + r.OWNER]
    trigger = shop.clocks[floor[record + r.TRIGGER_TIMER]]
    while True:
        ended = trigger.set(shop.draw(floor[record + r.INTERVAL_STREAM]))
        shop.settle(owner)
        yield ended
        was_working = floor[owner + r.OWNER_KIND] == r.STATION and floor[owner + r.PHASE] == r.WORKING
        fail(floor, record)
        shop.settle(owner)
        if was_working and floor[record + r.EFFECT] != r.RESUME:
            _give_up_work(shop, owner)
        yield from _job_story(shop, record)
        repaired(floor, record)


def _give_up_work(shop: Shop, machine: int) -> None:
    """The operation of a machine, or every transit through it, does not come to its end."""
    floor = shop.floor
    if floor[machine + r.CALLS_AHEAD] >= 0:
        shop.clocks[floor[machine + r.AHEAD_TIMER]].stop()
    shop.clocks[floor[machine + r.TIMER]].stop()
    for n in range(floor[machine + r.ROOM_FOR] if floor[machine + r.PITCH] else 0):
        shop.clocks[floor[floor[machine + r.FEED_CLOCKS] + n * r.FEED_CLOCK_SIZE + r.FEED_TIMER]].stop()


def stop_story(shop: Shop, stoppage: Stoppage) -> Story:
    """A tool change, dressing, refill, ...: due by time, or by count or level (which those who count see to)."""
    floor, record = shop.floor, stoppage.record
    machine = floor[record + r.OWNER]
    age = shop.start_age(stoppage)
    if floor[record + r.TRIGGER] >= r.BY_COUNT:
        floor[record + r.COUNT] = age
        age = 0
    _begin_anew(shop, record, age)
    while True:
        yield from _job_story(shop, record)
        stop_over(floor, record)
        shop.settle(machine)
        _begin_anew(shop, record)
        if floor[record + r.PARTNER]:
            _begin_anew(shop, floor[record + r.PARTNER])


def call_by_hand_story(shop: Shop, stoppage: Stoppage) -> Story:
    """People who load by hand come, time and again; what they do then is the story of their hands."""
    while True:
        yield from _response_story(shop, stoppage.record)


def _begin_anew(shop: Shop, record: int, age: int = 0) -> None:
    """A stop has its whole interval before it again, a new life if it is the breakage of a tool."""
    floor = shop.floor
    if floor[record + r.BREAKS]:
        new_life(floor, record, shop.draw(floor[record + r.INTERVAL_STREAM]))
    if floor[record + r.TRIGGER] >= r.BY_COUNT:
        return
    trigger = shop.clocks[floor[record + r.TRIGGER_TIMER]]
    if trigger.is_set:
        trigger.stop()
    ended = trigger.set(floor[record + r.EVERY] - age)
    assert ended.callbacks is not None
    ended.callbacks.append(partial(_fall_due, shop, record))
    shop.settle(floor[record + r.OWNER])


def _fall_due(shop: Shop, record: int, ended: simpy.Event) -> None:
    """A stop by time is due. If a tool breaks in work, that ends."""
    if not ended.value:
        return  # given up
    floor, machine = shop.floor, shop.floor[record + r.OWNER]
    takes_a_part = floor[record + r.BREAKS] and floor[machine + r.PHASE] == r.WORKING
    fall_due(floor, record)
    if takes_a_part:
        shop.settle(machine)
        _give_up_work(shop, machine)


def week_story(shop: Shop) -> Story:
    """Shifts and breaks begin and end, week after week."""
    floor, clock = shop.floor, shop.clocks[shop.floor[shop.floor[r.CALENDAR] + r.CALENDAR_TIMER]]
    while True:
        ended = clock.set(next_edge_in(floor))
        clock.go_on()
        yield ended
        turn_edge(floor)


def _job_story(shop: Shop, record: int) -> Story:
    """From the call to the end: the crew comes, if there is one that needs time for it, and does its work."""
    floor, owner = shop.floor, shop.floor[record + r.OWNER]
    clock = shop.clocks[floor[record + r.JOB_TIMER]]
    if floor[record + r.RESPONDS]:
        yield from _response_story(shop, record)
    yield shop.begins(r.START_STOPPAGE, record)
    ended = clock.set(shop.draw(floor[record + r.TAKES_STREAM]))
    shop.settle(owner)
    yield ended


def _response_story(shop: Shop, record: int) -> Story:
    """Those who have taken the call come."""
    floor = shop.floor
    yield shop.begins(r.START_RESPONSE, record)
    ended = shop.clocks[floor[record + r.JOB_TIMER]].set(shop.draw(floor[record + r.RESPONSE_STREAM]))
    shop.settle(floor[record + r.OWNER])
    yield ended
    crew_arrives(floor, record)
