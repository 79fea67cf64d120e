"""The classes that hold values behave as those of `dataclasses`, which is the oracle here."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from typing import Any

import pytest

from rigbook import records


def family(frozen: Any, changing: Any, field: Any) -> tuple[Any, Any, Any]:
    """The same three classes, made in one way or the other."""

    @frozen
    class Base:
        """A base."""

        name: str
        size: int = 3

        @property
        def double(self) -> int:
            return self.size * 2

    @frozen
    class Box(Base):
        """With more fields, a default of its base changed, and an own text."""

        size: int = 4
        parts: tuple[str, ...] = ()

        def __repr__(self) -> str:
            return f"box {self.name}"

    @changing
    class Draft:
        """Filled bit by bit."""

        title: str
        seen: list[str] = field(default_factory=list)

    return Base, Box, Draft


MINE = family(records.frozen, records.changing, records.field)
THEIRS = family(dataclasses.dataclass(frozen=True), dataclasses.dataclass, dataclasses.field)


def test_fields_defaults_equality_and_words_are_those_of_dataclasses() -> None:
    said = []
    for base, box, draft in (MINE, THEIRS):
        a, b = base("a"), base(name="a", size=3)
        one, two = box("a", parts=("lid",)), box("a", 4, ("lid",))
        said.append((
            a == b, hash(a) == hash(b), repr(a), a.double, len({a, b}), a == one, a != base("b"), a == ("a", 3),
            one == two, repr(one), hash(one) == hash(two), one.size, one.double, base.__match_args__,
            box.__match_args__, draft("x") == draft("x"), repr(draft("x")), draft("x").seen is draft("x").seen,
        ))  # fmt: skip
    assert said[0] == said[1]


@pytest.mark.parametrize(("base", "box", "draft"), [MINE, THEIRS], ids=["records", "dataclasses"])
def test_what_is_refused(base: Any, box: Any, draft: Any) -> None:
    thing = box("a")
    with pytest.raises(AttributeError):
        thing.size = 9
    with pytest.raises(AttributeError):
        del thing.name
    with pytest.raises(TypeError):
        base()
    with pytest.raises(TypeError):
        base("a", 1, 2)
    with pytest.raises(TypeError):
        hash(draft("x"))
    moving = draft("x")
    moving.title = "y"
    assert moving == draft("y")


def test_a_record_is_replaced_copied_and_matched() -> None:
    base, box, _ = MINE
    assert records.replace(box("a"), name="b") == box("b")
    with pytest.raises(TypeError):
        records.replace(box("a"), colour="red")
    assert records.fields(box) == ("name", "size", "parts")
    assert copy.copy(base("a")) == copy.deepcopy(base("a")) == base("a")
    from rigbook.findings.place import Source
    from rigbook.plan.model import Socket

    assert pickle.loads(pickle.dumps(Socket("desk", "out 1"))) == Socket("desk", "out 1")
    match Socket("desk", "out 1"):
        case Socket(unit, port):
            assert (unit, port) == ("desk", "out 1")
    assert Source("a", "b") == Source("a", "b")
