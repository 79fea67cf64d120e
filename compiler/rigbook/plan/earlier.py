"""Plan files as they stood at an earlier revision of the repository that the plan lies in. Git is asked for trees and
blobs only: nothing is checked out, no filter or hook of the repository runs, nothing is fetched, nothing is written.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from typing import Final

PATIENCE_S: Final = 60
"""Longer than any repository of plans takes; git that hangs is no reason to hang too."""
MOST_BYTES: Final = 64_000_000
"""All plan files of a revision together: more than any repository of plans has."""


class NoRevision(Exception):
    """Why the files of a revision cannot be had, in words."""


def files_at(root: Path, revision: str) -> dict[str, bytes]:
    """The YAML files of a revision by their path from `root`, the top of the repository.

    `revision` is whatever git reads as a commit: `HEAD~1`, a tag, a branch, a hash. NoRevision where there is none.
    """
    if not (root / ".git").exists():
        raise NoRevision("the plan lies in no git repository, name the earlier plan by its path")
    commit = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}").strip()
    if not commit:
        raise NoRevision(f"`{revision}` is neither a plan nor a revision of this repository")
    listed = _git(root, "ls-tree", "-r", "-z", "-l", "--full-tree", commit.decode("ascii"))
    blobs: dict[str, str] = {}
    size = 0
    for line in listed.split(b"\0"):
        head, _, name = line.partition(b"\t")
        mode, sort, *rest = head.split()[:4] or (b"", b"")
        if mode.startswith(b"100") and sort == b"blob" and name.endswith((b".yaml", b".yml")):
            blobs[os.fsdecode(name)] = rest[0].decode("ascii")
            size += int(rest[1])
    if size > MOST_BYTES:
        raise NoRevision(f"the plan files of `{revision}` take {size // 1_000_000} MB")
    return dict(zip(blobs, _blobs(root, list(blobs.values())), strict=True))


def _blobs(root: Path, hashes: list[str]) -> list[bytes]:
    """Contents of blobs, in order: one process for all of them."""
    answer = _git(root, "cat-file", "--batch", given="".join(f"{h}\n" for h in hashes).encode("ascii"))
    out, at = [], 0
    for _ in hashes:
        end = answer.index(b"\n", at)
        size = int(answer[at:end].rsplit(b" ", 1)[1])
        out.append(answer[end + 1 : end + 1 + size])
        at = end + 1 + size + 1
    return out


def _git(root: Path, *words: str, given: bytes = b"") -> bytes:
    """What git prints; empty where it says that there is no such thing. NoRevision where git cannot be run."""
    # a repository that lacks objects would ask its server for them
    quiet = {"GIT_NO_LAZY_FETCH": "1", "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0", "LC_ALL": "C"}
    call = ["git", "-c", "core.fsmonitor=false", "--no-replace-objects", "-C", str(root), *words]
    try:
        done = subprocess.run(
            call, input=given, capture_output=True, timeout=PATIENCE_S, env={**os.environ, **quiet}, check=False
        )
    except FileNotFoundError:
        raise NoRevision("git is not installed, name the earlier plan by its path") from None
    except subprocess.TimeoutExpired:
        raise NoRevision("git gave no answer") from None
    if done.returncode and words[0] != "rev-parse":
        raise NoRevision(f"git says: {done.stderr.decode('utf-8', 'replace').strip().splitlines()[-1:] or ['no']}")
    if done.returncode and b"dubious ownership" in done.stderr:
        raise NoRevision("git does not trust this repository: it belongs to somebody else")
    return done.stdout if not done.returncode else b""
