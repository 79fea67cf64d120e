"""The floor: the least that a compiler of plans must do, in straight code without checks, words or design.

usage: floor.py [--check] [--jobs N] [--out FOLDER] [--rows N] [--sources N] PLAN...

For each plan: the C parser's events to a tree that keeps lines and columns; the signal graph; what each source reaches;
then (without `--check`) the notes from Markdown, twelve pages from Jinja2 with a cache of compiled templates, and
twelve files. It understands only what gen_plan.py writes.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path
from typing import Any

import networkx
import yaml

PAGES = tuple(f"page-{i:02}" for i in range(12))
BASE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{{ title }}</title>
<link rel="stylesheet" href="style.css"></head><body><header><p>{{ show }}</p><nav><ol>
{% for p in pages %}<li><a href="{{ p }}.html"{% if p == title %} aria-current="page"{% endif %}>{{ p }}</a></li>
{% endfor %}</ol></nav></header><main>{% block main %}{% endblock %}</main></body></html>"""
PAGE = """{% extends "base.html" %}{% block main %}<h1>{{ title }}</h1><svg viewBox="0 0 600 80" role="img">
{% for r in rows[:20] %}<rect x="{{ loop.index0 * 30 }}" y="20" width="24" height="{{ 10 + r.reach % 40 }}"/>
{% endfor %}
</svg><table><thead><tr><th>#</th><th>From</th><th>To</th><th>Kind</th><th>Reaches</th><th>Done</th></tr></thead>
<tbody>{% for r in rows %}<tr id="r{{ loop.index }}"{% if r.kind == 'cable' %} class="cable"{% endif %}>
<td>{{ loop.index }}</td><td><a href="#{{ r.a|replace(' ', '-') }}">{{ r.a }}</a></td>
<td><a href="#{{ r.b|replace(' ', '-') }}">{{ r.b }}</a></td>
<td>{{ r.kind }}</td><td>{{ r.reach }}</td><td><input type="checkbox" name="r{{ loop.index }}"></td></tr>
{% endfor %}</tbody></table><section>{{ notes }}</section>{% endblock %}"""


class Text(str):
    """A scalar that knows where it stood."""

    __slots__ = ("at",)


def read(data: bytes) -> Any:
    """Dicts, lists and `Text`, straight from the C parser's events."""
    get = yaml.CSafeLoader(data).get_event

    def node(event: Any) -> Any:
        kind = event.__class__
        if kind is yaml.ScalarEvent:
            text = Text(event.value)
            text.at = (event.start_mark.line, event.start_mark.column)
            return text
        if kind is yaml.MappingStartEvent:
            found = {}
            while (event := get()).__class__ is not yaml.MappingEndEvent:
                key = node(event)
                found[key] = node(get())
            return found
        items = []
        while (event := get()).__class__ is not yaml.SequenceEndEvent:
            items.append(node(event))
        return items

    get(), get()
    return node(get())


def graph(plan: Any) -> networkx.DiGraph:
    """Sources, sockets, channels, bus legs, cables, amplifier channels, boxes."""
    g = networkx.DiGraph()
    for number, channel in plan["inputs"].items():
        g.add_edge(f"source {channel['name']}", channel["from"], kind="plugged")
        g.add_edge(channel["from"], f"channel {number}", kind="patch")
        for send in channel["to"]:
            g.add_edge(f"channel {number}", send.partition(" ")[0], kind="send")
    for leg, sockets in plan["outputs"].items():
        g.add_edge(leg.partition(" ")[0], f"leg {leg}", kind="leg")
        for socket in sockets if isinstance(sockets, list) else [sockets]:
            g.add_edge(f"leg {leg}", socket, kind="patch")
    for name, unit in plan["units"].items():
        if unit == "bench-amp":
            for side in "AB":
                g.add_edge(f"{name}/in {side}", f"{name}/out {side}", kind="inside")
    for kind, cables in plan["wiring"].items():
        for cable in cables:
            ends, _, length = cable.partition(", ")
            a, _, b = ends.partition(" -> ")
            g.add_edge(a, b, kind="cable", cable=kind, length=length)
    return g


def environment(folder: Path) -> Any:
    """Jinja2 with its templates and their compiled form below `folder`."""
    import jinja2

    (folder / "compiled").mkdir(parents=True, exist_ok=True)
    for name, text in (("base", BASE), *((p, PAGE) for p in PAGES)):
        if not (folder / f"{name}.html").exists():
            (folder / f"{name}.html").write_text(text, "utf-8")
    return jinja2.Environment(autoescape=True, loader=jinja2.FileSystemLoader(folder), auto_reload=False,
                              bytecode_cache=jinja2.FileSystemBytecodeCache(str(folder / "compiled")))


def one(path: Path, out: Path | None, env: Any, markdown: Any, rows: int, sources: int) -> None:
    """The whole way for one plan; `out` None stops after the graph."""
    plan = read(path.read_bytes())
    g = graph(plan)
    first = [n for n in g if n.startswith("source ")] + list(plan["buses"])
    reach = {s: len(networkx.descendants(g, s)) for s in first[:sources]}
    if out is None:
        return
    from markupsafe import Markup

    edges = list(g.edges(data="kind"))[:rows]
    table = [{"a": a, "b": b, "kind": kind, "reach": reach.get(a, 0)} for a, b, kind in edges]
    notes = Markup("".join(markdown.render(text) for text in plan["notes"].values()))
    texts = [env.get_template(f"{p}.html").render(title=p, show=plan["show"], pages=PAGES, rows=table, notes=notes)
             for p in PAGES]
    out.mkdir(parents=True, exist_ok=True)
    for name, text in zip(PAGES, texts):
        (out / f"{name}.html").write_bytes(text.encode())


def main(arguments: list[str]) -> None:
    """Read the options, then each plan, in `--jobs` processes."""
    options = {"--jobs": "1", "--out": "", "--rows": "60", "--sources": "60"}
    for name in options:
        if name in arguments:
            at = arguments.index(name)
            options[name] = arguments[at + 1]
            del arguments[at:at + 2]
    check = "--check" in arguments
    plans = [Path(a) for a in arguments if a != "--check"]
    out = Path(options["--out"] or tempfile.mkdtemp())
    env = markdown = None
    if not check:
        from markdown_it import MarkdownIt

        env, markdown = environment(out / "templates"), MarkdownIt("commonmark").enable("table")

    rows, sources, jobs = int(options["--rows"]), int(options["--sources"]), int(options["--jobs"])

    def share(k: int) -> None:
        for n in range(k, len(plans), jobs):
            one(plans[n], None if check else out / str(n), env, markdown, rows, sources)

    children = []
    for k in range(1, jobs):
        if (child := os.fork()) == 0:
            share(k)
            os._exit(0)
        children.append(child)
    share(0)
    for child in children:
        assert os.waitpid(child, 0)[1] == 0


if __name__ == "__main__":
    main(sys.argv[1:])
