"""Every fact of a card, already in words, in printing order."""
