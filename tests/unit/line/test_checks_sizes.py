"""Sizes that can't be are told, each with its key and what to write instead."""

import pytest

from tests.unit.line.lines import cell, messages, problems

BORE = "stations.turn.characteristics.bore"
SOUND = "{tolerance: 12 um, spread: 1 um}"


def found(*overrides: str, size: str = "{tolerance: 12 um, spread: 1 um}") -> list[str]:
    return messages(cell(), f"{BORE}={size}", *overrides)


def test_a_sound_characteristic_has_no_problems() -> None:
    tip = "stations.turn.tool_change.tip={every: 9 parts, takes: 3 s}"
    sound = "{tolerance: {low: -1 um, high: 0.005 mm}, spread: 800 nm, offset: -2 um, drift: -20 nm/part"
    assert found(tip, size=sound + ", after: {tip: -0.5 um}}") == []


@pytest.mark.parametrize(
    ("size", "key", "words"),
    [
        ("{tolerance: 12, spread: 1 um}", "tolerance", "must be a size with its unit (um, mm or nm). Write 12 um"),
        ("{tolerance: 0 um, spread: 1 um}", "tolerance", "must be above 0 um"),
        ("{tolerance: {low: 1 um, high: 1 um}, spread: 1 um}", "tolerance", "low must be below high"),
        ("{tolerance: {low: 1 um}, spread: 1 um}", "tolerance.high", "is missing"),
        ("{tolerance: 12 um}", "spread", "is missing"),
        ("{tolerance: 12 um, spread: -1 um}", "spread", "must be 0 um or more"),
        ("{tolerance: 12 um, spread: 1 m}", "spread", "must be a size in um, mm or nm. Write 1 mm"),
        ("{tolerance: 12 um, spread: 1 um, offset: 101 mm}", "offset", "must be at most 100000 um"),
        ("{tolerance: 12 um, spread: 1 um, drift: 1 um}", "drift", "Write 1 um/part"),
        ("{tolerance: 12 um, spread: 1 um, drift: 2000 um/part}", "drift", "must be at most 1000 um/part"),
        ("{tolerance: 12 um, spread: 1 um, after: {tip: 1 um}}", "after.tip", "is no stop of this station"),
        ("{tolerance: 12 um, spread: 1 um, wear: 1 um}", "wear", "is an unknown key"),
    ],
)
def test_a_wrong_value_is_told_with_its_key_and_rule(size: str, key: str, words: str) -> None:
    (message,) = found(size=size)
    assert message.startswith(f"{BORE}.{key}")
    assert words in message


def test_a_stop_that_is_not_there_is_told_with_the_nearest() -> None:
    tip = "stations.turn.tool_change.tip={every: 9 parts, takes: 3 s}"
    (message,) = found(tip, size="{tolerance: 12 um, spread: 1 um, after: {tp: 1 um}}")
    assert "Did you mean tip?" in message


def gauged(measures: str, station: str = "grind", **changes: object) -> list[str]:
    return messages(cell(**changes), f"{BORE}={SOUND}", f"stations.{station}.inspection.measures={measures}")


def test_a_gauge_may_stand_where_the_size_is_made_or_behind() -> None:
    assert gauged("{bore: {grr: 10 %}}") == gauged("{bore: {}}", station="turn") == []


def test_a_gauge_that_measures_nothing_that_is_there_is_told() -> None:
    (message,) = gauged("{bor: {grr: 10 %}}")
    assert message.startswith("stations.grind.inspection.measures.bor ")
    assert "is no characteristic of this line" in message
    assert "Did you mean bore?" in message
    (message,) = messages(cell(), "stations.grind.inspection.measures={bore: {grr: 10 %}}")
    assert "No station has characteristics" in message


def test_a_gauge_before_the_size_is_made_is_told() -> None:
    face = f"stations.grind.characteristics.face={SOUND}"
    (message,) = messages(cell(), face, "stations.turn.inspection.measures={face: {grr: 10 %}}")
    assert "grind gives parts their face, and comes after turn on the route" in message
    assert "Measure it there or behind it" in message


@pytest.mark.parametrize(
    ("gauge", "words"), [("{grr: 0.1}", "Write 10 %"), ("{grr: 101 %}", "must be at most 100 %"), ("{gr: 1 %}", "grr?")]
)
def test_a_wrong_gauge_is_told(gauge: str, words: str) -> None:
    (message,) = gauged(f"{{bore: {gauge}}}")
    assert words in message


def test_a_sample_that_says_nothing_is_told() -> None:
    (message,) = gauged("{bore: {sample: {}}}")
    assert message.startswith("stations.grind.inspection.measures.bore.sample")
    assert "says not which parts are measured. Write every, first_and_last or after_pause" in message


def test_first_and_last_parts_need_a_tool_that_is_renewed() -> None:
    (message,) = gauged("{bore: {sample: {first_and_last: true}}}")
    assert message.startswith("stations.grind.inspection.measures.bore.sample.first_and_last")
    assert "no stop renews the tool of bore. Name it in `after` of bore" in message


@pytest.mark.parametrize(
    ("sample", "words"),
    [
        ("{every: 10}", "must be a number of parts or a time"),
        ("{every: 3 dressings}", "must be a number of parts or a time"),
        ("{every: 0 parts}", "must be above 0"),
        ("{first_and_last: 1}", "must be true or false"),
        ("{after_pause: 0 min}", "must be above 0 s"),
    ],
)
def test_a_wrong_sample_is_told(sample: str, words: str) -> None:
    (message,) = gauged(f"{{bore: {{sample: {sample}}}}}")
    assert words in message


@pytest.mark.parametrize(
    ("feedback", "words"),
    [
        ("{}", "gain is missing"),
        ("{gain: 0}", "must be above 0"),
        ("{gain: 11}", "must be at most 10"),
        ("{gain: 30 %}", "without a unit"),
        ("{gain: 0.3, dead_band: -1 um}", "must be 0 um or more"),
        ("{gain: 0.3, average: 0 parts}", "must be 1 part or more"),
        ("{gain: 0.3, only_new: 1}", "must be true or false"),
        ("{gain: 0.3, outlasts_tools: 1}", "must be true or false"),
    ],
)
def test_a_wrong_feedback_is_told(feedback: str, words: str) -> None:
    (message,) = gauged(f"{{bore: {{feedback: {feedback}}}}}")
    assert words in message.replace("(override): ", "")


def test_a_characteristic_has_a_name_of_its_own() -> None:
    (message,) = found("stations.turn.defects.bore=1 %")
    assert "is taken by a defect of this station" in message
    (problem,) = problems(
        cell(), f"{BORE}={{tolerance: 12 um, spread: 1 um}}",
        "stations.grind.characteristics.bore={tolerance: 12 um, spread: 1 um}",
    )  # fmt: skip
    assert (problem.key, problem.rule) == ("stations.grind.characteristics.bore", "turn gives parts a bore already")
