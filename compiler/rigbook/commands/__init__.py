"""Commands: one verb a file. Each has `options(parser)` and `run(args) -> exit code`, and prints.

In: arguments. Out: text on the terminal, files where the user said, an exit code.

A command holds no knowledge of plans: it calls the pipeline and the renderers.
"""
