"""Every single fault shows in some step, or says why none shows it; and the engine hears what a listener hears.

Source of the oracle: networkx's `all_simple_edge_paths`, see `helpers/walk_rigs.py`.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from helpers.random_rigs import RandomRig, rigs
from helpers.sites import shows
from helpers.walk_rigs import listen, rig_at, rig_of
from rigbook.graph.rig import Rig
from rigbook.walk.faults import faults
from rigbook.walk.table import FADER, HEAR, PAIR, Table
from rigbook.walk.trial import Trial, trial

EVERY = 7
"""Of the faults of a shipped show, each so many-th is put before the listener; all of them in the slow run."""


def check(rig: Rig, every: int = 1) -> None:
    ready = trial(rig)
    table = ready.table()
    for row in table.rows[::every]:
        heard = heard_by_listener(ready, row.fault.change, row.behind)
        effects = {s: v for s, v in row.effects.items() if s.kind in (HEAR, PAIR, FADER)}
        assert {s: v for s, v in heard.items() if v} == effects, row.fault.key
        assert bool(row.reason) == (not effects), row.fault.key


def heard_by_listener(ready: Trial, change: object, behind: bool) -> dict[object, str]:
    out: dict[object, str] = {}
    for play in ready.plays:
        if not (behind and play.kind == "line"):
            out |= listen(ready, change, play)  # type: ignore[arg-type]
    return out


@settings(max_examples=8, deadline=None)
@given(rigs(most_buses=2))
def test_the_engine_hears_what_a_listener_hears(random: RandomRig) -> None:
    check(rig_of(random.text))


@pytest.mark.slow
@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_shipped_shows(show: object) -> None:
    check(rig_at(show), EVERY * 3)  # type: ignore[arg-type]


@pytest.mark.slow
@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_shipped_shows_whole(show: object) -> None:
    check(rig_at(show))  # type: ignore[arg-type]


@settings(max_examples=20, deadline=None)
@given(rigs())
def test_keys_are_unique_and_words_whole(random: RandomRig) -> None:
    ready = trial(rig_of(random.text))
    found = faults(ready.rig, ready.wires)
    assert len({f.key for f in found}) == len(found)
    for f in found:
        assert f.words and f.check and f.things and not f.words.endswith("."), f
        assert "safe" not in f.words + f.check


def test_every_kind_of_fault_is_made() -> None:
    """All that a show with everything in it can have; by the rural hall."""
    (show,) = [p for p in shows() if p.stem == "reel-night"]
    kinds = {r.fault.kind for r in Table.of(rig_at(show)).rows}
    wanted = {
        "open cable",
        "link missing",
        "crossed cables",
        "wrong socket",
        "signal polarity reversed",
        "speaker polarity reversed",
        "network cable open",
        "output not patched",
        "outputs exchanged",
        "pick-off wrong",
        "output polarity reversed",
        "filter missing",
        "filter doubled",
        "left and right summed",
        "dead channel",
        "muted amplifier",
        "amplifier turned down",
        "mode switch wrong",
        "dead speaker",
        "open lead",
        "crossed leads",
        "phantom power off",
        "input not patched",
        "inputs exchanged",
        "send closed",
        "send pick-off wrong",
        "source panned",
    }
    assert wanted <= kinds, wanted - kinds
