"""`python -m tests.verification [CASE ...]`: how often the statements of linesim hold, as a table.

All cases if none is named; those with lines take minutes. Status 1 if one holds too seldom, or so often that it says
too little.
"""

from __future__ import annotations

import sys
import time

from tests.verification.cases import CASES


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in CASES]
    if unknown:
        print(f"no such case: {', '.join(unknown)}; there are {', '.join(CASES)}", file=sys.stderr)
        return 2
    wrong = 0
    print(f"{'statement':<76}{'experiments':>12}{'held':>9}   should hold in")
    for name in names or CASES:
        began_s = time.monotonic()
        case = CASES[name]()
        span = f"{100 * case.low:.1f} to {100 * case.high:.1f} %"
        verdict = "" if case.is_right else "  WRONG"
        took = f"{time.monotonic() - began_s:.0f} s"
        print(
            f"{case.name:<76}{case.experiments:>12}{100 * case.share:>7.1f} %   {span}  ({took}){verdict}", flush=True
        )
        wrong += not case.is_right
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
