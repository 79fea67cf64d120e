"""Classes that only hold values: `@frozen` ones, and `@changing` ones that are filled while something is read.

They are what `dataclasses` makes (the same fields, defaults, `==`, `hash`, `repr`, inheritance), made in a ninth of the
time: CPython 3.11 compiles six methods for each frozen dataclass, half a millisecond, and imports `inspect` to do so;
with the hundred and thirty classes that a `check` loads that was a quarter of it. Here one method is compiled, the rest
is shared. A `build` loads a hundred and twenty more.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter
from typing import Any, TypeVar, cast, dataclass_transform

T = TypeVar("T")


class _New:
    """The default of a field that is made afresh for every object."""

    __slots__ = ("make",)

    def __init__(self, make: Callable[[], Any]) -> None:
        self.make = make


def field(*, default_factory: Callable[[], T]) -> T:
    """A field whose default is made afresh: an empty list, say."""
    return cast(T, _New(default_factory))


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[T]) -> type[T]:
    """A class whose objects cannot be changed; two are equal when they are of one class and all fields are equal."""
    return _made(cls, "set(self, {name!r}, {value})", __setattr__=_refused, __delattr__=_refused, __hash__=_hash)


@dataclass_transform(field_specifiers=(field,))
def changing(cls: type[T]) -> type[T]:
    """A class whose objects may be changed, and therefore stand in no set."""
    return _made(cls, "self.{name} = {value}", __hash__=None)


def fields(of: object) -> tuple[str, ...]:
    """Names of the fields of a record or its class, in order."""
    return cast(tuple[str, ...], of.__match_args__)  # type: ignore[attr-defined]


def replace(record: T, /, **changes: Any) -> T:
    """The same record with some fields changed. TypeError for a field that it does not have."""
    return type(record)(**{**{name: getattr(record, name) for name in fields(record)}, **changes})


def _made(cls: type[T], assign: str, **methods: Any) -> type[T]:
    defaults: dict[str, Any] = {}
    for base in (*reversed(cls.__mro__[1:]), cls):
        for name, said in vars(base).get("__annotations__", {}).items():
            if not str(said).startswith("ClassVar"):
                defaults[name] = _default(cls, base, name)
    names = tuple(defaults)
    _method(cls, defaults, assign)
    own = vars(cls)
    for name, method in {"__eq__": _equal, "__repr__": _shown, **methods}.items():
        # what the class says itself stands; `__hash__` is None where it only says `__eq__`
        if name not in own or (name == "__hash__" and own[name] is None):
            setattr(cls, name, method)
    setattr(cls, "__match_args__", names)  # noqa: B010 - mypy knows no such name
    cls._values = attrgetter(*names) if names else staticmethod(_nothing)  # type: ignore[attr-defined]
    return cls


def _default(cls: type, base: type, name: str) -> Any:
    """What a field is where nothing is given; `_MUST` where something must be."""
    made = vars(base).get("_afresh", {}).get(name)
    return made if made is not None else getattr(cls, name, _MUST)


def _method(cls: type, defaults: dict[str, Any], assign: str) -> None:
    """Compile `__init__`."""
    scope: dict[str, Any] = {"set": object.__setattr__, "MUST": _MUST}
    heads, lines, afresh = [], [], {}
    for name, default in defaults.items():
        value = name
        if isinstance(default, _New):
            afresh[name] = scope[f"new_{name}"] = default
            heads.append(f"{name}=MUST")
            value = f"new_{name}.make() if {name} is MUST else {name}"
        elif default is _MUST:
            heads.append(name)
        else:
            scope[f"default_{name}"] = default
            heads.append(f"{name}=default_{name}")
        lines.append(assign.format(name=name, value=value))
    exec(f"def __init__({', '.join(('self', *heads))}):\n " + "\n ".join(lines or ["pass"]), scope)
    cls.__init__ = scope["__init__"]  # type: ignore[misc]
    cls._afresh = afresh  # type: ignore[attr-defined]
    for name in afresh.keys() & vars(cls).keys():
        delattr(cls, name)


_MUST = object()


def _nothing(_: Any) -> tuple[()]:
    return ()


def _equal(self: Any, other: Any) -> Any:
    return self._values(self) == self._values(other) if other.__class__ is self.__class__ else NotImplemented


def _hash(self: Any) -> int:
    return hash(self._values(self))


def _shown(self: Any) -> str:
    return f"{type(self).__qualname__}({', '.join(f'{n}={getattr(self, n)!r}' for n in fields(self))})"


def _refused(self: Any, name: str, *_: Any) -> None:
    raise AttributeError(f"`{name}` of {type(self).__qualname__} cannot be changed")
