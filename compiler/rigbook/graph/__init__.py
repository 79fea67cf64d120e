"""Graph: a resolved plan to one directed multigraph of sockets, channels, bus legs and boxes.

In: a `Plan`. Out: a `Rig`: the plan, its net of nodes and edges (as a networkx MultiDiGraph: `Rig.graph`), and answers
to what reaches what and by which way.

The table of node and edge kinds is `kinds.py`. networkx is imported only when its graph is asked for, or where a
signal goes round in a loop. Nothing here judges; nothing here prints.
"""
