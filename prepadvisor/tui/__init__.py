"""The terminal UI: it shows and asks; all thinking is in the rooms below."""
