"""Pages: one a file, each `page(book) -> Page | None`, facts for the template of the same name."""
