"""Languages: every word of the pages comes from the catalogue, German and French say all of it, numbers by locale."""

from __future__ import annotations

import datetime
import re
import string
import subprocess
import sys
from html import unescape
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog

from helpers import catalogue, mirror_text
from helpers.sites import shows
from helpers.tools import ROOT
from rigbook.cli import main
from rigbook.handbook import mirror
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.handbook.tongue import ENGLISH
from rigbook.handbook.tongues import LOCALE, catalogue_file, tongue
from rigbook.language.keys.plan import LANGUAGES, SPOKEN
from rigbook.pipeline import compile_plan
from rigbook.records import replace
from rigbook.text.phrase import counted, held, joined, phrase
from rigbook.units.quantity import Amount, format_si

OTHERS = [code for code in SPOKEN if code != "en"]
TEMPLATE = LOCALE / "rigbook.pot"
GEAR = [p.read_text("utf-8") for p in (ROOT / "compiler" / "rigbook" / "gear").rglob("*.yaml")]


# Phrases are English to whoever compares or prints them


def test_a_phrase_is_its_english_text() -> None:
    said = phrase("the lead of `%(name)s` is open", name="Fiddle")
    assert said == "the lead of `Fiddle` is open"
    assert hash(said) == hash("the lead of `Fiddle` is open")
    assert counted(1, "%(num)s cable", "%(num)s cables") == "1 cable"
    assert counted(3, "%(num)s cable", "%(num)s cables") == "3 cables"
    assert joined(("a", said), "; ") == f"a; {said}"
    assert phrase("play {step}, listen at {what}").format(step="main", what="top") == "play main, listen at top"
    assert held(joined(("low cut 100 Hz", "pad"))) == "low cut 100\u00a0Hz, pad"


def test_a_tongue_says_a_phrase_anew_with_all_that_is_in_it() -> None:
    inner = phrase("channel %(number)s %(name)s", number=7, name="Fiddle")
    outer = joined((phrase("%(a)s and %(b)s", a=inner, b="box"), Amount("-2.5", "dB")), "; ")
    spoken = mirror.tongue(frozenset(("channel %(number)s %(name)s", "%(a)s and %(b)s")), ())
    said = spoken.words(outer)
    assert "Fiddle" in said
    assert "channel" not in said
    assert "and" not in said
    assert "\u2066\u200e−2٫5\u00a0dB\u2069" in said
    assert ENGLISH.words(outer) == "channel 7 Fiddle and box; −2.5 dB"
    assert spoken.words("a text of the plan") == "a text of the plan"


# The catalogues


def test_the_template_is_up_to_date() -> None:
    """`python tests/helpers/catalogue.py` brings it up to the sources."""
    assert messages(catalogue.read(LOCALE / "rigbook.pot")) == messages(catalogue.gathered())


def messages(said: Catalog) -> dict[str, bool]:
    """Each message, and whether a script uses it; which files hold it does not matter."""
    return {str(m.id): any(place.endswith(".js") for place, _ in m.locations) for m in said if m.id}


def test_there_is_a_catalogue_for_each_language() -> None:
    assert catalogue.languages() == sorted(OTHERS)
    assert (*SPOKEN, mirror.LANGUAGE) == LANGUAGES


def places(message: str) -> list[str]:
    """What is put into a message: `%(name)s`, `{name}` and the names between backticks."""
    braces = [f"{{{name}}}" for _, name, _, _ in string.Formatter().parse(message.replace("{}", "")) if name]
    return sorted([*re.findall(r"%\(\w+\)s|%%", message), *braces]) + ["`"] * (message.count("`") % 2)


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_says_everything(language: str) -> None:
    template, own = catalogue.read(LOCALE / "rigbook.pot"), catalogue.read(catalogue_file(language))
    assert messages(own) == messages(template), "run tests/helpers/catalogue.py"
    assert catalogue.missing(own) == []
    assert [m.id for m in own if m.id and m.fuzzy] == []


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_put_into_a_message_is_put_into_its_translation(language: str) -> None:
    wrong = []
    for message in catalogue.read(catalogue_file(language)):
        if not message.id:
            continue
        ids = message.id if isinstance(message.id, tuple) else (message.id,)
        strings = message.string if isinstance(message.string, tuple) else (message.string,)
        wrong += [f"{ids[-1]} -> {t}" for t in strings if t and places(t) not in [places(i) for i in ids]]
    assert wrong == []


# Numbers, dates, plurals: CLDR


@pytest.mark.parametrize(("language", "amount", "said"), [
    ("en", Amount("-2.5", "dB"), "−2.5 dB"), ("de", Amount("-2.5", "dB"), "−2,5\u00a0dB"),
    ("fr", Amount("1.50", "kΩ"), "1,50\u00a0kΩ"), ("de", format_si(0.0125, "time", page=True), "12,5\u00a0ms"),
    ("de", Amount("30", "°"), "30°"), ("fr", Amount("+3", ""), "+3"), ("de", Amount("12000", "W"), "12000\u00a0W")])
