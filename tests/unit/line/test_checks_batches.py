"""Batches and through-feeds: what can't be meant, or can't go together with them, is told with key and fix."""

import pytest

from linesim.line import load_line
from linesim.line.model import Batch, ThroughFeed
from tests.unit.line.lines import cell, problems

TURN = {"cycle": "60 s", "batch": {"size": "6 parts"}}


def with_turn(source=None, **keys):
    source = source or cell()
    source["stations"]["turn"] = TURN | keys
    return source


def told(source):
    return [(problem.key.removeprefix("stations.turn."), problem.rule) for problem in problems(source)]


def test_a_batch_is_read_with_its_least_number():
    given = {"size": "6 parts", "at_least": "4 parts", "wait_at_most": "10 min"}
    assert load_line(with_turn(batch=given)).stations["turn"].batch == Batch(6, 4, 600)
    assert [Batch(6).least, Batch(6, None, 5).least, Batch(6, 4, 5).least] == [6, 1, 4]


@pytest.mark.parametrize(
    ("batch", "key", "rule"),
    [
        ({}, "size", "is missing"),
        ({"size": "1 parts"}, "size", "must be 2 parts or more"),
        ({"size": "6 pieces"}, "size", "must be a number of parts in parts or part"),
        ({"size": "6 parts", "at_least": "4 parts"}, "at_least", "when does it start with fewer than size?"),
        (
            {"size": "6 parts", "at_least": "6 parts", "wait_at_most": "1 min"},
            "at_least",
            "must be below size (6 parts)",
        ),
        ({"size": "6 parts", "wait_at_most": "-1 s"}, "wait_at_most", "must be 0 s or more"),
    ],
)
def test_a_batch_must_be_able_to_start(batch, key, rule):
    assert told(with_turn(batch=batch)) == [(f"batch.{key}", rule)]


SIZE = {"tolerance": "9 um", "spread": "1 um"}


@pytest.mark.parametrize(
    ("keys", "key", "rule"),
    [
        ({"blocking": "before_service"}, "blocking", "can't reserve the room that all parts of a batch need"),
        ({"strokes": {"number": {0: "100 %"}, "takes": "3 s"}}, "strokes", "parts of a batch can't have numbers of"),
        ({"call_ahead": "9 s"}, "call_ahead", "parts of a batch can't call ahead"),
        ({"characteristics": {"bore": SIZE}}, "characteristics", "parts of a batch can't be given sizes of their own"),
        ({"tool_change": {"t": {"takes": "3 s", "life": "9 parts"}}}, "tool_change.t.life", "which of the parts of a"),
    ],
)
def test_what_is_done_to_one_part_only_is_refused(keys, key, rule):
    (problem,) = problems(with_turn(**keys))
    assert problem.key == f"stations.turn.{key}"
    assert problem.rule.startswith(rule)
    assert problem.fix == "remove it, or give the station machines side by side in place of batch"


def test_scrap_of_a_batch_leaves_at_once():
    source = with_turn(chute="bin")
    source["loaders"]["gantry"]["stops"]["bin"] = "3 m"
    assert told(source) == [("chute", "parts of a batch can't wait for a loader to their chute")]


def test_part_types_may_neither_have_cycles_nor_changeovers():
    parts = {"small": {"share": "50 %"}, "large": {"share": "50 %"}}
    keys = {"cycle": {"small": "60 s", "large": "70 s"}, "changeover": {"takes": {"small": {"large": "60 s"}}}}
    assert [key for key, _ in told(with_turn(cell(parts=parts), **keys))] == ["changeover", "cycle"]


def test_a_station_that_measures_or_sends_back_works_on_one_part():
    source = with_turn()
    source["stations"]["turn"] = {"cycle": "60 s", "characteristics": {"bore": SIZE}}
    inspection = {"measures": {"bore": {}}, "rework": {"to": "turn"}}
    source["stations"]["grind"] = TURN | {"inspection": inspection}
    assert [problem.key for problem in problems(source)] == [
        "stations.grind.inspection.measures",
        "stations.grind.inspection.rework",
    ]


def test_a_fixed_round_past_a_batch_is_refused():
    source = with_turn()
    source["loaders"]["gantry"]["next_call"] = {"fixed": ["grind", "turn", "blanks"]}
    (problem,) = problems(source)
    assert (problem.key, problem.rule) == (
        "loaders.gantry.next_call",
        "a fixed round may wait for ever for the batch of turn to be full",
    )


