"""Measures of the hand-written ledger, each worked out on paper."""

import math

import numpy as np
import pytest

from linesim.engine.contract.ledger import US
from linesim.results.measures.energy import energy, energy_per_good_part_kwh
from linesim.results.measures.leadtime import histograms, lead_time_measures, round_width
from linesim.results.measures.money import costs, money_measures
from linesim.results.measures.oee import line_oee, oee_parts, stations
from linesim.results.measures.output import counts, share_below, windows
from linesim.results.measures.owners import loaders, states
from linesim.results.measures.planned import planned_us
from linesim.results.measures.stock import buffers, ends, levels, mean_wip, wip, wip_by_little
from linesim.results.measures.stops import crews, stoppages
from tests.unit.results.ledgers import departures, ledger, line


def test_counts_are_of_parts_that_left_in_the_measured_time() -> None:
    """5 good parts in 1000 s are 18 an hour; the one that left in the warm-up is none of them."""
    assert counts(ledger()) == {
        "throughput_per_h": pytest.approx(18.0, rel=1e-12),
        "good_parts": 5,
        "scrapped_parts": 2,
        "sampled_parts": 0,
        "reworked_parts": 2,
        "false_alarm_parts": 1,
        "escaped_parts": 1,
    }


def test_a_part_that_leaves_at_the_edge_of_windows_is_counted_once_in_the_later_one() -> None:
    table = windows(ledger())
    assert table["good_parts"].tolist() == [1, 1, 2, 1, 1]
    assert table["measured"].tolist() == [False, True, True, True, True]
    assert table["whole"].tolist() == [False, False, True, True, False]
    assert table["throughput_per_h"].tolist() == pytest.approx([36, 18, 24, 12, 18])
    assert table["wip_parts"].tolist() == pytest.approx([0.6, 1.0, 2.0, 1.5, 2.25])


def test_share_of_windows_below_demand_looks_at_whole_measured_windows_only() -> None:
    """Two are whole, with 24 and 12 parts/h."""
    table = windows(ledger())
    assert [share_below(table, demand) for demand in (11.0, 12.0, 20.0, 25.0)] == [0.0, 0.0, 0.5, 1.0]
    assert math.isnan(share_below(table, None))
    assert math.isnan(share_below(table[:2], 20.0))


def test_oee_of_the_standard_example_is_0_7125() -> None:
    """Formulas of ISO 22400-2 as in OPC 40501-1, annex C; numbers by hand: 0.8333 x 0.9 x 0.95 = 342 / 480."""
    found = oee_parts(480 * 60, 400 * 60, 60, 360, 342)
    assert found["oee"] == pytest.approx(0.7125, rel=1e-12)
    assert (found["availability"], found["effectiveness"], found["quality"]) == pytest.approx((400 / 480, 0.9, 0.95))


def test_station_oee_takes_all_machines_and_charges_rejects_to_their_maker() -> None:
    """Mills: 640 of 2000 s working, 10 parts of 60 s made, 1 scrapped and 2 reworked for their sake, 396 s of stops."""
    mill = stations(ledger(), line()).set_index("station").loc["mill"]
    assert mill["availability"] == pytest.approx(0.32)
    assert mill["effectiveness"] == pytest.approx(0.9375)
    assert mill["quality"] == pytest.approx(0.7)
    assert mill["oee"] == pytest.approx(0.21)
    assert mill["own_availability"] == pytest.approx(640 / (640 + 50 + 200 + 60 + 86))


def test_a_planned_cycle_takes_the_place_of_the_mean_one() -> None:
    mill = {"cycle": "60 s", "machines": 2, "planned_cycle": "50 s"}
    planned = line(stations={"mill": mill, "gauge": {"cycle": "20 s"}})
    assert stations(ledger(), planned)["effectiveness"][0] == pytest.approx(50 * 10 / 640)


def test_line_oee_is_good_parts_times_ideal_interval_over_planned_time() -> None:
    assert line_oee(ledger(), 30.0) == pytest.approx(5 * 30 / 1000)


def test_lead_time_is_that_of_good_parts_with_linear_quantiles() -> None:
    """The five good ones took 80, 150, 200, 250 and 320 s."""
    found = lead_time_measures(ledger(), least_s=100.0)
    assert found["lead_time_mean_s"] == pytest.approx(200.0)
    assert found["lead_time_p05_s"] == pytest.approx(80 + 0.2 * 70)
    assert found["lead_time_p50_s"] == pytest.approx(200.0)
    assert found["lead_time_p95_s"] == pytest.approx(250 + 0.8 * 70)
    assert found["flow_factor"] == pytest.approx(2.0)


