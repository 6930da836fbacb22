"""Dialogs answer: each is typed by the answer it returns, None where it was left with Esc."""
