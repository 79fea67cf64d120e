"""A plan as an editor with a YAML server sees it: scalars without quotes become numbers, truth values and null.

Source: YAML 1.2.2, 10.3.2 (core schema, tag resolution), and 10.2 for JSON, whose keys are texts.
"""

from __future__ import annotations

import re
from typing import Any

import yaml

_CORE = (
    (re.compile(r"null|Null|NULL|~|"), lambda _: None),
    (re.compile(r"true|True|TRUE|false|False|FALSE"), lambda text: text[0] in "tT"),
    (re.compile(r"[-+]?[0-9]+"), int),
    (re.compile(r"0o[0-7]+"), lambda text: int(text[2:], 8)),
    (re.compile(r"0x[0-9a-fA-F]+"), lambda text: int(text[2:], 16)),
    (re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?"), float),
)


def as_editor(text: str) -> Any:
    """The value of a document by the core schema."""
    return _value(yaml.compose(text, yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader))


def _value(node: Any) -> Any:
    match node:
        case yaml.MappingNode():
            return {key.value: _value(value) for key, value in node.value}
        case yaml.SequenceNode():
            return [_value(item) for item in node.value]
        case yaml.ScalarNode(style=None | ""):  # libyaml says `""` of a scalar without quotes
            return next((make(node.value) for form, make in _CORE if form.fullmatch(node.value)), node.value)
        case yaml.ScalarNode():
            return node.value
        case _:
            return None
