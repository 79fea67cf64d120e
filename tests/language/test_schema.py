"""The schema, the reference and the reader say the same: all three are made from the table of keys."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from rigbook.findings.place import Source
from rigbook.language.groups import MapOf
from rigbook.language.keys.plan import PLAN, SHAPES
from rigbook.language.read import read_plan
from rigbook.language.reference import reference
from rigbook.language.schema import schema
from rigbook.language.shape import Shape
from rigbook.text.yaml_reader import read

jsonschema = pytest.importorskip("jsonschema")
ROOT = Path(__file__).parents[2]
# a show's own theme lies beside its plan, and is none
SHOWS = (p for p in ROOT.glob("shows/**/*.yaml") if p.name != "theme.yaml")
PLANS = sorted(SHOWS) + sorted(ROOT.glob("compiler/rigbook/gear/*/*.yaml"))


def errors(text: str) -> list[str]:
    """What the schema finds wrong, with scalars as typed (as an editor's YAML server reads them, but for numbers)."""
    tree = yaml.load(text, Loader=yaml.BaseLoader)
    return [e.message for e in jsonschema.Draft202012Validator(schema()).iter_errors(tree)]


def test_is_a_schema() -> None:
    """Source: JSON Schema 2020-12, its own meta-schema as the jsonschema package ships it."""
    jsonschema.Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_shipped_plans_fit_the_schema(path: Path) -> None:
    assert errors(path.read_text()) == []


@pytest.mark.parametrize("path", [p for p in PLANS if "gear" in p.parts], ids=lambda p: p.stem)
def test_shipped_plans_fit_when_numbers_are_numbers(path: Path) -> None:
    """Editors read `1:` and `12` as integers: the schema takes them too, apart from keys, which JSON makes strings."""
    import json

    tree = json.loads(json.dumps(yaml.safe_load(path.read_text()), default=str))
    assert [e.message for e in jsonschema.Draft202012Validator(schema()).iter_errors(tree)] == []


@pytest.mark.parametrize(
    "text",
    [
        "plan: 1\nunitz: {}",
        "plan: 1\nunits: {a: {kind: b, colour: red}}",
        "plan: 1\nunits: {a: {at: 4 m left}}",
        "plan: 1\nbuses: {main: {role: chorus}}",
        "plan: 1\ninputs: {1: {from: box/in 1}}",
        "plan: 1\nwiring: {xlr: [a b]}",
        "units: {}",
    ],
)
def test_what_the_schema_refuses_the_reader_refuses(text: str) -> None:
    assert errors(text)
    node, wrong = read(Source("plan.yaml", text))
    _, more = read_plan(node)
    assert [*wrong, *more]


def test_every_key_is_described() -> None:
    for shape in SHAPES:
        for key in shape.keys:
            assert key.help and key.example, f"{shape.name}.{key.name}"
            assert schema()["$defs"][shape.name.replace(" ", "-")]


def test_the_reference_says_what_holds_where_a_key_is_left_out() -> None:
    rows = [line for line in reference().splitlines() if line.startswith("| `")]
    assert len(rows) == sum(len(shape.keys) for shape in SHAPES)
    assert [row for row in rows if row.endswith("|  |")] == []
    assert sum(row.endswith("| must be given |") for row in rows) == sum(k.required for s in SHAPES for k in s.keys)


def test_every_shape_is_listed() -> None:
    """A group that a key leads to stands in `SHAPES`, so it is in the schema and in the reference."""

    def reached(value: object) -> list[Shape]:
        if isinstance(value, Shape):
            return [value, *(s for k in value.keys for s in reached(k.value))]
        inner = getattr(value, "value", None) if isinstance(value, MapOf) else getattr(value, "item", None)
        return reached(inner) if inner is not None else []

    assert {s.name for s in reached(PLAN)} == {s.name for s in SHAPES}


def test_reference_on_disk_is_current() -> None:
    """`rigbook schema --reference > compiler/docs/reference.md` after a change of keys."""
    assert (ROOT / "compiler/docs/reference.md").read_text() == reference()
