"""The quick cases of `python -m tests.verification`: statements hold as often as they claim."""

import pytest

from tests.verification.cases import Case, quantile, selection, share, until_precise

pytestmark = pytest.mark.statistical


@pytest.mark.parametrize(
    "case",
    [lambda: quantile(1000), lambda: share(1000), lambda: until_precise(300), lambda: selection(200)],
    ids=["quantile", "share", "until_precise", "selection"],
)
def test_a_statement_holds_as_often_as_it_claims(case: object) -> None:
    """Few experiments, so three standard errors below what is claimed are let pass."""
    assert callable(case)
    found = case()
    assert isinstance(found, Case)
    slack = 3 * (0.05 * 0.95 / found.experiments) ** 0.5
    assert 0.95 - slack <= found.share


def test_a_case_tells_right_from_wrong() -> None:
    assert Case("", 1000, 950, 0.93, 0.97).is_right
    assert not Case("", 1000, 920, 0.93, 0.97).is_right
    assert not Case("", 1000, 980, 0.93, 0.97).is_right
