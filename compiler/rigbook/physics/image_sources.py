"""Image sources: the first reflections of a box-shaped room and of a floor.

Points are three floats in m, x, y, z from one lower corner of the room; a receiver may also be an array (..., 3).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias, overload

from rigbook.physics._numeric import require
from rigbook.physics.aim import distance_between

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Point, Values

Place: TypeAlias = tuple[float, float, float]


def first_order_images(room_m: Sequence[float], source_m: Sequence[float]) -> tuple[Place, ...]:
    """Source and its six mirror images in the walls, the floor and the ceiling of a box room.

    Args:
        room_m: length, width and height of the room in m, three floats.
        source_m: place of the source in m, three floats.
    Returns: seven places: the source, then its images at x = 0, x = length, y = 0, y = width, floor, ceiling.
    Source: J. B. Allen & D. A. Berkley, Image method for efficiently simulating small-room acoustics, J. Acoust. Soc.
        Am. 65(4), 1979, 943-950.
    Valid: room above 0 m, source inside; rigid, flat walls.
    """
    x, y, z = _inside(room_m, source_m)
    length, width, height = room_m
    return (
        (x, y, z),
        (-x, y, z),
        (2 * length - x, y, z),
        (x, -y, z),
        (x, 2 * width - y, z),
        (x, y, -z),
        (x, y, 2 * height - z),
    )


@overload
def path_lengths(images_m: Sequence[Sequence[float]], receiver_m: Sequence[float]) -> tuple[float, ...]: ...
@overload
def path_lengths(images_m: Sequence[Sequence[float]], receiver_m: Array) -> tuple[Array, ...]: ...
def path_lengths(images_m: Sequence[Sequence[float]], receiver_m: Point) -> tuple[Values, ...]:
    """Lengths of the paths from a source and its images to a receiver.

    Args:
        images_m: places in m, as `first_order_images` gives them.
        receiver_m: place of the receiver in m, three floats or an array (..., 3).
    Returns: one length in m for each place, in the same order: floats, or arrays (...).
    Source: Allen & Berkley 1979: the path of a reflection is the straight line from its image.
    Valid: receiver in the same room as the source.
    """
    return tuple(distance_between(image, receiver_m) for image in images_m)


@overload
def floor_path(source_m: Sequence[float], receiver_m: Sequence[float]) -> float: ...
@overload
def floor_path(source_m: Sequence[float], receiver_m: Array) -> Array: ...
def floor_path(source_m: Sequence[float], receiver_m: Point) -> Values:
    """Length of the path by way of the floor.

    Args:
        source_m: place of the source in m, three floats, z above the floor.
        receiver_m: place of the receiver in m, three floats or an array (..., 3).
    Returns: length in m, a float or an array (...).
    Source: Allen & Berkley 1979, one image; Everest & Pohlmann, Master Handbook of Acoustics, ch. 10.
    Valid: source on or above the floor; a flat, rigid floor without audience (people take most of it).
    """
    x, y, z = (float(value) for value in source_m)
    require("height of the source", z, "m", 0)
    return distance_between((x, y, -z), receiver_m)


def _inside(room_m: Sequence[float], source_m: Sequence[float]) -> Place:
    for name, size in zip(("length", "width", "height"), room_m):
        require(f"{name} of the room", size, "m", 0, above=True)
    for name, size, value in zip("xyz", room_m, source_m):
        require(f"{name} of the source", value, "m", 0, size)
    x, y, z = (float(value) for value in source_m)
    return x, y, z
