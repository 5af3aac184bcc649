"""Hypothesis as these tests use it: the same examples every time, and a failing line printed as it was found.

`HYPOTHESIS_PROFILE=shrink` reduces the failing line (minutes), `HYPOTHESIS_PROFILE=search` looks at many new lines.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, settings

common = settings(
    database=None,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
settings.register_profile("fixed", common, derandomize=True, phases=[Phase.explicit, Phase.generate])
settings.register_profile("shrink", common, derandomize=True)
settings.register_profile("search", common, max_examples=2000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))
