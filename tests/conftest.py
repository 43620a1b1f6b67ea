"""What holds for all tests: no test fails for being slow, since speed belongs to the benchmarks."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
