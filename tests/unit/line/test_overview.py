"""The summary shows what an engineer must check: route, stops, call rule and grippers, crews, capacity, warnings."""

from linesim.line import load_line, summary
from linesim.line.overview_words import Typed
from tests.unit.line.lines import cell


def text(*overrides, **changes):
    return summary(load_line(cell(**changes), list(overrides)))


def row(summary_text, first):
    return next(" ".join(line.split()) for line in summary_text.splitlines() if line.split()[:1] == [first])


def test_a_row_of_the_route_shows_place_machines_cycle_position_and_way_on():
    shown = text("stations.turn.machines=2", "loaders.gantry.stops.turn=[2 m, 3 m]")
    assert row(shown, "turn") == "turn station 2 60 s 2, 3 m gantry"
    assert row(shown, "tray") == "tray outfeed 8 m"


def test_the_call_rule_and_the_grippers_are_shown():
    assert "gantry: 2 grippers, at most 1 exchange a tour; next call: downstream first" in text()
    fixed = text("loaders.gantry.next_call={fixed: [grind, turn, blanks]}", "loaders.gantry.grippers=1")
    assert "gantry: 1 gripper; next call: fixed grind, turn, blanks" in fixed


def test_breakdowns_and_stops_are_shown_with_law_clock_and_crew():
    overrides = [
        "stations.turn.breakdowns.jam={mtbf: 9 h, mttr: {family: gamma, mean: 12 min, cv: 0.5}, part: scrap}",
        "stations.turn.breakdowns.jam.crew=fitter",
        "stations.turn.dressing.wheel={every: 12 parts, takes: 28 s}",
    ]
    shown = text(*overrides, crews={"fitter": {"response": "5 min"}})
    assert "breakdown jam" in shown
    assert "12 min gamma, cv 0.5" in shown
    assert "working, part scrap" in shown
    assert "dressing wheel" in shown
    assert "fitter: 1 person, there after 5 min, 100 % paid by this line" in shown


def test_times_stand_as_they_were_typed_where_the_file_is_at_hand():
    """400 s, 90 min and 0.2 h; without the file a unit is chosen by size."""
    given = cell(crews={"fitter": {"response": "400 s"}})
    given["stations"]["turn"] |= {
        "cycle": {"family": "gamma", "mean": "400 s", "cv": 0.5},
        "breakdowns": {"jam": {"mtbf": "90 min", "mttr": "0.2 h", "crew": "fitter"}},
        "cleaning": {"chips": {"every": "900 min", "takes": "400 s"}},
    }
    given["buffers"]["park"]["dwell"] = "0.2 h"
    line = load_line(given)
    typed, chosen = summary(line, given), summary(line)
    assert row(typed, "turn") == "turn station 1 400 s gamma, cv 0.5 2 m gantry"
    assert row(chosen, "turn") == "turn station 1 6.667 min gamma, cv 0.5 2 m gantry"
    words_typed, words_chosen = " ".join(typed.split()), " ".join(chosen.split())
    assert "breakdown jam 90 min exponential 0.2 h exponential" in words_typed
    assert "breakdown jam 90 min exponential 12 min exponential" in words_chosen
    assert "cleaning chips 900 min 400 s" in words_typed
    assert "cleaning chips 15 h 6.667 min" in words_chosen
    assert "fitter: 1 person, there after 400 s" in typed
    assert row(typed, "park").split()[2:5] == ["2", "0.2", "h"]


def test_what_was_typed_is_shown_only_if_it_is_the_time_that_is_told():
    typed = Typed({"stations": {"turn": {"cycle": "90 s", "overstay": 5, "power": {"mean": "no time"}}}})
    assert typed.time(90.0, "stations", "turn", "cycle") == "90 s"
    assert typed.time(600.0, "stations", "turn", "cycle") == "10 min"
    assert typed.time(600.0, "stations", "turn", "overstay") == "10 min"
    assert typed.time(600.0, "stations", "turn", "power", "mean") == "10 min"
    assert typed.time(600.0, "stations", "grind", "cycle") == "10 min"


def test_defects_inspection_and_rework_are_told_in_words():
    shown = text("stations.turn.defects={size: 1.5 %}", "stations.grind.inspection={catches: 98 %, rework: {to: turn}}")
    assert "turn makes defects: 1.5 % size" in shown
    assert (
        "grind finds 98 % of the defects, rejects 0 % of the good ones; rejects go back to turn at most 1 time" in shown
    )


def test_the_sheet_shows_takt_need_and_warnings():
    shown = text("buffers.park.dwell=4 min", demand={"volume": "40000 /year", "planned": "1000 h/year"})
    assert "40.0 good parts/h, takt 90.0 s" in shown
    assert "warning: park lets 30.0 parts/h through" in shown
    assert "if every stop halted the whole line: not defined for this line" in shown


def test_columns_without_any_entry_are_left_out():
    assert "dwell" not in text()
    assert "needed/h" not in text()


def test_the_loaders_ceiling_stands_beside_what_it_assumes_and_a_caution():
    """33 s a part: 40 parts/h are 37 %."""
    demand = {"volume": "40000 /year", "planned": "1000 h/year"}
    shown = " ".join(text(demand=demand).split())
    assert (
        "37 % of its time at the demand if all sweeps are full with a swap at every machine and nothing waits" in shown
    )
    assert "75-80 %" in shown
    assert "a trip for each step" in text("loaders.gantry.grippers=1")
    assert "75-80 %" not in text(loaders={})


def test_lines_of_the_sheet_stay_within_the_width():
    overrides = ["stations.grind.inspection.rework.to=turn", "buffers.park.capacity=0", "loaders.gantry.grippers=1"]
    assert "warning: the rework loop" in text(*overrides)
    assert max(map(len, text(*overrides).splitlines())) <= 120


def test_it_tells_samples_and_stops_that_hold_the_loader():
    text = summary(load_line("ring_cell", ["stations.grind.samples.after=[wheel]"], change="rejects_by_loader"))
    assert "grind puts samples into drawer: every 60 parts, first after wheel" in text
    assert "finds 100 % of the defects, rejects 0 % of the good ones; rejects go to chute" in text
    assert next(row for row in text.splitlines() if "measuring master" in row).split()[-3:] == [
        "calendar,",
        "holds",
        "loader",
    ]
    assert "s of it for chutes and drawers)" in text
