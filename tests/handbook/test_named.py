"""Names in running text lead to their places; text stays text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.handbook.named import carried, linked

PLACES = {
    "box": "p#u-box",
    "box/in 3": "p#s-box-in-3",
    "amp": "p#u-amp",
    "amp/out A": "p#s-amp-out-A",
    "sub-1": "p#u-sub-1",
}


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("box, amp", ["box", "amp"]),
        ("left: box/in 3, into sub-1", ["box/in 3", "sub-1"]),
        ("amp/out A clips first", ["amp/out A"]),
        # a port that the plan does not name: the unit alone would promise a place that is not meant
        ("box/in 4", []),
        ("box-2 and sub-10", []),
        ("boxes", []),
        ("`box` is muted", ["box"]),
        ("<b>box</b> & co", ["box"]),
        ("", []),
    ],
)
def test_what_leads_somewhere(text: str, names: list[str]) -> None:
    assert re.findall(r"<a href=[^>]*>([^<]*)</a>", linked(text, PLACES)) == names


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Fiddle", ["Fiddle"]),
        ("Fiddle 2, Piano left and 3 more", ["Fiddle 2", "Piano"]),
        ("main left", ["main"]),
        ("Fiddler", []),
    ],
)
def test_what_is_carried_leads_to_its_channel(text: str, names: list[str]) -> None:
    channels = {"Fiddle": "p#c-1", "Fiddle 2": "p#c-2", "Piano": "p#c-3"}
    assert re.findall(r"<a href=[^>]*>([^<]*)</a>", carried(text, {"main": "r#b-main"}, channels)) == names


@given(st.text("abox/in 3-`<&,", max_size=30))
def test_nothing_is_added_or_lost(text: str) -> None:
    from markupsafe import Markup

    said = Markup(re.sub(r"</?(a|code)\b[^>]*>", "", linked(text, PLACES))).unescape()
    assert said == (text if text.count("`") % 2 else text.replace("`", ""))
