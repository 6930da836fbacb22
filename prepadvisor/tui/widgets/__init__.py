"""Widgets show and ask: they do not load, save, compute or decide."""
