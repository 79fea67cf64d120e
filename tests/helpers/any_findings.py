"""One finding with every field filled, and a strategy for any findings."""

from __future__ import annotations

from hypothesis import strategies as st

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE, Span

FINDING = Finding(
    "unfed-output",
    Severity.ERROR,
    "no bus feeds `box/out 5`",
    Label(Span("a.yaml", 40, 6, 40, 15), "this cable carries nothing"),
    (Label(Span("b.yaml", 21, 9, 21, 18), "another"), Label(NOWHERE, "nowhere")),
    "mix-2 -> box/out 5",
    "the wedge stays silent",
    "patch the cable",
    frozenset({"box/out 5", "amp"}),
)

TEXT = st.text(max_size=12)
SPAN = st.builds(Span, TEXT, *[st.integers(0, 99)] * 4)
LABEL = st.builds(Label, SPAN, TEXT)
FINDINGS = st.lists(
    st.builds(
        Finding,
        st.from_regex(r"[a-z]+(-[a-z0-9]+)*", fullmatch=True),
        st.sampled_from(Severity),
        st.text(min_size=1, max_size=12),
        LABEL,
        st.lists(LABEL, max_size=3).map(tuple),
        TEXT,
        TEXT,
        TEXT,
        st.frozensets(TEXT, max_size=3),
    ),
    max_size=4,
)
