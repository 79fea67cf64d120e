from __future__ import annotations

import pytest

from helpers.check_values import Row, cases, check
from rigbook.physics.boundaries import boundary_directivity_factor, boundary_gain
from rigbook.physics.directivity import directivity_index
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sums import coherent_gain


def factor_and_index(i) -> tuple[float, float]:
    factor = boundary_directivity_factor(i["boundaries"])
    return factor, directivity_index(factor)


CALLS = {"16-boundary": lambda i: boundary_gain(i["boundaries"]), "16-boundary-q": factor_and_index}


@cases("boundaries")
def test_published(row: Row) -> None:
    check(row, CALLS)


@pytest.mark.parametrize("boundaries", range(4))
def test_it_is_the_sum_of_all_images(boundaries: int) -> None:
    assert boundary_gain(boundaries) == pytest.approx(coherent_gain(2**boundaries))
    assert boundary_gain(boundaries) == pytest.approx(2 * directivity_index(boundary_directivity_factor(boundaries)))


@pytest.mark.parametrize("boundaries", [-1, 4])
def test_outside_the_range(boundaries: int) -> None:
    with pytest.raises(OutOfRange):
        boundary_gain(boundaries)
    with pytest.raises(OutOfRange):
        boundary_directivity_factor(boundaries)
