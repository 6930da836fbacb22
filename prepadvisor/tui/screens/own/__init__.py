"""The shop's own numbers on screens: colour book, test panels, their fit, and what became of the work."""
