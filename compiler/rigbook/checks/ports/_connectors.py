"""Which plug goes into which socket."""

from __future__ import annotations

from types import MappingProxyType

from rigbook.text.phrase import phrase

WORDS = MappingProxyType(
    {
        "xlr-female": phrase("a female XLR socket"),
        "xlr-male": phrase("a male XLR socket"),
        "jack-balanced": phrase("a balanced jack socket"),
        "jack-unbalanced": phrase("an unbalanced jack socket"),
        "combo": phrase("a combined XLR and jack socket"),
        "phono": phrase("a phono socket"),
        "mini-jack": phrase("a mini-jack socket"),
        "rj45-locking": phrase("a locking network socket"),
        "speaker-2-pole": phrase("a 2-pole locking speaker socket"),
        "speaker-4-pole": phrase("a 4-pole locking speaker socket"),
        "binding-posts": phrase("a pair of binding posts"),
        "multipin": phrase("a multipin socket"),
        "mains-inlet": phrase("a mains inlet"),
        "mains-outlet": phrase("a mains outlet"),
        "mains-locking": phrase("a locking mains socket"),
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
    return WORDS.get(connector) or phrase("a %(connector)s socket", connector=connector)
