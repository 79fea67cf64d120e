"""Every site that the repository's own shows make: show x view x theme, built once a test run."""

from __future__ import annotations

import fcntl
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from helpers.tools import ROOT

VIEWS = ("crew", "guest", "public")


@dataclass(frozen=True)
class Site:
    """One build: a show's file, the readers it is for and the look it has."""

    show: Path
    view: str
    theme: str
    language: str = ""
    """Empty: that of the plan."""

    def __str__(self) -> str:
        name = self.show.relative_to(ROOT / "shows").with_suffix("").as_posix().replace("/", ".")
        return "-".join(part for part in (name, self.view, self.theme, self.language) if part)


def shows() -> list[Path]:
    """Every plan below `shows/` that says which show it is; house rigs and libraries do not."""
    return [p for p in sorted((ROOT / "shows").rglob("*.yaml")) if re.search(r"^show\s*:", p.read_text("utf-8"), re.M)]


def themes() -> list[str]:
    """Names of the shipped themes."""
    return [p.parent.name for p in sorted((ROOT / "themes").glob("*/theme.yaml"))]


def sites() -> list[Site]:
    """All combinations, in a fixed order."""
    return [Site(show, view, theme) for show in shows() for theme in themes() for view in VIEWS]


def sampled() -> list[Site]:
    """Sites for the normal run: every show in the plain theme for the crew, every view and theme of one show, and
    every show for the public. What the others add is run with `--slow`.
    """
    def chosen(site: Site) -> bool:
        return site.show.stem == "reel-night" or (site.theme == "plain" and site.view != "guest")

    return [site for site in sites() if chosen(site)]


def build(site: Site, out: Path) -> None:
    """Run `rigbook build` as a person would."""
    command = [str(Path(sys.executable).with_name("rigbook")), "build", str(site.show.relative_to(ROOT)),
               "--out", str(out), "--view", site.view, "--theme", site.theme,
               *(["--language", site.language] if site.language else [])]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300, check=False)
    if done.returncode or not any(out.rglob("*.html")):
        raise AssertionError(f"{' '.join(command)}: exit {done.returncode}\n{done.stdout}\n{done.stderr}")


def built(site: Site, shared: Path) -> Path:
    """The folder of a built site below `shared`, which all test processes of one run have in common."""
    out, lock = shared / str(site), shared / f"{site}.lock"
    with lock.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        if not out.is_dir():
            fresh = shared / f"{site}.part"  # a failing build may leave pages; nobody is to take them for the site
            build(site, fresh)
            fresh.rename(out)
    return out
