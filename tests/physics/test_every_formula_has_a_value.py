"""No formula without a published number beside it, and no number without a source."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections import Counter

import pytest

import rigbook.physics
from helpers.check_values import every_row, functions

MODULES = sorted(
    module.name for module in pkgutil.iter_modules(rigbook.physics.__path__) if not module.name.startswith("_")
)
ROWS = list(every_row())


def public_functions(module_name: str) -> list[str]:
    module = importlib.import_module(f"rigbook.physics.{module_name}")
    return [
        f"{module.__name__}.{name}"
        for name, value in inspect.getmembers(module, inspect.isfunction)
        if value.__module__ == module.__name__ and not name.startswith("_")
    ]


FUNCTIONS = [name for module in MODULES for name in public_functions(module)]


@pytest.mark.parametrize("function", FUNCTIONS)
def test_each_public_function_appears_in_a_row(function: str) -> None:
    assert any(function in functions(row) for _, row in ROWS), f"{function} has no row in tests/check_values/"


@pytest.mark.parametrize("function", FUNCTIONS)
def test_each_public_function_states_source_and_range(function: str) -> None:
    module, _, name = function.rpartition(".")
    text = inspect.getdoc(getattr(importlib.import_module(module), name)) or ""
    missing = [part for part in ("Returns:", "Source:", "Valid:") if part not in text]
    assert not missing, f"{function} does not say {missing}"


def test_each_row_names_functions_that_exist() -> None:
    unknown = {name for _, row in ROWS for name in functions(row)} - set(FUNCTIONS)
    assert not unknown


def test_each_row_has_a_source_and_a_tolerance() -> None:
    for path, row in ROWS:
        where = f"{path.name}: {row['id']}"
        assert row["source"], where
        assert row["tolerance"], where
        assert row.get("read_in") or row.get("recomputed_with"), where


def test_ids_are_unique() -> None:
    twice = [one for one, count in Counter(row["id"] for _, row in ROWS).items() if count > 1]
    assert not twice