@pytest.mark.parametrize(("limit", "refused"), [(5, True), (6, False)])
def test_so_many_parts_may_be_inside_that_a_batch_can_be_full(limit, refused):
    found = problems(with_turn(cell(wip_limit=limit)))
    assert [(problem.key, problem.fix) for problem in found] == [("wip_limit", "write 6 or more")] * refused


def test_a_batch_in_a_short_rework_loop_must_be_able_to_be_full():
    """Small parts pass the furnace by, so that only saw, park and grind count: 4 places let 3 parts in."""
    parts = {"small": {"share": "50 %", "skips": ["turn"]}, "large": {"share": "50 %"}}
    source = cell(loaders={}, parts=parts, route=["blanks", "saw", "turn", "park", "grind", "tray"])
    source["stations"] = {"saw": {"cycle": "9 s"}, "turn": TURN, "grind": {"cycle": "9 s"}}
    source["stations"]["grind"]["inspection"] = {"rework": {"to": "saw"}}
    (problem,) = problems(source)
    assert (problem.key, problem.fix) == ("stations.turn.batch", "lower size, or give it wait_at_most")
    assert problem.rule.startswith("the rework loop from saw to grind lets 3 parts in, and 5 can wait")
    assert not problems(source, "stations.turn.batch={size: 3 parts}")


FEED = {"through_feed": {"pitch": "28 s", "transit": "150 s"}}


def with_feed(source=None, **keys):
    source = source or cell()
    source["stations"]["turn"] = FEED | keys
    return source


def test_the_pitch_of_a_through_feed_is_its_cycle():
    turn = load_line(with_feed()).stations["turn"]
    assert (turn.cycle.mean, turn.through_feed) == (28, ThroughFeed(28, 150))


@pytest.mark.parametrize(
    ("feed", "key", "rule"),
    [
        ({"transit": "150 s"}, "pitch", "is missing"),
        ({"pitch": "28 s"}, "transit", "is missing"),
        ({"pitch": "28", "transit": "150 s"}, "pitch", "must be a time with its unit (s, min, h or ms)"),
        ({"pitch": "0 s", "transit": "150 s"}, "pitch", "must be above 0 s"),
        ({"pitch": "28 s", "transit": "20 s"}, "transit", "must be pitch (28 s) or more"),
        ({"pitch": "1 ms", "transit": "2 s"}, "", "makes room for 2001 parts inside; 1000 are the most"),
    ],
)
def test_a_through_feed_must_be_able_to_move(feed, key, rule):
    assert told(with_feed(through_feed=feed)) == [(f"through_feed.{key}".rstrip("."), rule)]


@pytest.mark.parametrize(
    ("keys", "key", "rule", "fix"),
    [
        ({"cycle": "30 s"}, "cycle", "has no meaning beside through_feed, whose pitch is", "remove it"),
        ({"batch": {"size": "2 parts"}}, "batch", "a station has either batch or through_feed", "remove one of them"),
        (
            {"breakdowns": {"jam": {"mtbf": "9 h", "mttr": "1 h", "part": "restart"}}},
            "breakdowns.jam.part",
            "parts in a through-feed can't start again, each is somewhere else",
            "write resume or scrap",
        ),
        (
            {"machines": {"a": {"breakdowns": {"jam": {"mtbf": "9 h", "mttr": "1 h", "part": "restart"}}}}},
            "machines.a.breakdowns.jam.part",
            "parts in a through-feed can't start again, each is somewhere else",
            "write resume or scrap",
        ),
        (
            {"machines": {"a": {"tool_change": {"t": {"takes": "3 s", "life": "9 parts"}}}}},
            "machines.a.tool_change.t.life",
            "which of the parts in a through-feed would a breaking tool take with it?",
            "remove it, or give the station machines side by side in place of through_feed",
        ),
        (
            {"call_ahead": "9 s"},
            "call_ahead",
            "parts in a through-feed can't call ahead",
            "remove it, or give the station machines side by side in place of through_feed",
        ),
    ],
)
def test_what_a_through_feed_can_not_have_is_refused(keys, key, rule, fix):
    (problem,) = problems(with_feed(**keys))
    assert problem.key == f"stations.turn.{key}"
    assert problem.rule.startswith(rule)
    assert problem.fix == fix


def test_a_fixed_round_does_not_stop_at_a_through_feed():
    source = with_feed()
    source["loaders"]["gantry"]["next_call"] = {"fixed": ["grind", "turn", "blanks"]}
    (problem,) = problems(source)
    assert problem.key == "loaders.gantry.next_call"
    assert problem.rule.startswith("a fixed round can't serve turn")
