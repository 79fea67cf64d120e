"""Themes on disk: a folder, and those it extends. The same search order for templates and static files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

DEFAULT: Final = "plain"


@dataclass(frozen=True)
class Theme:
    """A theme with what it extends, itself first."""

    name: str
    title: str
    layers: tuple[tuple[str, Path], ...]
    """(name, folder), in search order."""
    settings: Mapping[str, Any]

    def static(self) -> dict[str, bytes]:
        """Every static file by its name in the handbook; of files with one name, the first found."""
        out: dict[str, bytes] = {}
        for _, folder in self.layers:
            base = folder / "static"
            for path in sorted(base.rglob("*")) if base.is_dir() else ():
                name = f"static/{path.relative_to(base).as_posix()}"
                if path.is_file() and name not in out:
                    out[name] = path.read_bytes()
        return out


class ThemeError(Exception):
    """A theme cannot be used; the message says why and what to do."""


def themes_root() -> Path:
    """The folder of the shipped themes: beside the package as installed, else at the repository root."""
    package = Path(__file__).resolve().parents[1]
    beside = package / "themes"
    return beside if beside.is_dir() else package.parents[1] / "themes"


def shipped() -> tuple[str, ...]:
    """Names of the shipped themes."""
    return tuple(sorted(p.parent.name for p in themes_root().glob("*/theme.yaml")))


def find_theme(text: str) -> Theme:
    """The theme of a name, or of a user's folder. ThemeError where there is none."""
    layers: list[tuple[str, Path]] = []
    settings: dict[str, Any] = {}
    titles: list[str] = []
    wanted = text
    while wanted:
        folder = _folder(wanted)
        if any(folder == f for _, f in layers):
            raise ThemeError(f"the theme `{wanted}` extends itself; take one `extends` line out")
        said = _settings(folder)
        layers.append((folder.name, folder))
        titles.append(str(said.get("title", folder.name)))
        settings = {**(said.get("settings") or {}), **settings}
        wanted = str(said.get("extends") or ("" if folder == themes_root() / DEFAULT else DEFAULT))
    return Theme(layers[0][0], titles[0], tuple(layers), settings)


def _folder(text: str) -> Path:
    own = themes_root() / text
    if "/" not in text and (own / "theme.yaml").is_file():
        return own
    folder = Path(text)
    if folder.is_dir() and any((folder / part).exists() for part in ("theme.yaml", "templates", "static")):
        return folder.resolve()
    names = ", ".join(f"`{n}`" for n in shipped())
    raise ThemeError(f"there is no theme `{text}`; there are {names}, or name a folder with `templates/` or `static/`")


def _settings(folder: Path) -> dict[str, Any]:
    path = folder / "theme.yaml"
    if not path.is_file():
        return {}
    import yaml

    try:
        got = yaml.load(path.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        raise ThemeError(f"`{path}` cannot be read: {' '.join(str(error).split())}") from None
    if not isinstance(got, dict) or not isinstance(got.get("settings") or {}, dict):
        raise ThemeError(f"`{path}` holds no `key: value` lines")
    return got
