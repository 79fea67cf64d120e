"""Options and rules of the whole test run; each room's own fixtures stand beside its tests."""

from __future__ import annotations

import pytest
from hypothesis import settings

# how long an example takes is measured in tests/bench, and never a reason to fail
settings.register_profile("rigbook", deadline=None)
settings.load_profile("rigbook")


def pytest_addoption(parser: pytest.Parser) -> None:
    group = parser.getgroup("rigbook")
    group.addoption("--slow", action="store_true", help="run the tests marked slow as well")
    group.addoption("--accept", action="store_true", help="rewrite the expected messages in test pages as now printed")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--slow"):
        return
    skip = pytest.mark.skip(reason="slow; run with --slow")
    for item in items:
        if item.get_closest_marker("slow"):
            item.add_marker(skip)
