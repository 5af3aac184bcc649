"""How many replications each point gets: a fixed number, or more, round by round, where they still matter.

A decision looks at complete rounds only and at nothing but their figures, so it is the same whatever workers, order and
interruptions there were; a sweep that goes on decides again what it had decided.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import pandas as pd

from linesim.results.definitions import LESS_IS_BETTER
from linesim.results.precision import Wanted as Precision
from linesim.results.precision import stands
from linesim.results.selection import survivors

STEP = 5  # replications that a round adds to each point that goes on


@dataclass(frozen=True)
class Rounds:
    """first: replications of every point. most: of any. precision: what a point must reach to have enough.

    best_by, indifference: a measure, and a difference in it that does not matter: points that are clearly not the best
    get no more.
    """

    first: int
    most: int
    precision: tuple[Precision, ...] = ()
    best_by: str | None = None
    indifference: float = 0.0

    @property
    def fixed(self) -> bool:
        """Every point gets the same number."""
        return not self.precision and self.best_by is None


@dataclass
class Wanted:
    """replications: point -> how many it is to have. round: which one this is for. left_out: not the best any more.

    precise: points that reached the precision. over: nothing more will be wanted.
    """

    replications: dict[int, int]
    round: int = 1
    left_out: list[int] = field(default_factory=list)
    precise: list[int] = field(default_factory=list)
    over: bool = False


def wanted(rounds: Rounds, points: list[int], rows: pd.DataFrame) -> Wanted:
    """What the next round needs, given all that is finished (rows: point, replication, error and the measures).

    A point of which a run failed gets no more.
    """
    found = Wanted(dict.fromkeys(points, rounds.first))
    finished = rows.groupby("point")["replication"].apply(set).to_dict()
    failed = set(rows.loc[rows["error"].notna(), "point"])
    sound = rows.loc[rows["error"].isna()].set_index(["point", "replication"]).sort_index()
    going, count = [*points], rounds.first
    while all(set(range(1, found.replications[point] + 1)) <= finished.get(point, set()) for point in points):
        going = [point for point in going if point not in failed]
        if rounds.best_by is not None and going:
            table = pd.DataFrame({point: sound.loc[point][rounds.best_by].head(count) for point in going})
            most_is_best = rounds.best_by not in LESS_IS_BETTER
            kept = survivors(table, rounds.first, len(points), rounds.indifference, most_is_best=most_is_best)
            found.left_out += [point for point in going if point not in kept]
            going = kept if len(kept) > 1 or rounds.precision else []
        if rounds.precision:
            enough = [point for point in going if _is_precise(rounds.precision, sound.loc[[point]].head(count))]
            found.precise += enough
            going = [point for point in going if point not in enough]
        if rounds.fixed or not going or count >= rounds.most:
            found.over = True
            break
        count = min(count + STEP, rounds.most)
        found.round += 1
        found.replications.update(dict.fromkeys(going, count))
    return found


def _is_precise(wanted: tuple[Precision, ...], runs: pd.DataFrame) -> bool:
    return stands(wanted, {each.measure: runs[each.measure].tolist() for each in wanted})
