"""A file that is not plain UTF-8.

*What it finds*
A file in another encoding than UTF-8, or with control characters in it. The rest is read on as far as it can be
guessed; what is no text at all is not read.

*Why it matters on stage*
Names with accents and dashes come out wrong, on labels too.

*Put it right*
Save the file as UTF-8: most editors offer it under `save with encoding`.

*Fails*
    plan: 1
    show: Fails \ufeff(a mark that cannot be seen stands before this bracket)

*Passes*
    plan: 1
    show: Passes

*Source*
RFC 3629; YAML 1.2.2, section 5.1.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
