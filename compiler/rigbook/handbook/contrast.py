"""The contrast of a theme's colours, in light and in dark: every pair that text or lines are printed in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from rigbook.checks.compiled import Compiled
from rigbook.findings.finding import Finding, Label, Severity, in_order
from rigbook.findings.place import Source
from rigbook.handbook.colour import contrast, parse_colour
from rigbook.handbook.themes import Theme
from rigbook.handbook.tokens import STATES, Token, in_state, resolved, rules
from rigbook.records import replace
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

TEXT_RATIO, SIGN_RATIO = 4.5, 3.0
"""WCAG 2.2, 1.4.3 (text, level AA) and 1.4.11 (lines and frames that say something)."""
INKS: Final = ("ink", "soft", "link", "clean", "noted", "warn", "fail")
SIGNS: Final = ("firm", "focus", "line-speaker", "line-line", "line-network")


class Pair(NamedTuple):
    """Two tokens that lie on each other, and the ratio they need."""

    front: str
    back: str
    ratio: float


PAIRS: Final = (
    *(Pair(ink, back, TEXT_RATIO) for ink in INKS for back in ("paper", "wash")),
    *(Pair(ink, "target", TEXT_RATIO) for ink in ("ink", "link")),
    *(Pair(sign, "paper", SIGN_RATIO) for sign in SIGNS),
    Pair("focus", "wash", SIGN_RATIO),
)
"""What is held to a ratio. `rule` and `accent` only part things that are parted by space as well."""


def token_file(theme: Theme) -> Source:
    """The theme's `tokens.css`, under the name that people know it by."""
    for name, folder in theme.layers:
        path = folder / "static" / "tokens.css"
        if path.is_file():
            return Source(theme.shown(name, folder, "static/tokens.css"), path.read_text("utf-8", "replace"))
    return Source("static/tokens.css", "")


def findings(theme: Theme) -> list[Finding]:
    """A warning for each pair of colours that is hard to read, at the line of the theme that sets it."""
    sheet = token_file(theme)
    every = [*rules(sheet.text, sheet.file), *theme.brand.rules(str(theme.settings.get("mode", "system")))]
    out: dict[tuple[str, str, str], Finding] = {}
    for chosen, device in STATES:
        tokens = in_state(every, chosen, device)
        for pair in PAIRS:
            for finding in _judged(pair, tokens, chosen or device, sheet.file):
                out.setdefault((pair.front, pair.back, finding.message), finding)
    return list(out.values())


def looked_at(compiled: Compiled, theme: Theme) -> Compiled:
    """The plan with what was found in the theme that it is shown in."""
    found = findings(theme)
    if not found:
        return compiled
    files = [token_file(theme)]
    for name, folder in theme.layers:
        path = folder / "theme.yaml"
        if path.is_file():
            files.append(Source(theme.shown(name, folder, "theme.yaml"), path.read_text("utf-8", "replace")))
    every = tuple(in_order((*compiled.findings, *found)))
    return replace(compiled, findings=every, sources={**compiled.sources, **{s.file: s for s in files}})


def on_pages(compiled: Compiled, theme: Theme) -> Compiled:
    """The same with the files of a theme called by its folder alone: where that lies differs between machines."""
    said = {
        theme.shown(name, folder, file): f"{folder.resolve().name}/{file}"
        for name, folder in theme.layers
        for file in ("theme.yaml", "static/tokens.css")
        if not theme.shown(name, folder, file).startswith("theme:")
    }
    if not said.keys() & compiled.sources.keys():
        return compiled

    def called(label: Label) -> Label:
        span = label.span
        return replace(label, span=span._replace(file=said.get(span.file, span.file)))

    every = [
        replace(f, primary=called(f.primary), secondary=tuple(called(s) for s in f.secondary))
        for f in compiled.findings
    ]
    sources = {said.get(name, name): source for name, source in compiled.sources.items()}
    return replace(compiled, findings=tuple(in_order(every)), sources=sources)


def _judged(pair: Pair, tokens: dict[str, Token], mode: str, sheet: str) -> Iterator[Finding]:
    if pair.front not in tokens or pair.back not in tokens:
        return
    front, back = (parse_colour(resolved(name, tokens)) for name in (pair.front, pair.back))
    if front is None or back is None:
        return
    ratio = contrast(front, back)
    if ratio >= pair.ratio:
        return
    # what the venue's own file sets is what can be changed there
    first, second = tokens[pair.front], tokens[pair.back]
    own, other = (second, first) if first.span.file == sheet != second.span.file else (first, second)
    yield Finding(
        "low-contrast",
        Severity.WARNING,
        _message(pair, ratio, mode),
        Label(own.span, own.value),
        (Label(other.span, other.value),),
        effect=phrase("people read it late or not at all, on a phone in the dark or in the sun"),
        remedy=phrase("make `%(front)s` and `%(back)s` differ more in lightness", front=pair.front, back=pair.back),
        objects=frozenset((pair.front, pair.back)),
    )


def _message(pair: Pair, ratio: float, mode: str) -> str:
    values = {
        "front": pair.front,
        "back": pair.back,
        "ratio": Amount(_shown(ratio)),
        "least": Amount(f"{pair.ratio:g}"),
    }
    if mode == "dark":
        return phrase("`%(front)s` on `%(back)s` has a contrast of %(ratio)s:1 in dark, it needs %(least)s:1", **values)
    return phrase("`%(front)s` on `%(back)s` has a contrast of %(ratio)s:1 in light, it needs %(least)s:1", **values)


def _shown(ratio: float) -> str:
    """Two decimals, never rounded up to what is needed."""
    return f"{int(ratio * 100) / 100:.2f}"
