"""Graph: a resolved plan to one directed multigraph of sockets, channels, bus legs and boxes.

In: a `Plan`. Out: a `Rig`: the plan, the networkx MultiDiGraph, and answers to what reaches what and by which way.

The table of node and edge kinds is `kinds.py`. Only this room and those above it import networkx, and only
when a plan is compiled. Nothing here judges; nothing here prints.
"""
