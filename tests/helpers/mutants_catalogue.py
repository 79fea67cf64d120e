"""Every way to break a show, and the checks that no show can be broken for, with the reason."""

from __future__ import annotations

from types import MappingProxyType

from helpers import (
    mutants,
    mutants_of_figures,
    mutants_of_inserts,
    mutants_of_limits,
    mutants_of_patch,
    mutants_of_rig,
    mutants_of_runs,
    mutants_of_slips,
    mutants_of_text,
)

OPERATORS = (
    *mutants.OPERATORS,
    *mutants_of_figures.OPERATORS,
    *mutants_of_inserts.OPERATORS,
    *mutants_of_patch.OPERATORS,
    *mutants_of_rig.OPERATORS,
    *mutants_of_runs.OPERATORS,
    *mutants_of_slips.OPERATORS,
    *mutants_of_limits.OPERATORS,
    *mutants_of_text.OPERATORS,
)

WITHOUT = MappingProxyType(
    {
        "hire-too-short": "no example show hires; its page under tests/checks holds the cases",
        "low-contrast": "found in the colours of a theme while a handbook is built, and in no plan",
    }
)
"""Checks that no mutant of a show is found by."""
