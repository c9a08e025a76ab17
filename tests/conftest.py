"""Profiles of hypothesis: `dev` by default, `ci` for CI, `deep` by hand (SEAMPROOF_PROFILE=deep)."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large]}
settings.register_profile("dev", max_examples=20, **_COMMON)
settings.register_profile("ci", max_examples=20, derandomize=True, **_COMMON)
settings.register_profile("deep", max_examples=1000, **_COMMON)
settings.load_profile(os.environ.get("SEAMPROOF_PROFILE", "ci" if os.environ.get("CI") else "dev"))
