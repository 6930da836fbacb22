"""Text for a terminal: paragraphs that keep to 80 columns."""

import textwrap


def paragraph(text: str, indent: str = "", then: str | None = None) -> list[str]:
    """Return a paragraph wrapped to 80 columns; `then` is the indent of the lines after the first."""
    after = indent if then is None else then
    return textwrap.wrap(
        text,
        80,
        initial_indent=indent,
        subsequent_indent=after,
        break_long_words=False,
        break_on_hyphens=False,
    )
