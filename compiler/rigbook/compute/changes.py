"""One revision of a plan against an earlier one, in the trade's words: what came, what went, what is otherwise, what
has to be done because of it. A pure function of two plans; the order of lines and how a value is typed change nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from types import MappingProxyType
from typing import Final, NamedTuple

from rigbook.compute.renames import renames, under_new_names
from rigbook.compute.thing_words import PROCESSING
from rigbook.compute.things import Fact, Thing, things
from rigbook.plan.model import Plan
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase

GROUPS: Final = MappingProxyType(
    {
        "plan": phrase("Show and times"),
        "inputs": phrase("Inputs"),
        "buses": phrase("Buses"),
        "outputs": phrase("Outputs"),
        "cables": phrase("Cables"),
        "units": phrase("Equipment"),
        "racks": phrase("Racks"),
        "places": phrase("Places"),
        "circuits": phrase("Circuits"),
        "supplies": phrase("Supplies"),
        "power": phrase("Power"),
        "channels": phrase("Radio channels"),
        "radio": phrase("Radio"),
        "room": phrase("Room"),
        "contacts": phrase("People"),
        "notes": phrase("Notes"),
        "desk-notes": phrase("Desk notes"),
        "stock": phrase("Stock"),
        "kinds": phrase("Kinds of equipment"),
        "limits": phrase("Limits of the checks"),
        "labels": phrase("Labels"),
        "published": phrase("What is published"),
        "exceptions": phrase("Accepted findings"),
    }
)
"""Titles, in the order in which they are told."""
SUMMARY: Final = ("kind", "source equipment", "plugged", "socket", "length", "label", "role", "at", "feeds", "rating")
"""Facts that say what a thing is, when it comes or goes."""
ADDED, GONE, CHANGED = "added", "gone", "changed"
SET, PATCH = phrase("set it on the desk"), phrase("patch it on the desk")
REPLUG = phrase("replug it and patch it on the desk")
"""Where no splitter or tie line lies between source and desk."""
ANEW, DEVICE = phrase("place it anew"), phrase("set it on the device")
TASKS: Final = MappingProxyType(
    {
        "inputs added": phrase("plug it in and patch it"),
        "inputs gone": phrase("unplug it, clear the channel"),
        "inputs number": PATCH,
        "inputs from": PATCH,
        "inputs plugged": phrase("replug it"),
        "inputs source equipment": phrase("exchange the microphone or source"),
        "inputs at": ANEW,
        "inputs stand": phrase("exchange the stand"),
        "inputs cable": phrase("exchange the cable"),
        "buses added": SET,
        "buses gone": SET,
        "outputs added": PATCH,
        "outputs gone": PATCH,
        "outputs socket": PATCH,
        "cables added": phrase("lay it and plug it in"),
        "cables gone": phrase("take it up"),
        "cables end": phrase("replug the other end"),
        "cables length": phrase("exchange the cable"),
        "cables kind": phrase("exchange the cable"),
        "cables adaptor": phrase("exchange the adaptor"),
        "cables label": phrase("label both ends anew"),
        "cables lines": phrase("replug its lines"),
        "units added": phrase("bring it, place it, give it power"),
        "units gone": phrase("take it out"),
        "units kind": phrase("exchange it"),
        "units name": phrase("label it anew"),
        "units mode": DEVICE,
        "units routes": DEVICE,
        **{f"units {key}": ANEW for key in ("at", "aim", "tilt", "mount", "turned", "safety")},
        "racks added": phrase("fill it"),
        "circuits feeds": phrase("plug into that circuit"),
        "channels frequency": phrase("tune transmitter and receiver"),
        "channels transmitter": phrase("exchange the transmitter"),
    }
)
"""What has to be done, by group and fact."""
ON_DESK: Final = frozenset((*PROCESSING, "name", "phantom", "pad", "stereo", "muted", "role", "sends", "pick-off"))


@frozen
class Change:
    """One thing that is otherwise."""

    group: str
    how: str
    """`added`, `gone` or `changed`."""
    subject: str
    what: str
    """The fact that changed; empty where the whole thing came or went."""
    before: str
    after: str
    """Empty where there is, or was, nothing."""
    task: str
    """What has to be done; empty where nothing has."""
    name: str
    """Names the thing within its group, in the revision that has it: the later of both."""


class Pair(NamedTuple):
    """A thing as it was and as it is."""

    old: Thing
    new: Thing


def changes(old: Plan, new: Plan) -> tuple[Change, ...]:
    """What changed from one plan to another, by group; empty where nothing did."""
    names = renames(old, new)
    before, after = [under_new_names(t, names) for t in things(old)], things(new)
    out: list[Change] = []
    for group in GROUPS:
        pairs, gone, come = _matched(group, [t for t in before if t.group == group],
                                     [t for t in after if t.group == group])  # fmt: skip
        if group == "units":
            out += [_renamed(was, now) for was, now in names.items()]
        for pair in pairs:
            out += _between(pair)
        out += [_whole(t, GONE) for t in gone]
        out += [_whole(t, ADDED) for t in come]
    return tuple(out)


def _matched(group: str, old: list[Thing], new: list[Thing]) -> tuple[list[Pair], list[Thing], list[Thing]]:
    """Things that are the same in both, then what is left of either. What decides is the same in both directions."""
    pairs: list[Pair] = []
    if group == "inputs":
        pairs = _by(_channel_name, old, new)
    taken = {id(t) for pair in pairs for t in pair}
    pairs += _by(lambda t: t.name, *([t for t in side if id(t) not in taken] for side in (old, new)))
    taken = {id(t) for pair in pairs for t in pair}
    gone, come = ([t for t in side if id(t) not in taken] for side in (old, new))
    if group == "cables":
        moved = _moved(gone, come)
        pairs += moved
        taken = {id(t) for pair in moved for t in pair}
        gone, come = ([t for t in side if id(t) not in taken] for side in (gone, come))
    order = {id(t): n for n, t in enumerate(new)}
    return sorted(pairs, key=lambda p: order[id(p.new)]), gone, come


def _by(key: Callable[[Thing], str], old: Sequence[Thing], new: Sequence[Thing]) -> list[Pair]:
    """Things of one key, where each side has one of it."""
    once = [{k for k, n in Counter(map(key, side)).items() if n == 1} for side in (old, new)]
    there = {key(t): t for t in new}
    return [Pair(t, there[key(t)]) for t in old if key(t) in once[0] & once[1]]


def _channel_name(thing: Thing) -> str:
    """A channel keeps its name when it is moved to another number."""
    return f"{thing.name.rpartition(' ')[0]} {thing.facts['name'].shown}"


def _ends(thing: Thing) -> frozenset[str]:
    return frozenset(thing.name.split(" -> "))


def _moved(gone: Iterable[Thing], come: Sequence[Thing]) -> list[Pair]:
    """Cables of one kind that kept one end, where no other cable could be meant."""
    def fits(a: Thing, b: Thing) -> bool:
        return a.facts["kind"].bare == b.facts["kind"].bare and bool(_ends(a) & _ends(b))

    left = list(gone)
    out = []
    for old in left:
        near = [t for t in come if fits(old, t)]
        if len(near) == 1 and sum(fits(other, near[0]) for other in left) == 1:
            out.append(Pair(old, near[0]))
    return out


def _between(pair: Pair) -> Iterator[Change]:
    old, new = pair
    subject = _subject(pair)
    if new.group == "cables" and _ends(old) != _ends(new):
        kept = _ends(old) & _ends(new)
        far = [joined(sorted(_ends(t) - kept)) for t in pair]
        yield Change("cables", CHANGED, subject, phrase("other end"), far[0], far[1], TASKS["cables end"], new.name)
    direct = all(_bare(t.facts.get("from")) == _bare(t.facts.get("plugged")) for t in pair)
    for key in dict.fromkeys((*new.facts, *old.facts)):
        was, now = old.facts.get(key), new.facts.get(key)
        if _bare(was) == _bare(now) or (key == "from" and direct):
            continue
        words = (now or was or Fact("", None, "")).words
        shown = [f.shown if f else "" for f in (was, now)]
        to_do = REPLUG if key == "plugged" and direct else task(new.group, key)
        yield Change(new.group, CHANGED, subject, words, shown[0], shown[1], to_do, new.name)


def _renamed(was: str, now: str) -> Change:
    """A unit that is the same under another name."""
    return Change("units", CHANGED, now, phrase("name"), was, now, TASKS["units name"], now)


def _bare(fact: Fact | None) -> object:
    return fact.bare if fact else None


def _subject(pair: Pair) -> str:
    """What both revisions call it."""
    old, new = pair
    if old.words == new.words:
        return new.words
    if new.group == "inputs":
        number = new.facts["number"].shown
        return new.facts["name"].shown if old.name != new.name else phrase("channel %(number)s", number=number)
    return joined(sorted(_ends(old) & _ends(new)))


def _whole(thing: Thing, how: str) -> Change:
    told = [thing.facts[k].shown for k in SUMMARY if k in thing.facts] or [f.shown for f in thing.facts.values()][:2]
    words = joined(dict.fromkeys(w for w in told if w))
    before, after = (words, "") if how == GONE else ("", words)
    return Change(thing.group, how, thing.words, "", before, after, TASKS.get(f"{thing.group} {how}", ""), thing.name)


def task(group: str, key: str) -> str:
    """What has to be done because a fact of a thing changed; empty where nothing has."""
    last = key.rpartition(" ")[2]
    if group in ("inputs", "buses", "outputs") and (last in ON_DESK or key.startswith("send ")):
        return SET
    if group == "units" and (key.startswith("settings ") or key == "attenuation"):
        return DEVICE
    if group == "racks" and key.startswith("unit "):
        return phrase("mount it anew")
    return TASKS.get(f"{group} {key}", "")