def test_amounts(language: str, amount: Amount, said: str) -> None:
    assert tongue(language).words(amount) == said


@pytest.mark.parametrize(("language", "said"), [
    ("en", "Saturday 6 February 2027"), ("de", "Samstag, 6. Februar 2027"), ("fr", "samedi 6 février 2027")])
def test_dates(language: str, said: str) -> None:
    assert tongue(language).day(datetime.date(2027, 2, 6)) == said


def test_french_counts_nothing_as_one() -> None:
    """CLDR: French has the form `one` for 0 and 1, German and English for 1 alone."""
    forms = {code: [tongue(code).count(n, "%(num)s phase", "%(num)s phases") for n in (0, 1, 2)] for code in SPOKEN}
    assert forms["en"] == ["0 phases", "1 phase", "2 phases"]
    assert forms["fr"] == ["0 phase", "1 phase", "2 phases"]
    assert forms["de"] == ["0 Phasen", "1 Phase", "2 Phasen"]


def test_french_signs_do_not_stand_alone_on_a_line() -> None:
    """A space before ; : ? ! and within « » does not break (Lexique des règles typographiques)."""
    wrong = [t for m in catalogue.read(catalogue_file("fr")) if m.id
             for t in (m.string if isinstance(m.string, tuple) else (m.string,)) if re.search(r" [;:?!»]|« ", t)]
    assert wrong == []


def test_a_number_keeps_its_unit() -> None:
    assert "\u00a0dB" in tongue("de").say("fader at 0 dB, mute off")


# Whole handbooks


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_every_word_of_every_page_is_given_to_the_language(show: Path) -> None:
    """In the mirror, Latin letters and decimal points come from the plan or the gear library, or from a part that is
    marked as English.
    """
    compiled = compile_plan(show)
    assert compiled.plan is not None
    known = mirror_text.corpus([*GEAR, *(s.text for s in compiled.sources.values())])
    typed = mirror_text.numbers([*GEAR, *(s.text for s in compiled.sources.values()), TEMPLATE.read_text("utf-8")])
    wrong = []
    for view in ("crew", "public"):
        for name, data in make(compiled, view, find_theme("plain"), mirror.LANGUAGE).items():
            if name.endswith(".html"):
                found = mirror_text.strange(data.decode(), known, compiled.plan.units)
                found += mirror_text.pointed(data.decode(), typed)
                wrong += [f"{name}:{line}: {text}" for line, text in found]
    assert wrong == []


@pytest.mark.parametrize("show", shows(), ids=lambda p: p.stem)
def test_no_page_says_shipped_gear_in_english_beside_its_own_word(show: Path) -> None:
    """The mirror takes a title of the gear library for a text of a plan; German has a word of its own for each."""
    own = {str(m.id): str(m.string) for m in catalogue.read(catalogue_file("de")) if m.id}
    titles = [title for _, title in catalogue.gear_titles() if own.get(title, title) != title and " " in title]
    assert len(titles) > 50
    wrong = []
    for name, data in make(compile_plan(show), "crew", find_theme("plain"), "de").items():
        if name.endswith(".html"):
            text = unescape(data.decode())
            wrong += [f"{name}: {title}" for title in titles if title in text]
    assert wrong == []


def test_running_heads_and_what_can_be_found_speak_the_language_too(hall) -> None:
    files = make(hall, "crew", find_theme("binder"), "de")
    assert b'@top-right{content:"H\xc3\xb6rrundgang"}' in files["walk-test.html"]
    found = files["find-data.js"].decode()
    assert "Titelseite" in found
    assert not re.search(r'"(?:crew|engineer|everyone|Front page|Patch|Page)"', found)


def test_what_the_mirror_finds() -> None:
    page = ('<html lang="x-mirror"><p>⟦אב··⟧ Fiddle box/out 3</p>\n<p aria-label="left over">Signals</p>'
            '<p lang="en">English here</p><code>rigbook check</code></html>')
    assert mirror_text.strange(page, mirror_text.corpus(["name: Fiddle"])) == [(2, "left over"), (2, "Signals")]


PLAN = "plan: 1\nshow: Small\n{}units: {{desk: desk-16}}\n"


def test_a_plan_names_its_language_and_a_build_may_ask_for_another(compiled) -> None:
    got = compiled(PLAN.format("language: de\n"))
    assert b'<html lang="de" dir="ltr"' in make(got, "crew", find_theme("plain"))["index.html"]
    assert b'<html lang="fr" dir="ltr"' in make(got, "crew", find_theme("plain"), "fr")["index.html"]
    right_to_left = make(got, "crew", find_theme("plain"), mirror.LANGUAGE)
    assert b'<html lang="x-mirror" dir="rtl"' in right_to_left["index.html"]
    assert b"window.rigbookWords" in right_to_left["static/words.js"]


