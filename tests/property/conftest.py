"""Hypothesis as these tests use it: the same examples every time; `HYPOTHESIS_PROFILE=search` looks for new ones."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

slow_is_fine = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]
settings.register_profile("fixed", derandomize=True, database=None, deadline=None, suppress_health_check=slow_is_fine)
settings.register_profile("search", database=None, deadline=None, suppress_health_check=slow_is_fine, max_examples=2000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))
