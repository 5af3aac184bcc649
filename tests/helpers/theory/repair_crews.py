"""Machines that fail and share a few repairers.

Sources: Peck, L.G. & Hazelwood, R.N. (1958), Finite Queuing Tables, Wiley, as printed in Stevenson, W.J., Operations
Management, 14th edition, Table 18.7; Taylor, H.M. & Karlin, S., An Introduction to Stochastic Modeling, problem 6.4.1;
Ashcroft, H. (1950), Journal of the Royal Statistical Society B 12(1), 145-151, for constant repairs (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from math import comb


@dataclass(frozen=True)
class Shop:
    """Long-run means: machines running and waiting for a repairer; share of failures that find all repairers busy."""

    running: float
    waiting: float
    share_of_calls_that_wait: float


def exponential_shop(machines: int, repairers: int, failure_rate: float, repair_rate: float) -> Shop:
    """Exponential times to failure and to repair; rates in 1/time."""
    weights = [1.0]
    for down in range(machines):
        weights.append(weights[-1] * (machines - down) * failure_rate / (min(down + 1, repairers) * repair_rate))
    shares = [weight / sum(weights) for weight in weights]
    failures = [(machines - down) * share for down, share in enumerate(shares)]
    return Shop(
        running=sum(failures),
        waiting=sum(max(0, down - repairers) * share for down, share in enumerate(shares)),
        share_of_calls_that_wait=sum(failures[repairers:]) / sum(failures),
    )


def finite_queue_table(machines: int, repairers: int, service_factor: float) -> tuple[float, float]:
    """(D, F): probability of waiting and efficiency for the service factor X = repair / (running + repair)."""
    shop = exponential_shop(machines, repairers, failure_rate=service_factor, repair_rate=1.0 - service_factor)
    return shop.share_of_calls_that_wait, 1.0 - shop.waiting / machines


def running_with_constant_repair(machines: int, repair_over_running: float) -> float:
    """Machines running in the long run with one repairer, exponential running times and constant repair times.

    repair_over_running: repair time / mean running time between failures.
    """
    rho = repair_over_running
    total, product = 0.0, 1.0
    for k in range(machines):
        product *= 1.0 if k == 0 else math.expm1(k * rho)
        total += comb(machines - 1, k) * product
    return machines * total / (1.0 + machines * rho * total)


# X, M -> D, F for five machines, as printed.
FIVE_MACHINES: dict[tuple[float, int], tuple[float, float]] = {
    (0.012, 1): (0.048, 0.999),
    (0.025, 1): (0.100, 0.997),
    (0.050, 1): (0.198, 0.989),
    (0.060, 2): (0.020, 0.999),
    (0.060, 1): (0.237, 0.983),
    (0.070, 2): (0.027, 0.999),
    (0.070, 1): (0.275, 0.977),
    (0.080, 2): (0.035, 0.998),
    (0.080, 1): (0.313, 0.969),
    (0.090, 2): (0.044, 0.998),
    (0.090, 1): (0.350, 0.960),
    (0.100, 2): (0.054, 0.997),
    (0.100, 1): (0.386, 0.950),
}
