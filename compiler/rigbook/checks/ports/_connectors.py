"""Which plug goes into which socket."""

from __future__ import annotations

from types import MappingProxyType

WORDS = MappingProxyType(
    {
        "xlr-female": "a female XLR",
        "xlr-male": "a male XLR",
        "jack-balanced": "a balanced jack",
        "jack-unbalanced": "an unbalanced jack",
        "combo": "a combined XLR and jack",
        "phono": "a phono",
        "mini-jack": "a mini-jack",
        "rj45-locking": "a locking network",
        "speaker-2-pole": "a 2-pole locking speaker",
        "speaker-4-pole": "a 4-pole locking speaker",
        "binding-posts": "a pair of binding posts",
        "multipin": "a multipin",
        "mains-inlet": "a mains inlet",
        "mains-outlet": "a mains outlet",
        "mains-locking": "a locking mains",
    }
)
TAKES = MappingProxyType(
    {
        "combo": ("xlr-female", "jack-balanced", "jack-unbalanced"),
        # 6.35 mm jacks have one shape (IEC 60603-11); an unbalanced plug makes a balanced socket unbalanced
        "jack-balanced": ("jack-unbalanced",),
        "jack-unbalanced": ("jack-balanced",),
        # the 2-pole cable connector also mates with the 4-pole socket, not the other way (common practice)
        "speaker-4-pole": ("speaker-2-pole",),
        "binding-posts": ("open",),
    }
)
"""By the socket on the equipment: other sockets whose plug it takes too."""


def fits(socket: str, made_for: str) -> bool:
    """True if a plug that is made for one socket goes into another one."""
    return socket == made_for or "open" in (socket, made_for) or made_for in TAKES.get(socket, ())


def words(connector: str) -> str:
    """A socket as said in a sentence: `a female XLR socket`."""
    if connector in ("binding-posts", "mains-inlet", "mains-outlet"):
        return WORDS[connector]
    return f"{WORDS.get(connector, f'a {connector}')} socket"
