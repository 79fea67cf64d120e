from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.aim import distance_between
from rigbook.physics.combs import comb_nulls
from rigbook.physics.errors import OutOfRange
from rigbook.physics.image_sources import first_order_images, floor_path, path_lengths

AT_20_C = 343.2


def first_null(i) -> float:
    direct = distance_between(i["source_m"], i["receiver_m"])
    return comb_nulls((floor_path(i["source_m"], i["receiver_m"]) - direct) / AT_20_C, 1)[0]


CALLS = {
    "19-images": lambda i: sorted(path_lengths(first_order_images(i["room_m"], i["source_m"]), i["receiver_m"])),
    "19-floor": first_null,
}

parts = st.tuples(*[st.floats(0.05, 0.95)] * 3)
rooms = st.tuples(st.floats(3, 60), st.floats(3, 40), st.floats(2.5, 15))


@cases("image_sources")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(rooms, parts, parts)
def test_no_reflection_is_shorter_than_the_direct_path(room, source_at, receiver_at) -> None:
    source = [size * part for size, part in zip(room, source_at)]
    receiver = [size * part for size, part in zip(room, receiver_at)]
    direct, *reflected = path_lengths(first_order_images(room, source), receiver)
    assert direct == pytest.approx(math.dist(source, receiver))
    assert all(path > direct for path in reflected)


@given(rooms, parts, parts)
def test_source_and_receiver_may_change_places(room, source_at, receiver_at) -> None:
    source = [size * part for size, part in zip(room, source_at)]
    receiver = [size * part for size, part in zip(room, receiver_at)]
    there = path_lengths(first_order_images(room, source), receiver)
    assert path_lengths(first_order_images(room, receiver), source) == pytest.approx(there)
    assert floor_path(source, receiver) == pytest.approx(there[5])


def test_images_against_pyroomacoustics() -> None:
    library = oracle("pyroomacoustics")
    room = library.ShoeBox([10, 8, 4], max_order=1)
    room.add_source([2, 3, 1.7])
    room.add_microphone([7, 5, 1.2])
    room.image_source_model()
    theirs = sorted(tuple(float(c) for c in image) for image in room.sources[0].images.T)
    assert sorted(first_order_images((10, 8, 4), (2, 3, 1.7))) == [pytest.approx(image, abs=1e-5) for image in theirs]


def test_arrays_agree_with_floats() -> None:
    images = first_order_images((10, 8, 4), (2, 3, 1.7))
    grid = np.array([[7.0, 5.0, 1.2], [1.0, 1.0, 1.6]])
    paths = path_lengths(images, grid)
    for n in range(2):
        point = tuple(float(c) for c in grid[n])
        assert [float(path[n]) for path in paths] == pytest.approx(path_lengths(images, point))
        assert floor_path((2, 3, 1.7), grid)[n] == pytest.approx(floor_path((2, 3, 1.7), point))


@pytest.mark.parametrize(
    "call",
    [
        lambda: first_order_images((0, 8, 4), (2, 3, 1)),
        lambda: first_order_images((10, 8, 4), (11, 3, 1)),
        lambda: first_order_images((10, 8, 4), (2, -1, 1)),
        lambda: floor_path((2, 3, -1), (1, 1, 1)),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
