"""Money by hand and by table: rows of the cost sheet, annuity, present value, payback, energy by state.

Compound interest factors as printed in the tables of textbooks on engineering economy (from memory), and by summing the
discounted years one by one.
"""

import math

import pytest

import linesim
from linesim.line import against, load_line
from linesim.line.money import cost_at_demand, investment, part_cost, yearly_costs
from linesim.line.paying_back import annuity, net_present_value, simple_payback_years
from linesim.line.power import rough_energy_kwh


@pytest.mark.parametrize(("name", "invested_k", "cost"), [("ring_cell", 2840, 8.90), ("ring_divided", 6545, 5.84)])
def test_the_cost_sheet_of_the_demo_lines_is_as_worked_out_by_hand(name: str, invested_k: float, cost: float) -> None:
    line = load_line(name)
    assert investment(line) / 1000 == pytest.approx(invested_k, abs=0.5)
    found = cost_at_demand(line)
    assert found is not None
    assert found.conversion == pytest.approx(cost, abs=0.01)


DEMO_ROWS = {
    "ring_cell": {
        "depreciation": 4.18, "interest": 1.00, "upkeep": 1.00, "space": 0.21,
        "labour": 1.29, "energy": 0.34, "tooling": 0.70, "scrap": 0.18,
    },
    "ring_divided": {
        "depreciation": 2.18, "interest": 0.52, "upkeep": 0.52, "space": 0.13,
        "labour": 1.46, "energy": 0.30, "tooling": 0.58, "scrap": 0.13,
    },
}  # fmt: skip


@pytest.mark.parametrize("name", DEMO_ROWS)
def test_every_row_of_the_demo_lines_is_as_on_paper(name: str) -> None:
    """Compact cell: 2,559 k of prices + 11 % = 2,840.49 k; 85,000 parts; 0.75 people x 42 x 3480 h; 1.496 % rejects;
    2.1 kWh and 0.70 of tools a part. Divided line: 5,896 k + 11 %; 375,000 parts; 2.5 people x 42 x 5220 h; 1.5 %
    rejects; 1.9 kWh and 0.58 of tools a part."""
    found = cost_at_demand(load_line(name))
    assert found is not None
    assert {item: round(value, 2) for item, value in found.rows.items()} == DEMO_ROWS[name]


MONEY = {
    "installation": "10 %", "life": "10 years", "interest": "10 %", "upkeep": "5 %", "floor": "20 m2",
    "rent": "50 /m2/year", "wages": "30 /h", "electricity": "0.2 /kWh", "energy": "2 kWh/part",
    "tooling": "0.5 /part", "blank": "2 /part",
}  # fmt: skip


def small(**changes: object) -> dict[str, object]:
    """100 k + 2 x 50 k + 4 places of 1 k + 6 k = 210 k, with installation 231 k; 40,000 parts in 4000 h."""
    line: dict[str, object] = {
        "demand": {"volume": "40000 /year", "planned": "4000 h/year"},
        "route": ["blanks", "mill", "park", "turn", "tray"],
        "infeed": {"blanks": {"price": "6 k"}},
        "outfeed": {"tray": {}},
        "stations": {
            "mill": {"cycle": "60 s", "price": "100 k"},
            "turn": {"cycle": "120 s", "machines": 2, "price": "50 k"},
        },
        "buffers": {"park": {"capacity": 4, "price_per_place": "1 k"}},
        "crews": {"team": {"people": 2, "paid": "50 %"}},
        "money": MONEY,
    }
    return line | changes


def test_a_small_sheet_by_hand() -> None:
    """231,000 / 10; x 0.1 / 2; x 0.05; 20 x 50; 1 x 30 x 4000. Parts: 25 scrapped beside 100 good ones."""
    line = load_line(small())
    assert investment(line) == pytest.approx(231_000)
    assert yearly_costs(line) == pytest.approx(
        {"depreciation": 23_100, "interest": 11_550, "upkeep": 11_550, "space": 1_000, "labour": 120_000}
    )
    found = part_cost(line, 50_000, 0.25, None)
    before_scrap = 167_200 / 50_000 + 0.4 + 0.5
    assert found.rows["scrap"] == pytest.approx(0.25 * (2 + before_scrap))
    assert found.conversion == pytest.approx(before_scrap + 0.25 * (2 + before_scrap))
    assert found.running == pytest.approx(132_550 / 50_000 + 0.9 + 0.25 * 2.9)
    assert found.annuity_and_running == pytest.approx(found.running + 231_000 * 0.1627454 / 50_000, abs=1e-6)


def test_unequal_machines_have_their_own_prices() -> None:
    line = load_line(small(), ["stations.turn.machines={old: {price: 20 k}, new: {}}"])
    assert investment(line) == pytest.approx((210 - 30) * 1100)


