"""Independent libraries that compute the same figures. A test that needs one is skipped where it is not installed."""

from __future__ import annotations

import warnings
from typing import Any

import pytest


def oracle(name: str) -> Any:
    """Import a library, quietly: its own deprecation warnings are not ours."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return pytest.importorskip(name)
