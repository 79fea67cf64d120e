"""Every name that some finding bears has its module, and so its page and its explanation."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

from helpers.tools import ROOT
from rigbook.checks.catalogue import explain, names

PACKAGE = ROOT / "compiler" / "rigbook"
MAKERS = {
    "Finding", "fault", "problem", "add", "_add", "_finding", "finding", "_unreadable", "short", "Mistake", "Parsed",
}  # fmt: skip
"""Functions and classes that are given the name of a finding, at some place among what they are given."""
NAME = re.compile(r"[a-z]+(?:-[a-z]+)+")


def made(tree: ast.AST) -> Iterator[str]:
    """Names of findings that a module makes: first values and `check` of the makers, defaults of `check`."""
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)) if name in MAKERS:
                given = [*node.args, *(k.value for k in node.keywords if k.arg == "check")]
                yield from (a.value for a in given if isinstance(a, ast.Constant) and isinstance(a.value, str))
            case ast.AnnAssign(target=ast.Name(id="check"), value=ast.Constant(value=str(value))):
                yield value
            case ast.FunctionDef(args=args):
                every = [*args.posonlyargs, *args.args]
                defaults = zip(every[len(every) - len(args.defaults) :], args.defaults, strict=True)
                for arg, default in (*defaults, *zip(args.kwonlyargs, args.kw_defaults, strict=True)):
                    if arg.arg == "check" and isinstance(default, ast.Constant) and isinstance(default.value, str):
                        yield default.value


@cache
def everywhere() -> dict[str, set[str]]:
    """Names of findings with the files that make them."""
    out: dict[str, set[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        for value in made(ast.parse(path.read_text("utf-8"))):
            if NAME.fullmatch(value):
                out.setdefault(value, set()).add(path.relative_to(PACKAGE).as_posix())
    return out


def test_every_finding_is_in_the_catalogue() -> None:
    found = everywhere()
    assert len(found) > 80, "the reading of code finds too little"
    assert {name: files for name, files in found.items() if name not in names()} == {}


def test_every_check_is_made_somewhere() -> None:
    """No explanation of a finding that nothing makes."""
    found = everywhere()
    assert [name for name in names() if name not in found] == []


def test_a_module_without_find_is_made_elsewhere() -> None:
    """The explanation modules: an earlier stage makes what they explain."""
    for name, group in names().items():
        path = PACKAGE / "checks" / group / f"{name.replace('-', '_')}.py"
        tree = ast.parse(path.read_text("utf-8"))
        has_find = any(isinstance(n, ast.FunctionDef) and n.name == "find" for n in tree.body)
        own = path.relative_to(PACKAGE).as_posix()
        if not has_find:
            assert everywhere()[name] - {own}, name


def test_explanations_speak_the_same_way() -> None:
    for name in names():
        own = explain(name)
        assert own.title[0].isupper() and len(own.title) < 100, name
        parts = (own.part(h) for h in ("What it finds", "Why it matters on stage", "Put it right"))
        text = " ".join((own.title, *parts))
        assert not re.search(r"\b(?:node|graph|edge|safe|illegal|invalid)\b", text, re.I), name
