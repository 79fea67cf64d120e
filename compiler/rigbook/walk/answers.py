"""What a person types about a walk test, as answers: `main-left: top-right`, `subs: sub-left thin`, `subs: nothing`.

STEP: BOXES             the boxes heard, all others being silent; a word behind a box says what is wrong with it
STEP: as expected       everything was as it must be
STEP fader: BOXES       the boxes that go on sounding with the fader down
STEP: A and B hollow    stood between two boxes
STEP: LIGHT dark|lit    a signal light or meter (`--seen`)
plugs|replace|setting SUBJECT: OUTCOME      a look at something (`--seen`)
exchange SUBJECT in STEP: OUTCOME           a box with two cables exchanged (`--seen`)
TEST: not sure          of any of these tests: it is not asked again (`--seen`)
"""

from __future__ import annotations

from typing import Final

from rigbook.findings.suggest import near
from rigbook.records import frozen
from rigbook.walk import hear
from rigbook.walk.say import BETWEEN, BOX, value_words
from rigbook.walk.step import Step
from rigbook.walk.table import DARK, EXCHANGE, FADER, HEAR, LIGHT, LIT, PAIR, Seen, Table

LOOKS: Final = ("plugs", "replace", "setting")
NOTHING: Final = ("nothing", "silence", "silent")
PLANNED: Final = ("as expected", "as planned", "ok")
NOT_SURE: Final = "not sure"
UNSURE: Final = "?"
"""The answer of someone who is not sure: no outcome of a test."""


@frozen
class Unclear:
    """What could not be read, and what to write instead."""

    message: str
    remedy: str


Read = dict[Seen, str] | Unclear


def read_heard(table: Table, text: str) -> Read:
    """`STEP: …` as answers for every box of the step."""
    name, colon, rest = text.partition(":")
    if not colon:
        return Unclear(f"`{text}` names no step", "write the step, a colon and the boxes: `main-left: top-left`")
    stem = name.strip().removesuffix(" fader").strip()
    key = _key(table, stem)
    if key is None:
        return _no_step(table, stem)
    items = [i.strip() for i in rest.split(",") if i.strip()]
    if len(items) == 1 and items[0].lower() in PLANNED:
        items = []
        return _as_planned(table, key)
    return _fader(table, key, items) if name.strip().endswith(" fader") else _boxes(table, key, items)


def _key(table: Table, name: str) -> str | None:
    keys = {p.step for p in table.plays}
    wanted = name.replace(" ", "-")
    return next((k for k in (name, wanted) if k in keys), None)


def _no_step(table: Table, name: str) -> Unclear:
    keys = list(dict.fromkeys(p.step for p in table.plays))
    close = near(name, keys)
    fix = f"write `{close[0]}`" if close else "steps are " + ", ".join(f"`{k}`" for k in keys)
    return Unclear(f"there is no step `{name}`", fix)


def _watched(table: Table, key: str) -> dict[str, bool]:
    """Everything that is watched in a step, and whether it must sound."""
    step = next((s for s in table.steps if s.key == key), None)
    line = next((x for x in table.lines if x.key == key), None)
    must = [e.end for e in step.expect] if step else list(line.heard) if line else []
    return {b: b in must for b in dict.fromkeys((*table.rig.boxes, *must))}


def _as_planned(table: Table, key: str) -> Read:
    out: dict[Seen, str] = {Seen(HEAR, key, box): "" for box in _watched(table, key)}
    step = _step(table, key)
    return out | {Seen(PAIR, key, f"{p.a}|{p.b}"): "" for p in (step.pairs if step else ())}


def _step(table: Table, key: str) -> Step | None:
    return next((s for s in table.steps if s.key == key), None)


def _boxes(table: Table, key: str, items: list[str]) -> Read:
    must = _watched(table, key)
    said: dict[str, str] = {}
    out: dict[Seen, str] = {}
    for item in items:
        if item.lower() in NOTHING:
            continue
        pair = _pair(table, key, item)
        if pair is not None:
            if isinstance(pair, Unclear):
                return pair
            out[pair[0]] = pair[1]
            continue
        box, _, word = item.partition(" ")
        if box not in must:
            return _no_box(box, list(must))
        if word and word not in BOX:
            fix = "write one of " + ", ".join(f"`{w}`" for w in BOX)
            return Unclear(f"`{word}` does not say how `{box}` sounds", fix)
        said[box] = word or ("" if must[box] else hear.SOUNDS)
    if out and not said:
        return out
    for box, wanted in must.items():
        out[Seen(HEAR, key, box)] = said.get(box, hear.SILENT if wanted else "")
    return out


def _no_box(name: str, known: list[str]) -> Unclear:
    close = near(name, known)
    fix = f"write `{close[0]}`" if close else f"boxes are {', '.join(known)}"
    return Unclear(f"there is no box `{name}` in this step", fix)