def test_measures_of_a_line_that_makes_nothing_are_zero_or_not_defined() -> None:
    idle = ledger(departures=departures([]))
    assert counts(idle)["throughput_per_h"] == 0
    assert all(math.isnan(value) for value in lead_time_measures(idle, 100.0).values())
    assert wip_by_little(idle) == 0


def test_histograms_of_all_replications_share_their_classes_and_hold_every_part() -> None:
    first, second = histograms([np.array([10.0, 20.0, 20.0]), np.array([90.0, 400.0])])
    assert (first["from_s"].tolist(), first["to_s"].tolist()) == (second["from_s"].tolist(), second["to_s"].tolist())
    assert (first["good_parts"].sum(), second["good_parts"].sum()) == (3, 2)
    assert first.loc[first["from_s"] == 20.0, "good_parts"].tolist() == [2]  # the lower bound belongs to its class
    assert second["to_s"].iloc[-1] > 400
    assert all(table.empty for table in histograms([np.empty(0), np.empty(0)]))


@pytest.mark.parametrize(
    ("least", "width"), [(0.0, 0.1), (0.1, 0.1), (3.0, 5.0), (30.0, 30.0), (31.0, 60.0), (2000.0, 3600.0)]
)
def test_classes_have_widths_that_are_round_in_seconds_minutes_or_hours(least: float, width: float) -> None:
    assert round_width(least) == width
    assert round_width(1e5) >= 1e5


def test_wip_is_weighted_by_time() -> None:
    """0.3 + 0.8 + 0.6 parts; the shares end with the most parts there ever were."""
    assert mean_wip(ledger()) == pytest.approx(1.7)
    assert wip(ledger())["share"].tolist() == pytest.approx([0.1, 0.3, 0.4, 0.2])


def test_rate_times_time_inside_takes_scrapped_parts_too() -> None:
    """The parts that left stayed 80 + 150 + 200 + 200 + 250 + 320 + 299 s, in 1000 s."""
    assert wip_by_little(ledger()) == pytest.approx(1.499)


def test_buffer_levels_are_weighted_by_time() -> None:
    (park,) = buffers(ledger()).to_dict("records")
    assert park == {
        "buffer": "park",
        "capacity_parts": 2,
        "mean_level": pytest.approx(0.7),
        "share_full": pytest.approx(0.2),
        "share_empty": pytest.approx(0.5),
    }
    assert levels(ledger())["share"].tolist() == pytest.approx([0.5, 0.3, 0.2])


def test_shares_of_time_add_up_for_machines_and_carriages() -> None:
    table = states(ledger()).set_index("owner")
    assert table.loc["mill.1", "under_repair"] == pytest.approx(0.2)
    assert table["moving_empty"].isna().tolist() == [True, True, True, False]
    assert table.loc["gantry.1", "handling"] == pytest.approx(0.25)
    assert table.drop(columns=["kind", "group"]).sum(axis=1).tolist() == pytest.approx([1.0] * 4)


def test_shares_are_of_planned_time() -> None:
    """Of 1000 s, 200 s are off shift: 400 s of work are half of the planned time."""
    off = ledger().states["mill.1"] * 0
    off[[0, 10, 15]] = np.array([200, 400, 400]) * 1_000_000
    table = states(ledger(states={**ledger().states, "mill.1": off})).set_index("owner")
    assert table.loc["mill.1", "working"] == pytest.approx(0.5)


def test_a_loader_in_use_moves_handles_or_waits_at_a_machine() -> None:
    assert loaders(ledger())["in_use"].tolist() == pytest.approx([0.52])
    assert loaders(ledger())["loader"].tolist() == ["gantry"]


def test_crew_use_is_by_person_and_the_mean_wait_of_all_calls() -> None:
    (crew,) = crews(ledger()).to_dict("records")
    assert crew["use"] == pytest.approx(0.2)
    assert crew["all_busy_share"] == pytest.approx(0.05)
    assert crew["share_waited"] == pytest.approx(0.25)
    assert crew["mean_wait_s"] == pytest.approx(15.0)


