"""Themes on disk: a folder, and those it extends. The same search order for templates and static files."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from rigbook.findings.suggest import near
from rigbook.handbook.brand import Brand, BrandError, brand_of
from rigbook.handbook.tokens import rules
from rigbook.records import field, frozen
from rigbook.text.disk import is_file, is_folder, is_there, resolved, take

DEFAULT: Final = "plain"
LARGEST: Final = 20_000_000
"""Bytes of one file of a theme."""
KEYS: Final = ("title", "extends", "settings", "logo", "accent", "colours", "words")
"""What a `theme.yaml` may hold."""


@frozen
class Theme:
    """A theme with what it extends, itself first."""

    name: str
    title: str
    layers: tuple[tuple[str, Path], ...]
    """(name, folder), in search order."""
    settings: Mapping[str, Any]
    brand: Brand = field(default_factory=Brand)
    """Logo, colours and words of the venue."""

    @staticmethod
    def shown(name: str, folder: Path, file: str) -> str:
        """A file of a theme as people know it: `theme:plain/static/tokens.css`, or its path."""
        if folder.parent == themes_root():
            return f"theme:{name}/{file}"
        here = Path.cwd()
        path = folder / file
        return (path.relative_to(here) if path.is_relative_to(here) else path).as_posix()

    def static(self) -> dict[str, bytes]:
        """Every static file by its name in the handbook; of files with one name, the first found."""
        out: dict[str, bytes] = {}
        for _, folder in self.layers:
            base = folder / "static"
            for path in sorted(base.rglob("*")) if base.is_dir() else ():
                name = f"static/{path.relative_to(base).as_posix()}"
                if is_file(path) and name not in out:
                    out[name] = _own(path, folder)
        out |= self.brand.files
        style = self.brand.style(str(self.settings.get("mode", "system")))
        return out | ({"static/brand.css": style.encode()} if style else {})

    def inside(self) -> None:
        """ThemeError where a template is a link that leads out of the theme: what is there is nobody's to publish."""
        for _, folder in self.layers:
            base = folder / "templates"
            for path in (base, *base.rglob("*")) if base.is_dir() else ():
                if path.is_symlink() and not ((real := resolved(path)) and real.is_relative_to(folder)):
                    raise ThemeError(f"`{path}` leads out of the theme; put the file itself there")

    def paper(self, name: str) -> str:
        """A style sheet of `paper/`, which is for PDF alone and no part of the handbook; the first found."""
        found = (folder / "paper" / name for _, folder in self.layers)
        return next((path.read_text("utf-8") for path in found if path.is_file()), "")


class ThemeError(Exception):
    """A theme cannot be used; the message says why and what to do."""


def _own(path: Path, folder: Path) -> bytes:
    """A file of a theme. ThemeError where it cannot be read, is huge, or is a link that leads out of the theme."""
    real, home = resolved(path), resolved(folder)
    if real is None or home is None or not real.is_relative_to(home):
        raise ThemeError(f"`{path}` leads out of the theme; put the file itself there")
    try:
        data, size = take(path, LARGEST)
    except OSError as error:
        raise ThemeError(f"`{path}` cannot be read: {error.strerror}") from None
    if size > LARGEST:
        raise ThemeError(f"`{path}` holds {size // 1_000_000} MB, which every reader would have to carry")
    return data


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
    read: list[tuple[str, Path, dict[str, Any]]] = []
    wanted = text
    while wanted or not layers:
        folder = _folder(wanted)
        if any(folder == f for _, f in layers):
            raise ThemeError(f"the theme `{wanted}` extends itself; take one `extends` line out")
        said = _settings(folder)
        layers.append((folder.name, folder))
        read.append((folder.name, folder, said))
        settings = {**(said.get("settings") or {}), **settings}
        wanted = str(said.get("extends") or ("" if folder == themes_root() / DEFAULT else DEFAULT))
    title = str(read[0][2].get("title", layers[0][0]))
    return Theme(layers[0][0], title, tuple(layers), settings, _brand(read))


def _brand(read: list[tuple[str, Path, dict[str, Any]]]) -> Brand:
    """Logo, colours and words, the theme that is extended before the one that extends it."""
    known: frozenset[str] = frozenset()
    for _, folder, _ in reversed(read):
        path = folder / "static" / "tokens.css"
        if path.is_file():
            sheet = rules(path.read_text("utf-8", "replace"), path.name)
            known |= {name for rule in sheet for name in rule.tokens}
    brand = Brand()
    for name, folder, said in reversed(read):
        try:
            brand = brand_of(folder, said, Theme.shown(name, folder, "theme.yaml"), brand, known)
        except BrandError as error:
            raise ThemeError(str(error)) from None
    return brand


def _folder(text: str) -> Path:
    own = themes_root() / text
    if text and "/" not in text and is_file(own / "theme.yaml"):
        return own
    folder = Path(text)
    if text and is_folder(folder) and any(is_there(folder / part) for part in ("theme.yaml", "templates", "static")):
        return folder.resolve()
    names = ", ".join(f"`{n}`" for n in shipped())
    raise ThemeError(f"there is no theme `{text}`; there are {names}, or name a folder with `templates/` or `static/`")


def _settings(folder: Path) -> dict[str, Any]:
    path = folder / "theme.yaml"
    if not is_file(path):
        return {}
    import yaml

    try:
        got = yaml.load(path.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except (OSError, yaml.YAMLError, UnicodeDecodeError, RecursionError) as error:
        raise ThemeError(f"`{path}` cannot be read: {' '.join(str(error).split())}") from None
    if not isinstance(got, dict) or not isinstance(got.get("settings") or {}, dict):
        raise ThemeError(f"`{path}` holds no `key: value` lines")
    for key in got:
        if key not in KEYS:
            close = near(str(key), KEYS)
            hint = f"did you mean `{close[0]}`?" if close else "there are " + ", ".join(f"`{k}`" for k in KEYS)
            raise ThemeError(f"`{path}`: there is no key `{key}`; {hint}")
    return got
