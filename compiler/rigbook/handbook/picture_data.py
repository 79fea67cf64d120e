"""A picture without what it says beside itself: place and time, device, names, comments, the drawing program's notes.

A photograph carries where and when it was taken, often by whom; none of that is meant when it is shown. What the
picture needs to look as it does stays: colour profile, transparency, animation, and which way up a photograph is.

Sources: JPEG, ITU-T T.81 annex B (markers); Exif 2.32, tag 0x0112; PNG, W3C Recommendation, third edition, 4.7 and 11;
GIF89a specification, 24 and 26; WebP container, RFC 9649, 2.7.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

ORIENTATION: Final = 0x0112
SHORT: Final = 3
SAID_IN_PNG: Final = (b"tEXt", b"zTXt", b"iTXt", b"eXIf", b"tIME")
SAID_IN_WEBP: Final = (b"EXIF", b"XMP ")
SAID_IN_SVG: Final = re.compile(
    rb"<!--.*?-->|<(?P<tag>metadata|(?:sodipodi|inkscape|rdf|cc|dc):[\w-]+)\b[^>]*?(?:/>|>.*?</(?P=tag)\s*>)"
    rb"|\s(?:sodipodi|inkscape):[\w-]+\s*=\s*(?:\"[^\"]*\"|'[^']*')",
    re.DOTALL,
)
"""Comments, metadata, and what drawing programs keep for themselves, file names of their user among it."""


def bare(data: bytes, ending: str) -> bytes:
    """The bytes of a picture without what it says beside itself; as they are where they are not of that kind.

    Args:
        data: the file.
        ending: its suffix in small letters, as `.jpg`.
    """
    strip = STRIP.get(ending)
    try:
        return strip(data) if strip else data
    except (IndexError, ValueError):
        return data


def _jpeg(data: bytes) -> bytes:
    """Without the segments APP1 to APP15 and COM, but for the colour profile (APP2) and the transform (APP14).

    What lies behind the end of the picture goes too: telephones put whole files there.
    """
    if data[:2] != b"\xff\xd8":
        return data
    out, turned = bytearray(), 1
    for marker, segment in _segments(data):
        if marker == 0xE1 and segment[4:10] == b"Exif\0\0":
            turned = _orientation(segment[10:])
        said = marker == 0xFE or (0xE1 <= marker <= 0xEF)
        if not said or segment[4:].startswith(NEEDED.get(marker, b"\0" * 16)):
            out += segment
    return b"\xff\xd8" + (_turn(turned) if turned != 1 else b"") + bytes(out)


NEEDED: Final = MappingProxyType({0xE2: b"ICC_PROFILE", 0xEE: b"Adobe"})
NEXT: Final = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
"""The marker that ends a scan; within it 0xFF is followed by 0, by a restart marker, or by another as a filler."""


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and bytes of each segment up to the end of the picture; a scan goes with the segment that begins it."""
    at = 2
    while at < len(data):
        if data[at] != 0xFF:
            raise ValueError("no marker")
        marker = data[at + 1]
        if marker == 0xFF:  # a filler
            at += 1
            continue
        if marker == 0xD9:
            yield marker, data[at : at + 2]
            return
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if marker == 0xDA:
            found = NEXT.search(data, end)
            end = found.start() if found else len(data)
        yield marker, data[at:end]
        at = end


def _orientation(tiff: bytes) -> int:
    """Which way up, 1 to 8, as the first directory of a TIFF block says it; 1 where it says nothing."""
    order = {b"II": "little", b"MM": "big"}.get(tiff[:2])
    if order is None:
        return 1

    def number(at: int, size: int) -> int:
        return int.from_bytes(tiff[at : at + size], "little" if order == "little" else "big")

    at = number(4, 4)
    for entry in range(at + 2, at + 2 + 12 * min(number(at, 2), 200), 12):
        if number(entry, 2) == ORIENTATION and number(entry + 2, 2) == SHORT:
            found = number(entry + 8, 2)
            return found if 1 <= found <= 8 else 1
    return 1


def _turn(turned: int) -> bytes:
    """An Exif segment that says nothing but which way up."""
    entry = ORIENTATION.to_bytes(2, "big") + b"\0\3\0\0\0\1" + turned.to_bytes(2, "big") + b"\0\0"
    body = b"Exif\0\0MM\0*\0\0\0\x08\0\1" + entry + b"\0\0\0\0"
    return b"\xff\xe1" + (len(body) + 2).to_bytes(2, "big") + body


def _png(data: bytes) -> bytes:
    """Without the chunks of text, Exif and time, and without what lies behind its end."""
    if data[:8] != b"\x89PNG\r\n\x1a\n":
        return data
    out, at = bytearray(data[:8]), 8
    while at + 8 <= len(data):
        end = at + 12 + int.from_bytes(data[at : at + 4], "big")
        kind = data[at + 4 : at + 8]
        if kind not in SAID_IN_PNG:
            out += data[at:end]
        at = end
        if kind == b"IEND":
            break
    return bytes(out)


def _webp(data: bytes) -> bytes:
    """Without the chunks EXIF and XMP; the header no longer says that they are there."""
    if data[:4] != b"RIFF" or data[8:12] != b"WEBP":
        return data
    out, at = bytearray(b"WEBP"), 12
    while at + 8 <= len(data):
        size = int.from_bytes(data[at + 4 : at + 8], "little")
        end = at + 8 + size + size % 2
        kind, chunk = data[at : at + 4], bytearray(data[at:end])
        if kind == b"VP8X":
            chunk[8] &= 0b11110011
        if kind not in SAID_IN_WEBP:
            out += chunk
        at = end
    return b"RIFF" + len(out).to_bytes(4, "little") + bytes(out)


def _gif(data: bytes) -> bytes:
    """Without comments, and without the blocks of applications but for the one that says how often it repeats."""
    if data[:4] != b"GIF8":
        return data
    at = 13 + (3 << ((data[10] & 7) + 1) if data[10] & 0x80 else 0)
    out = bytearray(data[:at])
    while data[at] != 0x3B:
        start, said = at, False
        if data[at] == 0x21:
            said = data[at + 1] == 0xFE or (data[at + 1] == 0xFF and data[at + 3 : at + 14] != b"NETSCAPE2.0")
            at += 2
        elif data[at] == 0x2C:
            at += 11 + (3 << ((data[at + 9] & 7) + 1) if data[at + 9] & 0x80 else 0)
        else:
            raise ValueError("no block")
        while data[at]:
            at += 1 + data[at]
        at += 1
        if not said:
            out += data[start:at]
    return bytes(out + b";")


def _svg(data: bytes) -> bytes:
    return SAID_IN_SVG.sub(b"", data)


STRIP: Final[Mapping[str, Callable[[bytes], bytes]]] = MappingProxyType(
    {".jpg": _jpeg, ".jpeg": _jpeg, ".png": _png, ".webp": _webp, ".gif": _gif, ".svg": _svg}
)
