"""A picture that is not in the repository.

*What it finds*
A picture in a note whose file is not there, is no picture, is larger than 20 MB, or lies outside the repository.

*Why it matters on stage*
The handbook has a hole where the photograph of the patch bay should be.

*Put it right*
Put the file into the repository and write its path from the plan file. Capitals matter.

*Fails*
    plan: 1
    show: Fails
    notes: {Stage: {text: "![the stage](stage.png)"}}

*Passes*
    plan: 1
    show: Passes
    notes: {Stage: {text: "The stage has a trap door."}}

*Source*
The plan itself.
"""

from rigbook.findings.finding import Severity

SEVERITY = Severity.ERROR
