"""Near names: which known names a mistyped one was probably meant to be."""

from __future__ import annotations

import re
from collections.abc import Iterable

_SAME = str.maketrans("", "", "-_ ")
_NUMBER = re.compile(r"\d+")


def near(name: str, known: Iterable[str], limit: int = 3) -> tuple[str, ...]:
    """The known names closest to `name`, the nearest first; at most `limit`, often none.

    A name is near if at most a third of the typed letters must be changed, added, dropped or swapped with their
    neighbour; of two letters (`bx`), if one is missing. Capitals, hyphens, underscores and spaces cost nothing. Of
    names equally near, those with the same figures go first: `wede-3` is no `wedge-1`. The name itself is never
    offered.
    """
    typed = _plain(name)
    reach = len(typed) // 3 or int(len(typed) == 2)
    letters = frozenset(typed)
    figures = _figures(name)
    found: list[tuple[int, bool, int, str]] = []
    for order, other in enumerate(dict.fromkeys(known)):
        plain = _plain(other)
        if other == name or not plain or abs(len(plain) - len(typed)) > reach or len(plain) < 3 > len(typed):
            continue
        # each change can take away one kind of letter at most: a cheap bound that settles most names
        if len(letters.difference(plain)) > reach:
            continue
        cost = distance(typed, plain, reach)
        if cost <= reach:
            found.append((cost, _figures(other) != figures, order, other))
    return tuple(other for *_, other in sorted(found)[:limit])


def meant(name: str, known: Iterable[str]) -> str:
    """The one known name that a mistyped one can be read as: nearer than every other, or alone; else empty."""
    close = near(name, known, 2)
    if not close:
        return ""
    typed, figures = _plain(name), _figures(name)
    costs = [(distance(typed, _plain(other), len(typed)), _figures(other) != figures) for other in close]
    return close[0] if len(costs) == 1 or costs[0] < costs[1] else ""


def only_figures_differ(name: str, other: str) -> bool:
    """True for `wedge-5` and `wedge-4`: another one of its kind, and no slip of the fingers."""
    return name != other and _figures(name) != _figures(other) and _NUMBER.sub("", name) == _NUMBER.sub("", other)


def _figures(name: str) -> str:
    return "".join(letter for letter in name if letter.isdigit())


def _plain(name: str) -> str:
    return name.casefold().translate(_SAME)


def distance(a: str, b: str, limit: int) -> int:
    """Letters to change, add, drop or swap with a neighbour to turn `a` into `b`; `limit + 1` if more than `limit`.

    Optimal string alignment: no stretch is edited twice (Boytsov, "Indexing methods for approximate dictionary
    searching", 2011, section 2.1).
    """
    if a == b:
        return 0
    width = len(b) + 1
    far = limit + 1
    before: list[int] = []
    above = [min(j, far) for j in range(width)]
    for i, letter in enumerate(a, 1):
        row = [far] * width
        row[0] = min(i, far)
        for j in range(max(1, i - limit), min(width, i + limit + 1)):
            cost = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (letter != b[j - 1]), far)
            if i > 1 and j > 1 and letter == b[j - 2] and a[i - 2] == b[j - 1]:
                cost = min(cost, before[j - 2] + 1)
            row[j] = cost
        if min(row) > limit:
            return far
        before, above = above, row
    return above[-1]