def test_a_crew_that_nobody_called_has_no_mean_wait() -> None:
    (crew,) = ledger().of_crews
    quiet = crew._replace(calls=0, calls_waited=0, waited_us=0)
    assert crews(ledger(of_crews=(quiet,)))[["share_waited", "mean_wait_s"]].isna().all(axis=None)


def test_stoppages_count_waiting_and_lasting_time() -> None:
    jam = stoppages(ledger(), line()).iloc[0]
    assert (jam["count"], jam["waiting_s"], jam["lasting_s"]) == (2, 50.0, 200.0)
    assert jam["share"] == pytest.approx(0.25)


def test_cost_of_a_good_part_is_that_at_the_output_of_the_replication() -> None:
    """5 good parts in 1000 s are 18 an hour, 72,000 in 4000 h; 2 scrapped beside 5 good; no crews.

    10 % of 720 k are 1.00 a part, tooling 0.50, scrap 0.4 x (3 + 1.50).
    """
    priced = line(
        money={"life": "10 years", "tooling": "0.5 /part", "blank": "3 /part"},
        infeed={"stocker": {"price": "720 k"}},
    )
    rows = costs(ledger(), priced).set_index("item")["per_good_part"]
    assert rows[rows > 0].to_dict() == pytest.approx({"depreciation": 1.0, "tooling": 0.5, "scrap": 1.8})
    found = money_measures(ledger(), priced)
    assert found["cost_per_good_part"] == pytest.approx(3.3)
    assert found["annual_cost_per_good_part"] == pytest.approx(1.0 + 0.5 + 0.4 * 3.5)


def test_cost_is_not_defined_without_money_demand_or_good_parts() -> None:
    money = {"life": "10 years"}
    for of_line, of_ledger in (
        (line(), ledger()),
        (line(money=money, demand=None), ledger()),
        (line(money=money), ledger(departures=departures([]))),
    ):
        assert math.isnan(money_measures(of_ledger, of_line)["cost_per_good_part"])
        assert costs(of_ledger, of_line).empty


def test_energy_is_power_in_each_state_times_the_time_in_it() -> None:
    """Mill 1: 350 s at 36 kW are 3.5 kWh, 290 s of the other 2.9; 300 + 600 s waiting at 7.2 kW are 0.6 and 1.2 kWh."""
    powered = line(
        stations={
            "mill": {
                "cycle": "60 s",
                "machines": 2,
                "power": {"working": "36 kW", "blocked": "7.2 kW", "starved": "7200 W"},
            },
            "gauge": {"cycle": "20 s"},
        },
    )
    table = energy(ledger(), powered)
    assert table.groupby("owner")["kwh"].sum().to_dict() == pytest.approx({"mill.1": 4.1, "mill.2": 4.1})
    assert energy_per_good_part_kwh(ledger(), powered, 5) == pytest.approx(8.2 / 5)


def test_the_stock_of_an_end_has_its_mean_and_its_times_empty_and_full() -> None:
    """20,000 part-seconds in 1000 s; 50 s empty and 100 s full."""
    row = ends(ledger()).iloc[0]
    assert (row["end"], row["capacity_parts"]) == ("stocker", 60)
    assert (row["mean_stock"], row["share_empty"], row["share_full"]) == pytest.approx((20.0, 0.05, 0.1))


def test_with_a_week_rates_refer_to_planned_time() -> None:
    """Planned from 0 to 400 and from 700 to 1000 s: 600 of the 1000 measured seconds; 4 good parts left in all."""
    with_week = ledger(planned=np.array([(0, 400), (700, 1000)], dtype=np.int64) * US)
    assert planned_us(with_week) == 600 * US
    assert counts(with_week)["throughput_per_h"] == pytest.approx(5 * 6)
    table = windows(with_week)
    assert (table["planned_h"] * 3600).tolist() == pytest.approx([100, 200, 100, 200, 100])


def test_a_window_is_below_demand_by_its_planned_time_and_one_without_any_does_not_count() -> None:
    """The whole windows: 2 good parts in 100 planned s (72 an hour), and 1 in none."""
    with_week = ledger(planned=np.array([(0, 400)], dtype=np.int64) * US)
    table = windows(with_week)
    assert [share_below(table, demand) for demand in (71.0, 73.0)] == [0.0, 1.0]
