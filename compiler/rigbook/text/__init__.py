"""Text: bytes to a tree that knows its places, and Markdown notes to HTML.

In: a file's bytes. Out: a tree of scalars, mappings and lists with spans, and findings on what could not be read.

Nothing here knows the plan language; nothing here raises for a user's mistake; a value that failed becomes
`Broken`, made only by code that has just appended a finding.
"""
