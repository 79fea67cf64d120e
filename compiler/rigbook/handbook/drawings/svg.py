"""Bits of SVG text shared by the drawings."""

from __future__ import annotations

from html import escape
from typing import Final

NARROW: Final = "fijlrtI.,:;'|-()[]! /1"
BROAD: Final = "mwMW@%—…←→"


def text(x: float, y: float, words: str, css: str = "", anchor: str = "start", most: float = 0.0) -> str:
    """A line of text at its baseline. With `most`, words that may be wider at 13 px are drawn to that width."""
    fit = f' textLength="{num(most)}" lengthAdjust="spacingAndGlyphs"' if most and wide(words, 13.0) > most else ""
    return f'<text x="{num(x)}" y="{num(y)}" class="{css}" text-anchor="{anchor}"{fit}>{escape(words)}</text>'


def link(href: str, body: str, label: str) -> str:
    """A linked group. Its visible words name it for screen readers; `label` names one that shows none."""
    named = "" if "<text" in body else f' aria-label="{escape(label)}"'
    return f'<a href="{escape(href)}"{named}>{body}</a>'


def rect(x: float, y: float, width: float, height: float, css: str, radius: float = 0) -> str:
    """A rectangle."""
    round_ = f' rx="{num(radius)}"' if radius else ""
    return f'<rect x="{num(x)}" y="{num(y)}" width="{num(width)}" height="{num(height)}"{round_} class="{css}"/>'


def path(d: str, css: str, title: str = "") -> str:
    """A line, with its title for pointer and screen reader."""
    inner = f"<title>{escape(title)}</title>" if title else ""
    return f'<path d="{d}" class="{css}">{inner}</path>'


def wide(words: str, size: float, bold: bool = False) -> float:
    """Width that a text may take at a type size, in px.

    Estimated by sorts of characters after a broad sans serif (DejaVu Sans, from its metrics), since the reader's own
    type is not known; narrower ones leave room.
    """
    em = sum(0.4 if c in NARROW else 1.0 if c in BROAD else 0.75 if c.isupper() else 0.64 for c in words)
    return em * size * (1.12 if bold else 1.0)


def sheet(
    ident: str, width: float, height: float, title: str, description: str, body: list[str], scale: float = 1.0
) -> str:
    """A whole drawing: `role="group"` keeps its links reachable; title and description are read out first. `scale` is
    its natural size, in px for a unit of the drawing.
    """
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" id="{ident}" role="group" '
        f'viewBox="0 0 {num(width)} {num(height)}" width="{num(width * scale)}" height="{num(height * scale)}" '
        f'aria-labelledby="{ident}-t {ident}-d">'
        f'<title id="{ident}-t">{escape(title)}</title><desc id="{ident}-d">{escape(description)}</desc>'
        + "".join(body)
        + "</svg>"
    )


def num(value: float) -> str:
    """A number with at most one decimal, without a trailing zero: the same bytes everywhere."""
    return f"{value:.1f}".rstrip("0").rstrip(".")
