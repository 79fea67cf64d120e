"""The house rules: who imports whom, how long things are, and that every check, page and formula has its test."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

from helpers import code
from helpers.tools import ROOT

PACKAGE = ROOT / "compiler" / "rigbook"
TESTS = ROOT / "tests"
MODULES = code.modules(PACKAGE)
FILE_LIMIT, FUNCTION_LIMIT, P90_LIMIT = 300, 60, 30
HEAVY = ("networkx", "numpy", "contourpy", "jinja2", "markdown_it", "babel")
# put together here, so that this file does not hold what it looks for
FORBIDDEN = tuple("".join(parts) for parts in (
    ("/", "work/"), ("/tmp/", "venv"), ("../", "shared"), ("pypi", ".org"), ("python", "hosted"), ("npmjs", ".org"),
    ("deb.debian", ".org"), ("proxy.golang", ".org"), ("/root/", "."),
))


def test_a_room_imports_only_rooms_below_it() -> None:
    command = [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_each_room_says_what_comes_in_and_goes_out() -> None:
    """A room's `__init__.py` is a docstring of 5 to 12 lines and nothing else; folders inside a room may say less."""
    wrong = []
    for module in (m for m in MODULES if m.path.name == "__init__.py" and m.path.parent != PACKAGE):
        if len(module.tree.body) != 1 or not module.head:
            wrong.append(f"{module.file}: holds code, or says nothing")
        elif module.path.parent.parent == PACKAGE and not 5 <= module.head.count("\n") + 1 <= 12:
            wrong.append(f"{module.file}: {module.head.count(chr(10)) + 1} lines")
    assert not wrong, "\n".join(wrong)


def test_classes_are_made_cheaply() -> None:
    """`records.py` instead of `dataclasses`, which took a quarter of a cold check; `records.py` says why."""
    found = [m.file for m in MODULES if re.search(r"^\s*(?:from|import) dataclasses\b", m.text, re.M)]
    assert not found, "\n".join(found)


def test_files_are_short() -> None:
    wrong = [f"{m.lines} lines: {m.file}" for m in MODULES if m.lines > FILE_LIMIT]
    assert not wrong, "\n".join(wrong)


def test_functions_are_short() -> None:
    every = code.functions(MODULES)
    worst = "\n".join(map(str, every[:10]))
    p90 = every[len(every) // 10].length
    print(f"{len(every)} functions, p90 {p90} lines; the longest:\n{worst}")
    assert every[0].length <= FUNCTION_LIMIT, worst
    assert p90 < P90_LIMIT, worst


def test_no_module_keeps_a_value_that_changes() -> None:
    found = code.changed_values(MODULES)
    assert not found, "\n".join(found)


def test_constants_are_tuples_and_frozen_mappings() -> None:
    found = code.open_values(MODULES)
    assert not found, "\n".join(found)


def test_every_check_has_a_page_and_every_page_a_check() -> None:
    checks = {f"{m.path.parent.name}/{m.path.stem.replace('_', '-')}" for m in MODULES
              if m.file.startswith("checks/") and m.file.count("/") == 2 and not m.path.name.startswith("_")
              and m.path.parent.name != "themes"}  # found in themes, not in plans
    pages = {p.relative_to(TESTS / "checks").with_suffix("").as_posix() for p in (TESTS / "checks").rglob("*.md")}
    assert checks, "no checks"
    assert sorted(checks - pages) == [], "checks without a page"
    assert sorted(pages - checks) == [], "pages without a check"


@pytest.mark.parametrize("folder", ["handbook/pages", "handbook/drawings", "commands", "physics"])
def test_every_module_is_tested(folder: str) -> None:
    """A test file of its own name in the room's test folder, or a mention of the module in some test of the room."""
    room = folder.partition("/")[0]
    tests = "\n".join(p.name + "\n" + p.read_text("utf-8") for p in sorted((TESTS / room).rglob("*.py")))
    names = [m.path.stem for m in MODULES if str(Path(m.file).parent) == folder and not m.path.name.startswith("_")]
    assert names, f"nothing in {folder}"
    assert [n for n in names if not re.search(rf"\b(?:test_)?{n}\b", tests)] == []


def test_every_formula_has_check_values() -> None:
    """Each public function of `physics/` is named in a row of published or independently computed values."""
    rows = "\n".join(p.read_text("utf-8") for p in sorted((TESTS / "check_values").glob("*.json")))
    names = [name for m in MODULES if m.file.startswith("physics/") and not m.path.name.startswith("_")
             for name in code.public_functions(m)]
    assert names, "no formulas"
    assert [n for n in names if not re.search(rf"\b{n}\b", rows)] == []


@pytest.mark.parametrize("arguments", ["--help", "explain silent-speaker", "schema", "no-such-verb"])
def test_quick_answers_load_nothing_heavy(arguments: str) -> None:
    program = ("import sys\nfrom rigbook.cli import main\ntry:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
               f"sys.stderr.write('loaded: ' + ' '.join(m for m in {HEAVY!r} if m in sys.modules))")
    done = subprocess.run([sys.executable, "-c", program, *arguments.split()], capture_output=True, text=True,
                          timeout=60, check=False)
    assert done.stderr.endswith("loaded: "), done.stderr
    assert "Traceback" not in done.stderr


def test_the_tree_names_no_machine() -> None:
    """No path of someone's machine and no registry's address: where things are installed from is each machine's own."""
    command = ["git", "ls-files", "-co", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\0")
    found = []
    for name in filter(None, listed):
        file = ROOT / name
        if file.is_file():
            text = file.read_bytes().decode("utf-8", "replace")
            found += [f"{name}: {word}" for word in FORBIDDEN if word in text]
    assert not found, "\n".join(found)


CHANGING = """
from typing import Final
SEEN = []
NAMES: dict[str, int] = dict()
FIXED = (1, 2)
COUNT = 0

def note(x):
    SEEN.append(x)
    NAMES["x"] = 1
    global COUNT
    own = []
    own.append(FIXED)
"""


def test_the_reading_of_code_finds_what_it_is_for() -> None:
    module = code.Module(Path("m.py"), "m.py", CHANGING, ast.parse(CHANGING))
    assert sorted(code.changed_values([module])) == [
        "m.py:10 changes `NAMES`, which a module keeps", "m.py:11 rebinds COUNT by `global`",
        "m.py:9 changes `SEEN`, which a module keeps"]
    assert code.open_values([module]) == ["m.py: `SEEN`", "m.py: `NAMES`"]
    assert [(f.name, f.length) for f in code.functions([module])] == [("note", 6)]
