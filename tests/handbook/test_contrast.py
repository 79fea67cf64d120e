"""Contrast of a theme's colours: the formula against published ratios, and warnings at the line that sets a colour."""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

from helpers.tools import ROOT
from rigbook.checks.catalogue import explain
from rigbook.commands import build
from rigbook.findings.finding import Finding
from rigbook.handbook.colour import contrast, luminance, parse_colour
from rigbook.handbook.contrast import PAIRS, findings
from rigbook.handbook.themes import find_theme, shipped

README = (ROOT / "themes" / "README.md").read_text("utf-8")


def ratio(one: str, other: str) -> float:
    a, b = parse_colour(one), parse_colour(other)
    assert a is not None
    assert b is not None
    return contrast(a, b)


@pytest.mark.parametrize(("one", "other", "published"), [
    ("#767676", "#ffffff", 4.54),  # W3C, Understanding SC 1.4.3: the lightest grey that passes on white
    ("#777777", "#ffffff", 4.47),  # W3C, Understanding SC 1.4.3, cut and not rounded: does not pass
    ("#949494", "#ffffff", 3.03),  # W3C, Understanding SC 1.4.11
    ("#000000", "#ffffff", 21.0),  # WCAG 2.2, "contrast ratio": from 1 to 21
    ("#ffffff", "#ffffff", 1.0),
    ("#0000ff", "#ffffff", 8.59),  # common practice
])
def test_ratios_are_those_published(one: str, other: str, published: float) -> None:
    assert ratio(one, other) == pytest.approx(published, abs=0.01)
    assert ratio(one, other) == ratio(other, one)


def test_luminance_of_the_primaries() -> None:
    """WCAG 2.2, "relative luminance": the three factors of the formula."""
    assert [luminance(c) for c in ((255, 0, 0), (0, 255, 0), (0, 0, 255))] == pytest.approx([0.2126, 0.7152, 0.0722])


@pytest.mark.parametrize(("text", "parts"), [
    ("#a9c", (170, 153, 204)), ("#AA99CC", (170, 153, 204)), ("rgb(170 153 204)", (170, 153, 204)),
    ("rgb(170, 153, 204)", (170, 153, 204)), ("white", (255, 255, 255)), ("rgb(0 0 0 / .5)", None), ("#12345678", None),
    ("rgb(300 0 0)", None), ("mauve", None)])
def test_colours_as_written(text: str, parts: tuple[int, int, int] | None) -> None:
    assert parse_colour(text) == parts


@pytest.mark.parametrize("name", shipped())
def test_shipped_themes_are_readable(name: str) -> None:
    assert findings(find_theme(name)) == []


def own(folder: Path, **files: str) -> list[Finding]:
    for name, text in files.items():
        path = folder / name.replace("__", "/").replace("_dot_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return findings(find_theme(str(folder)))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path / "ours"


def test_a_venue_s_accent_is_judged_in_light_and_dark_at_its_line(folder: Path) -> None:
    found = own(folder, theme_dot_yaml='extends: plain\naccent: "#8a8a8a"\n')
    said = {f.message: f.primary.span.human() for f in found}
    # #8a8a8a on the light paper of `plain` by the formula of WCAG: 3.364; on its dark paper it is enough
    assert said["`link` on `paper` has a contrast of 3.36:1 in light, it needs 4.5:1"] == "ours/theme.yaml:2:1"
    assert all("in light" in m or "wash" in m or "target" in m for m in said), said
    assert {f.secondary[0].span.file for f in found} == {"theme:plain/static/tokens.css"}


def test_modes_are_judged_apart(folder: Path) -> None:
    found = own(folder, theme_dot_yaml='extends: plain\naccent: {light: "#7a2e4d", dark: "#552233"}\n')
    assert found
    assert all("in dark" in f.message for f in found)
    assert {f.primary.span.human() for f in found} == {"ours/theme.yaml:2:28"}


def test_a_token_sheet_is_judged_at_its_line(folder: Path) -> None:
    sheet = (find_theme("plain").layers[0][1] / "static" / "tokens.css").read_text("utf-8")
    assert sheet.count("--soft: #555a61") == 1
    found = own(folder, static__tokens_dot_css=sheet.replace("--soft: #555a61", "--soft: #999999"))
    line = sheet[: sheet.index("--soft: #555a61")].count("\n") + 1
    assert {(f.primary.span.file, f.primary.span.line + 1) for f in found} == {("ours/static/tokens.css", line)}
    assert {tuple(sorted(f.objects)) for f in found} == {("paper", "soft"), ("soft", "wash")}


def test_a_ground_of_ones_own_is_where_the_finding_is(folder: Path) -> None:
    found = own(folder, theme_dot_yaml='colours: {paper: {dark: "#777777"}}\n')
    assert {f.primary.span.human() for f in found} == {"ours/theme.yaml:1:19"}


def test_dark_stage_is_dark_without_a_choice(folder: Path) -> None:
    """A colour for dark is judged on black there, and one for light on the light paper alone."""
    found = own(folder, theme_dot_yaml='extends: dark-stage\naccent: {light: "#7a2e4d", dark: "#333333"}\n')
    assert found
    assert all("#333333" in f.primary.text for f in found)


def test_the_explanation_s_examples(tmp_path: Path) -> None:
    told = explain("low-contrast")
    for part, count in (("Fails", 1), ("Passes", 0)):
        found = own(tmp_path / part, theme_dot_yaml=textwrap.dedent(told.part(part)).strip() + "\n")
        assert ({f.check for f in found} == {"low-contrast"}) == bool(count)
        assert all(f.severity is told.severity for f in found)


def test_the_build_goes_on_and_says_so(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own(folder, theme_dot_yaml='extends: plain\naccent: "#8a8a8a"\n')
    plan, out = folder.parent / "plan.yaml", folder.parent / "site"
    plan.write_text("plan: 1\nshow: Small\nunits: {desk: desk-16}\n", "utf-8")
    import argparse

    parser = argparse.ArgumentParser()
    build.options(parser)
    options = ["--out", str(out), "--theme", "ours"]
    assert build.run(parser.parse_args([str(plan), *options])) == 0
    said = capsys.readouterr().out
    assert "[low-contrast]" in said
    assert 'accent: "#8a8a8a"' in said, "the line of the theme is shown"
    assert "#8a8a8a" in (out / "static" / "brand.css").read_text("utf-8")
    checks = (out / "checks.html").read_text("utf-8")
    assert checks.count('class="finding warning"') == said.count("[low-contrast]")
    assert "<mark>accent: &#34;#8a8a8a&#34;</mark>" in checks, "the line of the theme"
    assert "<figcaption>ours/theme.yaml:2:1" in checks and str(folder.parent) not in checks, "wherever it lies"
    assert 'id="check-low-contrast"' in checks, "and what the check means"
    assert build.run(parser.parse_args([str(plan), *options, "--fail-on", "warning"])) == 1


def test_the_contract_lists_what_is_held_to_a_ratio() -> None:
    rows = {(front, back, float(needed)) for line in README.splitlines()
            if line.startswith("| ") and line.rstrip().endswith(":1 |")
            for fronts, backs, needed in [[c.strip() for c in line.strip("| ").split("|")]]
            for front in fronts.replace("`", "").split(", ") for back in backs.replace("`", "").split(", ")
            for needed in [needed.partition(":")[0]]}
    assert rows == {tuple(p) for p in PAIRS}
