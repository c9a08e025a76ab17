"""Profiles of hypothesis: `dev` by default, `ci` in CI, `deep` by hand (SEAMPROOF_PROFILE=deep), `few` for mutants."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

collect_ignore = ["stranger"]
"""A project of its own: `tests/installed` installs it and runs its tests."""

_SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
_PLAIN = settings(deadline=None, suppress_health_check=_SLOW)
settings.register_profile("dev", _PLAIN, max_examples=20)
settings.register_profile("ci", _PLAIN, max_examples=20, derandomize=True)
settings.register_profile("deep", _PLAIN, max_examples=1000)
settings.register_profile("few", _PLAIN, max_examples=3, derandomize=True)
settings.load_profile(os.environ.get("SEAMPROOF_PROFILE", "ci" if os.environ.get("CI") else "dev"))
