from __future__ import annotations

import pytest

from helpers.check_values import Row, cases, check
from rigbook.physics.absorption_data import ABSORPTION, ABSORPTION_BANDS_HZ, absorption_coefficients

CALLS = {"09-alpha": lambda i: absorption_coefficients(i["material"])}


@cases("absorption_data")
def test_published(row: Row) -> None:
    assert tuple(row["inputs"]["bands_Hz"]) == ABSORPTION_BANDS_HZ
    check(row, CALLS)


@pytest.mark.parametrize("material", sorted(ABSORPTION))
def test_one_value_for_each_band(material: str) -> None:
    assert len(absorption_coefficients(material)) == len(ABSORPTION_BANDS_HZ)
    assert all(0 <= value <= 1 for value in absorption_coefficients(material))


def test_an_unknown_material() -> None:
    with pytest.raises(KeyError):
        absorption_coefficients("marble")
