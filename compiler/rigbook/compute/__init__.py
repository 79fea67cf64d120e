"""Compute: a rig to figures, one subject a file; the only caller of `physics/`.

In: a `Rig`. Out: `Results`, worked out subject by subject when asked for, so that a plan without places never pays
for the level map. Every figure carries its unit, its formula in words, what went in and what was assumed; what
cannot be known is `Missing`, with the reason.

Nothing here judges, and nothing here knows of pages. Checks and pages read figures and never call `physics/`.
"""
