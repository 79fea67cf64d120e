"""Handbook: a compiled plan to a folder of pages.

In: a `Compiled` plan and a view (crew, guest, public). Out: bytes by file name, then a folder, whole or not at all.

`pages/` says what is on each page (facts only, frozen records), `drawings/` makes SVG, the theme's templates
decide looks. What a view may not show is not in the page's data. No figure is typed here: it comes from the plan.
"""
