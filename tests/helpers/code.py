"""The package's own source, read as a tree: sizes of files and functions, values that a module keeps and changes."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

CHANGERS = frozenset({"add", "append", "appendleft", "clear", "discard", "extend", "insert", "pop", "popitem", "remove",
                      "reverse", "setdefault", "sort", "update"})
MAKERS = frozenset({"list", "dict", "set", "defaultdict", "Counter", "OrderedDict", "deque", "bytearray"})
DISPLAYS = (ast.List, ast.Dict, ast.Set, ast.ListComp, ast.DictComp, ast.SetComp)
Def = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Function:
    """A function and its length in lines, its docstring left out."""

    name: str
    file: str
    line: int
    length: int

    def __str__(self) -> str:
        return f"{self.length:4} lines  {self.file}:{self.line} {self.name}"


@dataclass(frozen=True)
class Module:
    """One source file, parsed."""

    path: Path
    file: str
    text: str
    tree: ast.Module

    @property
    def lines(self) -> int:
        """Lines of the file."""
        return self.text.count("\n")

    @property
    def head(self) -> str:
        """The docstring at its head."""
        return ast.get_docstring(self.tree) or ""


def modules(package: Path) -> list[Module]:
    """Every Python file of a package, by name."""
    texts = {path: path.read_text("utf-8") for path in sorted(package.rglob("*.py"))}
    return [Module(path, path.relative_to(package).as_posix(), text, ast.parse(text)) for path, text in texts.items()]


def functions(found: Iterable[Module]) -> list[Function]:
    """All functions and methods, the longest first."""
    every = [Function(node.name, module.file, node.lineno, _length(node))
             for module in found for node in ast.walk(module.tree) if isinstance(node, Def)]
    return sorted(every, key=lambda f: (-f.length, f.file, f.line))


def _length(node: Def) -> int:
    first, lines = node.body[0], (node.end_lineno or node.lineno) - node.lineno + 1
    if ast.get_docstring(node, clean=False) is not None:
        lines -= (first.end_lineno or first.lineno) - first.lineno + 1
    return lines


def public_functions(module: Module) -> list[str]:
    """Names of the functions that a module offers to others."""
    return [n.name for n in module.tree.body if isinstance(n, Def) and not n.name.startswith("_")]


def changed_values(found: Iterable[Module]) -> list[str]:
    """Lists, dicts and sets of a module's own level that some line changes, and names that a `global` rebinds."""
    every = list(found)
    kept = {module.file: set(_kept(module.tree)) for module in every}
    names = set().union(*kept.values())
    found = []
    for module in every:
        found += [f"{module.file}:{line} changes `{name}`, which a module keeps" for line, name in _changes(module.tree)
                  if name in kept[module.file] or (name in names and _imports(module, name))]
        found += [f"{module.file}:{node.lineno} rebinds {', '.join(node.names)} by `global`"
                  for node in ast.walk(module.tree) if isinstance(node, ast.Global)]
    return found


def open_values(found: Iterable[Module]) -> list[str]:
    """Lists, dicts and sets that stand at module level as themselves, not as a tuple or a frozen mapping."""
    return [f"{module.file}: `{name}`" for module in found for name in _kept(module.tree) if name != "__all__"]


def _kept(tree: ast.Module) -> Iterator[str]:
    for node in tree.body:
        if not isinstance(node, ast.Assign | ast.AnnAssign):
            continue
        targets = node.targets if isinstance(node, ast.Assign) else [node.target]
        value = node.value
        if isinstance(value, DISPLAYS) or (isinstance(value, ast.Call) and _last_name(value.func) in MAKERS):
            yield from (t.id for t in targets if isinstance(t, ast.Name))


def _last_name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def _imports(module: Module, name: str) -> bool:
    return any(isinstance(n, ast.ImportFrom) and any((a.asname or a.name) == name for a in n.names)
               for n in ast.walk(module.tree))


def _changes(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CHANGERS:
            yield node.lineno, _last_name(node.func.value)
        elif isinstance(node, ast.Assign | ast.Delete):
            yield from ((node.lineno, _last_name(t.value)) for t in node.targets if isinstance(t, ast.Subscript))
        elif isinstance(node, ast.AugAssign):
            target = node.target.value if isinstance(node.target, ast.Subscript) else node.target
            yield node.lineno, _last_name(target)