def test_a_house_names_the_language_for_its_shows(compiled) -> None:
    house = b"plan: 1\nvenue: Small hall\nlanguage: fr\nunits: {desk: desk-16}\n"
    got = compiled("plan: 1\nbuilds-on: house.yaml\nshow: Small\n", house__yaml=house)
    assert got.plan.language == "fr"
    got = compiled("plan: 1\nbuilds-on: house.yaml\nshow: Small\nlanguage: de\n", house__yaml=house)
    assert got.plan.language == "de"


def test_an_unknown_language_is_a_finding_with_a_suggestion(compiled) -> None:
    (found,) = compiled(PLAN.format("language: dde\n")).findings
    assert (found.check, found.primary.span.line, found.remedy) == ("wrong-value", 2, "write `de`")


def test_english_loads_no_babel() -> None:
    """English builds do not pay for the other languages."""
    program = ("import sys\nfrom rigbook.cli import main\n"
               "main(['build', 'shows/chapel/lessons-and-songs.yaml', '--out', sys.argv[1]])\n"
               "sys.exit(any(m.partition('.')[0] == 'babel' for m in sys.modules))")
    import tempfile

    with tempfile.TemporaryDirectory() as out:
        done = subprocess.run([sys.executable, "-c", program, f"{out}/site"], cwd=ROOT, capture_output=True, text=True,
                              timeout=300, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_plain_phrases_are_the_same_text_said_anew() -> None:
    """In English a phrase without amounts or fractions is not put together again; what that gives is the same."""
    anew = replace(ENGLISH, language="x-anew")
    inner = phrase("%(a)s beside %(b)s", a="Kick", b=3)
    every = [inner, counted(2, "%(num)s cable of %(what)s", "%(num)s cables of %(what)s", what=inner),
             joined((inner, "x", counted(1, "%(num)s box", "%(num)s boxes")), "; "), phrase("80 %"), held("12 m of it")]
    for said in every:
        assert said.plain and ENGLISH.words(said) == anew.words(said) == str(said)
    for said in (phrase("%(a)s up", a=1.5), joined((inner, phrase("%(a)s", a=Amount("2.5", "m"))))):
        assert not said.plain


def test_signs_between_two_texts_have_the_spaces_of_their_language() -> None:
    """Source: Lexique des règles typographiques en usage à l'Imprimerie nationale: a space before `;` and `:`."""
    row = joined(("a", joined(("b", "c"), ": ")), "; ")
    assert [tongue(code).words(row) for code in ("en", "de", "fr")] == ["a; b: c", "a; b: c", "a\u202f; b\u00a0: c"]
    assert tongue(mirror.LANGUAGE).words(row) == "a; b: c"


def test_the_catalogue_tool_sets_spaces_and_leaves_what_is_typed() -> None:
    said = "écrire `100 Hz: x` ; 3 dB, « oui » : non ?"
    assert catalogue.spaced("fr", said) == (
        "écrire `100 Hz: x`\u202f; 3\u00a0dB, «\u00a0oui\u00a0»\u00a0: non\u202f?")
    assert catalogue.spaced("de", "%(n)s A, A-bewertet; %(level)s A-bewertet") == (
        "%(n)s\u00a0A, A-bewertet; %(level)s A-bewertet")


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_typed_is_the_same_in_every_language(language: str) -> None:
    """What stands between backticks goes into a plan: with its plain spaces, points and all."""
    wrong = []
    for message in catalogue.read(catalogue_file(language)):
        ids = message.id if isinstance(message.id, tuple) else (message.id,)
        strings = message.string if isinstance(message.string, tuple) else (message.string,)
        for said in strings if message.id else ():
            typed = [sorted(re.findall("`[^`]+`", text)) for text in (*ids, said)]
            wrong += [said] if typed[-1] not in typed[:-1] else []
    assert wrong == []


def test_a_build_says_which_language_a_plan_chose(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("plan: 1\nshow: Small\nlanguage: de\nunits: {desk: {kind: desk-16, spare: yes}}\n", "utf-8")
    main(["build", str(plan), "--out", str(tmp_path / "own")])
    main(["build", str(plan), "--out", str(tmp_path / "asked"), "--language", "fr"])
    own, asked = [line for line in capsys.readouterr().out.splitlines() if line.startswith("wrote")]
    assert " in German, open " in own
    assert " in " not in asked.partition(str(tmp_path))[2]


def test_no_page_and_no_script_joins_with_a_sign_of_english() -> None:
    """French sets a no-break space before ; and : (Imprimerie nationale, from memory), so they go by the language."""
    for file in sorted((ROOT / "themes").rglob("*")):
        if file.suffix in (".html", ".js"):
            assert not re.search(r'%}[;:] |join\("[;:] "\)', file.read_text("utf-8")), file
