"""The table of facts as a whole: nothing in it contradicts itself, and the guide to rules says the same."""

from pathlib import Path

import pytest

from prepadvisor.cases import CATEGORIES, FACTS, NUMBERS, ORDER, TABLE, Category, Facts, NumberFact
from prepadvisor.standards import in_words

GUIDE = Path(__file__).parents[2] / "rules/README.md"


def row(fact: Category | NumberFact) -> str:
    """Return a fact's line in the guide to rules."""
    if isinstance(fact, NumberFact):
        return f"| `{fact.name}` | {fact.explains} |"
    values = (" < " if fact.ordered else ", ").join(str(value).lower() for value in fact.stated)
    return f"| `{fact.name}` | {fact.explains.format(values)} |"


def test_the_guide_has_the_table_as_it_is() -> None:
    """Every row of rules/README.md, in the table's order; write these where it fails."""
    guide = GUIDE.read_text("utf-8")
    table = "| fact | values |\n|---|---|\n" + "\n".join(map(row, TABLE)) + "\n"
    assert table in guide, f"the guide's table of facts should be\n{table}"


def test_no_two_facts_are_asked_at_once() -> None:
    """Ranks are each other's, so that the order of an audit is settled."""
    assert len({fact.rank for fact in TABLE}) == len(TABLE)
    assert sorted(ORDER) == sorted(FACTS)


def test_an_audit_asks_numbers_last() -> None:
    """Numbers are cut into many ranges: the diagrams stay small if they come last."""
    assert max(fact.rank for fact in CATEGORIES) < min(fact.rank for fact in NUMBERS)


def test_start_values_are_values() -> None:
    """What most jobs have is something the fact can be; numbers start unknown."""
    start = Facts()
    assert all(start[fact.at] in fact.values for fact in CATEGORIES)
    assert all(start[fact.at] is None for fact in NUMBERS)


@pytest.mark.parametrize("fact", TABLE, ids=FACTS)
def test_every_fact_has_words_for_every_value(fact: Category | NumberFact) -> None:
    """No value is told by an empty phrase, and two values are told apart."""
    values = fact.values if isinstance(fact, Category) else ("unknown", "known", "> 5")
    told = [in_words({fact.name: [value]}) for value in values]
    assert all(told)
    assert len(set(told)) == len(values)
