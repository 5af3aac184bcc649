"""The shifting bottleneck, on diagrams drawn by hand and against the definition taken at every instant."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linesim.engine.contract.ledger import US, Owner
from linesim.results.measures.bottleneck import bottleneck, bottleneck_spells
from tests.unit.results.ledgers import ledger

A, B, C, D = range(4)


def spells(*rows: tuple[int, int, int]) -> np.ndarray:
    """Rows (owner, from, to), as a ledger has them: in order of their ends."""
    return np.array(sorted(rows, key=lambda row: row[2]), dtype=np.int64).reshape(-1, 3)


#   A ==========
#   B     ================
#   C                   ============
#   D      ====                              =====
#     0   4    10       18 20        30      40  45
DRAWN = spells((A, 0, 10), (B, 4, 20), (C, 18, 30), (D, 5, 9), (D, 40, 45))


def test_the_longest_running_spell_is_the_bottleneck_and_short_ones_never_are() -> None:
    assert [tuple(spell) for spell in bottleneck_spells(DRAWN)] == [(A, 0, 10), (B, 4, 20), (C, 18, 30), (D, 40, 45)]


def test_shares_are_sole_and_shifting_time_inside_the_measured_window() -> None:
    """Measured from 2 to 42: A alone 2 to 4, shifting 4 to 10; B alone 10 to 18; B and C shift 18 to 20; C alone 20 to
    30; nobody to 40; D alone 40 to 42."""
    owners = tuple(Owner(name, "machine", name) for name in "abcd")
    table = bottleneck(ledger(owners=owners, spells=DRAWN * [1, US, US], warmup_us=2 * US, horizon_us=42 * US))
    assert (table["sole_share"] * 40).tolist() == pytest.approx([2, 8, 10, 2])
    assert (table["shifting_share"] * 40).tolist() == pytest.approx([6, 8, 2, 0])


def test_of_equally_long_spells_the_one_that_began_first_keeps_the_line() -> None:
    found = bottleneck_spells(spells((B, 0, 10), (A, 5, 15)))
    assert [tuple(spell) for spell in found] == [(B, 0, 10), (A, 5, 15)]
    assert bottleneck_spells(spells((B, 0, 10), (A, 0, 10)))[:, 0].tolist() == [A]


def test_places_are_no_candidates_and_crews_and_carriages_are() -> None:
    assert bottleneck(ledger())["owner"].tolist() == ["mill.1", "mill.2", "gauge.1", "gantry.1", "technician"]


def test_a_line_without_activity_has_no_bottleneck() -> None:
    assert len(bottleneck_spells(spells())) == 0
    table = bottleneck(ledger(spells=spells()))
    assert table[["sole_share", "shifting_share"]].sum(axis=None) == 0


owner_spells = st.lists(st.tuples(st.integers(1, 6), st.integers(1, 9)), max_size=5)  # pause, then active so long


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.lists(owner_spells, min_size=1, max_size=4))
def test_at_every_instant_the_longest_running_spell_is_chosen(diagram: list[list[tuple[int, int]]]) -> None:
    """The definition itself, instant by instant."""
    rows = []
    for owner, pairs in enumerate(diagram):
        now = 0
        for pause, length in pairs:
            rows.append((owner, now + pause, now + pause + length))
            now += pause + length
    expected: list[tuple[int, int, int]] = []
    for instant in range(max((to for *_, to in rows), default=0)):
        running = [row for row in rows if row[1] <= instant < row[2]]
        if running:
            longest = min(running, key=lambda row: (row[1] - row[2], row[1], row[0]))
            if not expected or expected[-1] != longest:
                expected.append(longest)
    assert [tuple(spell) for spell in bottleneck_spells(spells(*rows))] == expected
