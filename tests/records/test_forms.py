"""Every form of a card has its entry: what `--to` takes, how its file ends, how it is printed."""

from typing import get_args

from prepadvisor.records import FORMS, Form


def test_every_form_has_its_entry() -> None:
    """One left out is refused on the command line although its writer is there."""
    assert set(FORMS) == set(get_args(Form))
