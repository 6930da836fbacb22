"""Cards to work from: one sheet of facts, printed as text, page, PDF or JSON."""

from prepadvisor.cards.write import write_card

__all__ = ["write_card"]