def _pair(table: Table, key: str, item: str) -> tuple[Seen, str] | Unclear | None:
    """`A and B hollow`; None where it is no pair."""
    left, and_, rest = item.partition(" and ")
    if not and_:
        return None
    right, _, word = rest.partition(" ")
    step = _step(table, key)
    pairs = [(p.a, p.b) for p in step.pairs] if step else []
    if word not in BETWEEN:
        fix = "write one of " + ", ".join(f"`{w}`" for w in BETWEEN)
        return Unclear(f"`{item}` does not say what is heard between them", fix)
    for a, b, turned in ((left, right, False), (right, left, True)):
        if (a, b) in pairs:
            swap = {hear.FIRST_A: hear.FIRST_B, hear.FIRST_B: hear.FIRST_A} if turned else {}
            return Seen(PAIR, key, f"{a}|{b}"), swap.get(word, word)
    fix = "pairs are " + (", ".join(f"`{a} and {b}`" for a, b in pairs) or "none")
    return Unclear(f"`{left}` and `{right}` are not compared in `{key}`", fix)


def _fader(table: Table, key: str, items: list[str]) -> Read:
    """Boxes that go on sounding with the fader down; of the others those that must are silent."""
    must = [box for box, wanted in _watched(table, key).items() if wanted]
    going = [i for i in items if i.lower() not in NOTHING]
    for box in going:
        if box not in must:
            return _no_box(box, must)
    step = _step(table, key)
    line = next((x for x in table.lines if x.key == key), None)
    stays = set(line.pre) if line else set(must) if step and step.fader == "stays" else set()
    out: dict[Seen, str] = {}
    for box in must:
        planned, now = box in stays, box in going
        out[Seen(FADER, key, box)] = "" if planned == now else hear.SOUNDS if now else hear.SILENT
    return out


def read_seen(table: Table, text: str) -> Read:
    """The outcome of a test: `main-left: box/out 7 dark`, `setting output main right: exchanged`."""
    name, colon, value = text.rpartition(":")
    word = value.strip()
    if colon and name.strip().partition(" ")[0] in (*LOOKS, EXCHANGE):
        return _look(table, name.strip(), word)
    key = _key(table, name.strip()) if colon else None
    if key is None:
        return _no_step(table, name.strip() or text)
    unsure = word.endswith(f" {NOT_SURE}")
    light, _, state = (f"{word.removesuffix(NOT_SURE)}{LIT}" if unsure else word).rpartition(" ")
    if state not in (LIT, DARK) or light not in table.wires.index:
        fix = "write the socket, channel or bus and `lit` or `dark`: `box/out 7 dark`"
        return Unclear(f"`{word}` is no signal light", fix)
    seen = Seen(LIGHT, key, light)
    if unsure:
        return {seen: UNSURE}
    return {seen: "" if state == _planned_light(table, seen) else state}


def _look(table: Table, name: str, word: str) -> Read:
    """A look at something, a thing replaced, or two cables exchanged: the outcome as typed or as said."""
    known = {_typed(s): s for s in table.showing if s.kind in (*LOOKS, EXCHANGE)}
    seen = known.get(name)
    if seen is None:
        return Unclear(f"`{name}` is no test of this rig", "use the words of the test that is proposed")
    values = {table.testable[i].effects[seen] for i in table.showing[seen]}
    said = {w: v for v in sorted(values) for w in (v.replace("|", " "), value_words(seen, v))}
    said |= dict.fromkeys((*PLANNED, "no change", value_words(seen, "")), "") | {NOT_SURE: UNSURE}
    if word not in said:
        fix = "write one of " + ", ".join(f"`{w}`" for w in [*sorted(v.replace("|", " ") for v in values), PLANNED[0]])
        return Unclear(f"`{word}` is not what `{name}` can show", fix)
    return {seen: said[word]}


def _typed(seen: Seen) -> str:
    """A test without sound, and an exchange, as typed."""
    if seen.kind != EXCHANGE:
        return f"{seen.kind} {seen.subject.replace('|', ' ', 1)}"
    one, two, unit, box = seen.subject.split("|")
    return f"exchange {one} with {two} at {unit}, {box} in {seen.play}"


def _planned_light(table: Table, seen: Seen) -> str:
    i = next(i for i, p in enumerate(table.plays) if p.step == seen.play)
    return LIT if table.states[i].get(table.wires.index[seen.subject]) else DARK


def outcome_words(table: Table, seen: Seen, value: str) -> str:
    """An outcome in words; a light that is as planned is lit or dark."""
    return value_words(seen, value or (_planned_light(table, seen) if seen.kind == LIGHT else ""))


def seen_text(table: Table, seen: Seen, value: str) -> str:
    """The reverse: how an outcome is typed."""
    if seen.kind in (*LOOKS, EXCHANGE):
        return f"--seen '{_typed(seen)}: {value.replace('|', ' ') or value_words(seen, '')}'"
    if seen.kind == LIGHT:
        return f"--seen '{seen.play}: {seen.subject} {value or _planned_light(table, seen)}'"
    return f"--heard '{seen.play}{' fader' if seen.kind == FADER else ''}: …'"
