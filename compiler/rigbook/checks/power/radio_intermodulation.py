"""A product of transmitters on a carrier.

*What it finds*
A third-order product of two or three radio channels (2a − b, a + b − c) that falls nearer to another one than the
guard of the plan (half its bandwidth where it is silent).

*Why it matters on stage*
With all transmitters on and near each other, the victim drops out or crackles, though each alone is fine.

*Put it right*
Use the set that the Radio page proposes.

*Fails*
    plan: 1
    show: Fails
    units:
      desk: desk-16
      left, right: powered-top-12
      rx-1, rx-2, rx-3: radio-receiver
    inputs:
      1: {name: Voice, from: desk/line 1, source: vocal, to: main}
      2: {name: Guest, from: desk/line 2, source: vocal, to: main}
      3: {name: Host, from: desk/line 3, source: speech, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr:
        - desk/out 1 -> left/in
        - desk/out 2 -> right/in
        - rx-1/out -> desk/line 1
        - rx-2/out -> desk/line 2
        - rx-3/out -> desk/line 3
    radio:
      channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 607.5 MHz}, rx-3: {frequency: 608.5 MHz}}
      bands: [606 MHz - 614 MHz]

*Passes*
    plan: 1
    show: Passes
    units:
      desk: desk-16
      left, right: powered-top-12
      rx-1, rx-2, rx-3: radio-receiver
    inputs:
      1: {name: Voice, from: desk/line 1, source: vocal, to: main}
      2: {name: Guest, from: desk/line 2, source: vocal, to: main}
      3: {name: Host, from: desk/line 3, source: speech, to: main}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring:
      xlr:
        - desk/out 1 -> left/in
        - desk/out 2 -> right/in
        - rx-1/out -> desk/line 1
        - rx-2/out -> desk/line 2
        - rx-3/out -> desk/line 3
    radio:
      channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 607.3 MHz}, rx-3: {frequency: 608.8 MHz}}
      bands: [606 MHz - 614 MHz]

*Source*
W. C. Babcock, Intermodulation interference in radio systems, BSTJ 32, 1953; ITU-R SM.1134.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.radio import Carrier, Product
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.text.phrase import both, joined, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("radio-overlap",)


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each knot of carriers that hit each other."""
    radio = results(rig).radio
    near = {c.name for pair in radio.close for c in (pair.a, pair.b)}
    # of carriers too near to each other one is moved first, and its products with it
    apart = tuple(p for p in radio.products if not near & {c.name for c in (*p.sources, p.victim)})
    for group in _knots(apart):
        first = min(group, key=lambda p: abs(p.offset.value))
        names = list(dict.fromkeys(c.name for p in group for c in (*p.sources, p.victim)))
        moving = [(c, f) for c, f in radio.proposal if f and c.name in names and f.value != c.hz / 1e6][:3]
        moves = [phrase("`%(carrier)s` to %(frequency)s", carrier=c.name, frequency=f) for c, f in moving]
        beside = abs(first.offset.value)
        hit = phrase(
            "%(sources)s make %(frequency)s on `%(victim)s`",
            sources=both(f"`{c.name}`" for c in first.sources),
            frequency=first.frequency,
            victim=first.victim.name,
        )
        yield Finding(
            "radio-intermodulation",
            SEVERITY,
            hit if beside < 0.5 else phrase("%(hit)s, %(khz)s kHz beside its carrier", hit=hit, khz=f"{beside:.0f}"),
            *_places(first, [c for c, _ in moving]),
            effect=phrase("`%(victim)s` drops out when all transmitters are on", victim=first.victim.name),
            remedy=phrase("move %(moves)s", moves=joined(moves))
            if moves
            else phrase("move `%(victim)s` or one of the others", victim=first.victim.name),
            objects=frozenset(names),
        )


def _places(product: Product, moving: list[Carrier]) -> tuple[Label, tuple[Label, ...]]:
    """Where it shows: first the carrier that is to be moved, which need not be the one that is hit."""
    said = {c.name: Label(c.span, phrase("one of its sources")) for c in product.sources}
    said[product.victim.name] = Label(product.victim.span, phrase("%(kind)s falls here", kind=product.kind))
    for carrier in moving:
        said.setdefault(carrier.name, Label(carrier.span, phrase("to be moved")))
    first = moving[0].name if moving else product.victim.name
    return said.pop(first), tuple(said[name] for name in sorted(said, key=lambda n: n != product.victim.name))


def _knots(products: tuple[Product, ...]) -> list[list[Product]]:
    """Products that share a carrier, together: moving one carrier may clear them all."""
    knots: list[tuple[set[str], list[Product]]] = []
    for product in products:
        names = {c.name for c in (*product.sources, product.victim)}
        group = [product]
        for knot in [k for k in knots if k[0] & names]:
            names |= knot[0]
            group = knot[1] + group
            knots.remove(knot)
        knots.append((names, group))
    return [group for _, group in knots]