def test_a_drawer_has_its_price_too() -> None:
    """3 k with 11 % for installation."""
    plain, with_drawer = load_line("ring_cell"), load_line("ring_cell", change="rejects_by_loader")
    assert investment(with_drawer) - investment(plain) == pytest.approx(3000 * 1.11)


def test_without_money_or_demand_there_is_no_cost() -> None:
    assert cost_at_demand(load_line(small(money=None))) is None
    assert cost_at_demand(load_line(small(demand=None))) is None


@pytest.mark.parametrize(
    ("interest", "years", "printed"), [(0.10, 5, 0.2638), (0.06, 8, 0.1610), (0.08, 10, 0.1490), (0.10, 10, 0.1627)]
)
def test_the_annuity_is_the_capital_recovery_factor_of_the_tables(interest: float, years: int, printed: float) -> None:
    assert annuity(1, interest, years) == pytest.approx(printed, abs=5e-5)
    assert sum(annuity(1, interest, years) * (1 + interest) ** -year for year in range(1, years + 1)) == pytest.approx(
        1
    )


def test_the_annuity_without_interest_is_the_straight_share() -> None:
    assert annuity(1000, 0, 8) == 125


@pytest.mark.parametrize(("interest", "years", "printed"), [(0.10, 5, 3.7908), (0.08, 10, 6.7101), (0.0, 4, 4.0)])
def test_the_present_value_of_equal_years_is_that_of_the_tables(interest: float, years: int, printed: float) -> None:
    assert net_present_value(0, 1, interest, years) == pytest.approx(printed, abs=5e-5)
    by_year = -700 + sum(200 * (1 + interest) ** -year for year in range(1, years + 1)) + 50 * (1 + interest) ** -years
    assert net_present_value(700, 200, interest, years, residual=50) == pytest.approx(by_year)


def test_simple_payback_is_investment_over_saving() -> None:
    assert simple_payback_years(300, 120) == 2.5
    assert simple_payback_years(300, 0) == math.inf
    assert simple_payback_years(0, 120) is None


def test_an_alternative_that_saves_half_the_people_against_its_price() -> None:
    """100 k more with 10 % installation; saves 60,000 of wages, costs 5,500 of upkeep: payback 110 / 54.5 years."""
    base = load_line(small())
    robot = load_line(small(), ["stations.mill.price=200 k", "crews.team.paid=25 %"])
    found = against(base, robot)
    assert found.extra_investment == pytest.approx(110_000)
    assert found.saving_a_year == pytest.approx(54_500)
    assert found.payback_years == pytest.approx(110 / 54.5)
    assert found.npv == pytest.approx(54_500 * 6.144567 - 110_000, abs=0.1)


def test_lines_with_other_demands_or_currencies_are_not_set_against_each_other() -> None:
    base = load_line(small())
    with pytest.raises(ValueError, match="demands differ: 40000 and 50000"):
        against(base, load_line(small(), ["demand.volume=50000 /year"]))
    with pytest.raises(ValueError, match="currencies differ: EUR and CHF"):
        against(base, load_line(small(), ["money.currency=CHF"]))
    with pytest.raises(ValueError, match="both lines need money and a demand"):
        against(base, load_line(small(money=None)))


POWER = {"mill": {"working": "10 kW", "starved": "1 kW", "waiting": "3 kW"}}


def test_energy_by_state_is_power_times_time() -> None:
    """Mill 60 s, turn 120 s, no buffer: from the second part on the mill works 60 s and is blocked 60 s of every 120.

    Measured from 600 s to 4200 s, 30 parts: 1800 s at 10 kW and 1800 s at 3 kW are 6.5 kWh; turn has no power.
    """
    line = load_line(
        small(
            route=["mill", "turn"], infeed={}, outfeed={}, buffers={},
            stations={"mill": {"cycle": "60 s", "power": POWER["mill"]}, "turn": {"cycle": "120 s"}},
        )
    )  # fmt: skip
    results = linesim.simulate(line, hours=1, warmup_hours=1 / 6, replications=1, seed=1, engine="simpy")
    energy = results.energy.set_index("state")["kwh"]
    assert energy.to_dict() == pytest.approx({"working": 5.0, "blocked": 1.5})
    assert results.replications["energy_per_good_part_kwh"][0] == pytest.approx(6.5 / 30)
    costs = results.costs.set_index("item")["per_good_part"]
    assert costs["energy"] == pytest.approx(6.5 / 30 * 0.2)
    assert costs["labour"] == pytest.approx(120_000 / (30 * 4000))
    assert results.replications["cost_per_good_part"][0] == pytest.approx(costs.sum())


def test_the_sheet_estimates_energy_from_cycles_and_waiting() -> None:
    """Takt 360 s: the mill works 60 s at 10 kW and waits 300 s at 3 kW."""
    line = load_line(small(), ["stations.mill.power={working: 10 kW, waiting: 3 kW}"])
    assert rough_energy_kwh(line) == pytest.approx((60 * 10 + 300 * 3) / 3600)
    assert rough_energy_kwh(load_line(small())) is None
