"""Walk: the test that proves a rig, derived from its graph.

In: a `Rig`. Out: steps (what to play, where to stand, what must be heard and what must not), the line check of the
inputs, and what a fault would change in them.

Nothing here renders; nothing here is written by hand for a particular rig.
"""
