"""The report of a fit: worked out from files, and set as text and as pages."""
