"""A link or picture that may not stand in a note.

*What it finds*
A link with another beginning than `https:`, `http:`, `mailto:` or `tel:`, or one that begins with a slash; a picture
that would be loaded from elsewhere.

*Why it matters on stage*
The handbook is read without a network, and on other people's devices: it may neither load nor run anything.

*Put it right*
Link to a page, an address or a telephone number; put pictures into the repository.

*Fails*
    plan: 1
    show: Fails
    notes: {Notes: {text: "[the drive](file:///c:/notes.txt)"}}

*Passes*
    plan: 1
    show: Passes
    notes: {Notes: {text: "[the venue](https://example.org/hall)"}}

*Source*
Common practice.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
