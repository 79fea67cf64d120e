"""A load as a bar on its breaker: told by lengths and marks, so that it is read without colour and on paper."""

from __future__ import annotations

from html import escape

from rigbook.handbook.drawings import svg

WIDE, HIGH = 208.0, 22.0
EDGE = 4.0


def load(now: float, most: float, allowed: float | None, rating: float | None, scale: float, words: str) -> str:
    """A bar.

    Args:
        now: lasting load, A: the filled part.
        most: load at full power, A: the thin line that goes on; an arrow where it is longer than the drawing.
        allowed: what may be used for long, A: the notch. None where it is not known.
        rating: of the breaker, A: the frame. None where it is not known.
        scale: A that the whole width stands for; the same for bars that are read against each other.
        words: the same in words, for whoever does not see it.
    Returns: SVG text.
    """
    per = (WIDE - 2 * EDGE) / scale if scale > 0 else 0.0
    middle = HIGH / 2
    body = []
    if rating is not None:
        body.append(svg.rect(EDGE, 3, rating * per, HIGH - 6, "load-frame"))
    reach = min(most * per, WIDE - 2 * EDGE)
    end = "v-3v6" if most <= scale else "m-5 -4l5 4l-5 4"  # what does not fit ends in an arrow
    body.append(svg.path(f"M{svg.num(EDGE)} {svg.num(middle)}h{svg.num(reach)}{end}", "load-most"))
    body.append(svg.rect(EDGE, 7, now * per, HIGH - 14, "load-now"))
    if allowed is not None:
        body.append(svg.path(f"M{svg.num(EDGE + allowed * per)} 0v{svg.num(HIGH)}", "load-allowed"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="load" role="img" aria-label="{escape(words)}" '
        f'viewBox="0 0 {svg.num(WIDE)} {svg.num(HIGH)}" width="{svg.num(WIDE)}" height="{svg.num(HIGH)}">'
        + "".join(body)
        + "</svg>"
    )
