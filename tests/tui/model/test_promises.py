"""Promises made on the screens: whatever can be chosen is read as any promise of a rule file."""

from pathlib import Path

from prepadvisor.files import load_house, with_example
from prepadvisor.tui.model import promise_entry, promised_facts, promised_outputs, promised_where


def test_every_promise_that_can_be_made_is_read(tmp_path: Path) -> None:
    """Each answer along each fact in each place: none is refused, and all are there."""
    entries = [
        promise_entry(f"{output} along {fact} {where}", output, fact, where)
        for output in promised_outputs()
        for fact in promised_facts()
        for where in promised_where(fact)
    ]
    text = ""
    for entry in entries:
        text = with_example(text, None, entry, "promise")
    (tmp_path / "rules.toml").write_text(text, encoding="utf-8")
    own = [each for each in load_house(str(tmp_path)).engine.promises if each.layer != "base"]
    assert len(own) == len(entries)
