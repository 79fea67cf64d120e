"""Checks: what the compiler finds wrong with a rig. One module a check; its docstring is its explanation.

In: a `Rig`. Out: findings. `run.py` runs them all, drops what is only the consequence of another finding and what
the plan accepts; `catalogue.py` reads the docstrings for `explain` and the Checks page.

A check never prints, never changes the rig, never calls `physics/`. Adding one touches its module and its test page.
"""
