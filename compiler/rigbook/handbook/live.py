"""A handbook that follows its plan: made again when a file of it changes, the last good one kept until then."""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Final, NamedTuple

CHANGED: Final = "/-/changes"
"""Where a page hears of a new make; the hyphen is no name of a page."""
RELOAD: Final = (
    b'<script>{const from=new EventSource("' + CHANGED.encode() + b'");'
    b"let made;from.onmessage=e=>{if(made&&e.data!==made)location.reload();made=e.data}}</script>"
)


class Made(NamedTuple):
    """One make of a handbook."""

    files: Mapping[str, bytes] | None
    """None where the plan could not be read."""
    watched: tuple[Path, ...]
    """The files that it was made from."""


class Live:
    """Holds the newest handbook and makes it again when one of its files has changed."""

    def __init__(self, make: Callable[[], Made], seconds: float = 0.5) -> None:
        """`make` makes the handbook anew and tells what it found by itself; `seconds` lie between two looks."""
        self._make = make
        self._seconds = seconds
        self._news = threading.Condition()
        self._ended = False
        self._files: Mapping[str, bytes] = {}
        self.version = ""
        """Says which make it is: the same files give the same version."""
        self._watched: tuple[Path, ...] = ()
        self._again()

    def get(self, path: str) -> bytes | None:
        """A file of the handbook by the path of its address; None where there is none."""
        name = path.lstrip("/") or "index.html"
        with self._news:
            return self._files.get(name)

    def watch(self) -> None:
        """Look at the files until `end`. For a thread of its own."""
        seen = stamps(self._watched)
        while not self._wait(self._seconds):
            now = stamps(self._watched)
            if now != seen:
                self._again()
                seen = stamps(self._watched)

    def newer(self, version: str, seconds: float) -> str | None:
        """The version after `version`; None where there is none within some seconds, or at the end."""
        with self._news:
            self._news.wait_for(lambda: self._ended or self.version != version, seconds)
            return None if self._ended or self.version == version else self.version

    @property
    def ended(self) -> bool:
        """True after `end`."""
        return self._ended

    def end(self) -> None:
        """No more makes; whoever waits is let go."""
        with self._news:
            self._ended = True
            self._news.notify_all()

    def _wait(self, seconds: float) -> bool:
        with self._news:
            return self._news.wait_for(lambda: self._ended, seconds)

    def _again(self) -> None:
        made = self._make()
        with self._news:
            self._watched = made.watched or self._watched
            if made.files is not None:
                self._files = made.files
                self.version = version_of(made.files)
                self._news.notify_all()


def version_of(files: Mapping[str, bytes]) -> str:
    """A short name for these bytes, the same for the same bytes."""
    digest = hashlib.sha256()
    for name, data in sorted(files.items()):
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()[:16]


def stamps(paths: Iterable[Path]) -> tuple[tuple[int, int], ...]:
    """When each file was last written, and its size; a file that is not there has neither."""
    out = []
    for path in paths:
        try:
            got = path.stat()
            out.append((got.st_mtime_ns, got.st_size))
        except OSError:
            out.append((0, -1))
    return tuple(out)


def with_reload(page: bytes) -> bytes:
    """A page that loads itself again after the next make."""
    head, end, rest = page.rpartition(b"</body>")
    return head + RELOAD + end + rest if end else page
