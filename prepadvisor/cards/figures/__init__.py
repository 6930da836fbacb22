"""Drawings of a card as plain geometry, one for all renderers."""
