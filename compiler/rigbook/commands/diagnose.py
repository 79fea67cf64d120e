"""`rigbook diagnose`: which faults fit what was heard at the walk test, and what to try next."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from rigbook.commands.common import complain, find_plan
from rigbook.findings.screen import harmless

if TYPE_CHECKING:
    from rigbook.walk.suspects import Answers, Probe, Suspect
    from rigbook.walk.table import Seen, Table

MOST = 8


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument(
        "--heard",
        action="append",
        default=[],
        metavar="'STEP: BOXES'",
        help="the boxes heard in a step, `nothing`, or `as expected`; a word behind a box says how it sounds (`thin`)",
    )
    parser.add_argument(
        "--seen",
        action="append",
        default=[],
        metavar="'TEST: OUTCOME'",
        help="what came out of a test that was proposed; `not sure` asks for another",
    )


def run(args: argparse.Namespace) -> int:
    """Print suspects and the next test. 0: printed, or nothing is wrong; 1: no fault fits; 2: cannot run."""
    from rigbook.pipeline import compile_plan

    path = find_plan(args.plan)
    if path is None:
        return 2
    rig = compile_plan(path).rig
    if rig is None:
        print("the plan could not be read; `rigbook check` says why", file=sys.stderr)
        return 2
    from rigbook.walk.answers import UNSURE, Read, read_heard, read_seen
    from rigbook.walk.table import Table

    table = Table.of(rig)
    if not args.heard:
        _steps(table)
        return 0
    answers: dict[Seen, str] = {}
    given: list[tuple[Callable[[Table, str], Read], str]] = [(read_heard, t) for t in args.heard]
    for read, text in (*given, *((read_seen, t) for t in args.seen)):
        got = read(table, text)
        if not isinstance(got, dict):
            complain(f"{got.message}, {got.remedy}")
            return 2
        answers |= got
    unsure = frozenset(s for s, v in answers.items() if v == UNSURE)
    return _answer(table, {s: v for s, v in answers.items() if s not in unsure}, unsure)


def _say(line: str) -> None:
    print(harmless(line))


def _steps(table: Table) -> None:
    _say("say what was heard with --heard 'STEP: BOXES'; the steps and the boxes that must sound:")
    for step in table.steps:
        _say(f"  {step.key}: {', '.join(e.end for e in step.expect)}")
    for line in table.lines:
        _say(f"  {line.key}: {', '.join(line.heard) or 'nothing'}")


def _answer(table: Table, answers: Answers, unsure: frozenset[Seen]) -> int:
    from rigbook.walk.suspects import next_probe, suspects

    if not any(answers.values()):
        _say("nothing is wrong: everything was as it must be")
        return 0
    found = suspects(table, answers)
    if not found:
        _say("no fault of the plan fits; hear the step again, or look for something that the plan does not know")
        return 1
    for line in _head(found):
        _say(line)
    for number, suspect in enumerate(found[:MOST], 1):
        if suspect.unsaid and (number == 1 or not found[number - 2].unsaid):
            _say("behind the desk, where the steps tell more than the line check:")
        _print(number, suspect)
    if len(found) > MOST:
        _say(f"and {len(found) - MOST} more")
    probe = next_probe(table, found, answers, unsure)
    if probe is not None:
        _print_probe(table, probe)
    return 0


def _head(found: tuple[Suspect, ...]) -> tuple[str, ...]:
    many = f"{len(found)} things fit, the nearest and likeliest to check first"
    count = "one thing fits" if len(found) == 1 else many
    if found[0].both:
        count = f"no single fault fits, {len(found)} pair{'s' if len(found) > 1 else ''} of faults would"
    elif found[0].misses:
        count = "nothing fits wholly, these fit best"
    return (count, "")


def _print(number: int, suspect: Suspect) -> None:
    for i, row in enumerate(suspect.rows):
        before = f"{number}. " if not i else "   and " if suspect.both else "   or "
        _say(f"{before}{row.fault.words}")
        if not i or suspect.both:
            _say(f"   check   {row.fault.check}")
            if row.fault.label:
                _say(f"   label   {row.fault.label}")
    print()


def _print_probe(table: Table, probe: Probe) -> None:
    from rigbook.walk.answers import outcome_words, seen_text
    from rigbook.walk.finder import titles_of
    from rigbook.walk.say import probe_words

    _say(f"next   {probe_words(table.rig, probe.seen, titles_of(table).get(probe.seen.play, ''))}")
    for value, which in probe.outcomes:
        numbers = [str(i + 1) for i in which[:MOST]] + ["more"] * (len(which) > MOST)
        _say(f"       {outcome_words(table, probe.seen, value)}: then {', '.join(numbers) or 'it is something else'}")
        _say(f"           {seen_text(table, probe.seen, value)}")
