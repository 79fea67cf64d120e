"""Paper: the files of a handbook to PDF: one of the whole view, and one of each thing that is printed by itself.

In: the built files. Out: PDF bytes by file name. Nothing is read but those files and the machine's fonts, and nothing
here knows a plan: what a view may not show is in none of the files, so it is on no sheet.
"""
