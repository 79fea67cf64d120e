"""Two colours of a theme that are hard to tell apart.

*What it finds*
Colours of a theme, or of the venue's own lines in `theme.yaml`, in which text on its ground has a contrast below 4.5:1,
or a line or frame that says something below 3:1, in light or in dark.

*Why it matters on stage*
The page is read on a phone in the dark, in the sun, from arm's length, and by people with weak eyes.

*Put it right*
Make one of the two colours lighter or darker. What a colour is called does not count, only how light it is.

*Fails*
    extends: plain
    colours: {soft: {light: "#999999"}}

*Passes*
    extends: plain
    colours: {soft: {light: "#555555"}}

*Source*
WCAG 2.2, 1.4.3 Contrast (Minimum) and 1.4.11 Non-text Contrast.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.WARNING
