"""Options and rules of the whole test run; each room's own fixtures stand beside its tests."""

from __future__ import annotations

import pytest


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
