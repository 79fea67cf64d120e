"""Plan: records of several files to one plan whose names are resolved.

In: the path of a plan. Out: a frozen `Plan` (units with their kinds, channels, buses, outputs, cables between
sockets that exist), the sources it was read from, and findings.

A show changes a house item only by saying so; paths never leave the repository. A name that is nearly right is
reported and read as the name that was meant, so that its consequences are not reported too.
"""
