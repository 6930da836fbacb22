"""The shop's day: all jobs of a folder, what waits at each, and what the day needs."""
