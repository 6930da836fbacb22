"""A card laid out: as text of 80 columns, as pages for HTML and PDF."""
