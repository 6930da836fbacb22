"""The guide for leads: what it shows is right, so that a copied rule works."""

import re
from pathlib import Path

import pytest
import tomli

from prepadvisor.cases.facts import CATEGORIES, CATEGORY, NUMBER
from prepadvisor.files.paths import rules_dir
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.examples import shortfalls
from prepadvisor.standards.layers import RuleSource, build
from prepadvisor.standards.outputs import OUTPUTS

GUIDE = Path(__file__).parents[2] / "rules" / "README.md"
SHOWN = re.findall(r"```toml\n(.*?)```", GUIDE.read_text("utf-8"), re.DOTALL)


def base() -> list[RuleSource]:
    """Read the shipped rule files."""
    files = sorted((rules_dir() / "base").glob("*.toml"))
    return [RuleSource(file.name, "base", tomli.loads(file.read_text("utf-8"))) for file in files]


def over_the_base(text: str) -> Engine:
    """Lay what the guide shows over the shipped rules."""
    return build([*base(), RuleSource("shown.toml", "house", tomli.loads(text))])


@pytest.mark.parametrize("text", SHOWN, ids=range(len(SHOWN)))
def test_what_the_guide_shows_can_be_copied_into_a_house(text: str) -> None:
    """Every block loads over the base, changes what it says, and its examples come out."""
    engine = over_the_base(text)
    shown = [example for example in engine.examples if example.layer == "house"]
    assert [shortfalls(example, engine.decide(example.facts)) for example in shown] == [{} for _ in shown]


def test_the_guide_shows_each_kind_of_entry_a_house_may_write() -> None:
    """Rules, replacements, withdrawals, holds, examples and promises are all there to copy."""
    assert {key for text in SHOWN for key in tomli.loads(text)} == {
        "rule",
        "withdraw",
        "example",
        "promise",
    }


@pytest.mark.parametrize("word", [*CATEGORY, *NUMBER, *OUTPUTS])
def test_the_guide_lists_every_fact_and_output(word: str) -> None:
    """Each has its row in a table."""
    assert f"`{word}`" in GUIDE.read_text("utf-8")


@pytest.mark.parametrize("fact", [fact for fact in CATEGORY if fact != "seen"])
def test_the_guide_lists_the_values_of_a_fact_in_their_order(fact: str) -> None:
    """With < between them where there is an order."""
    category = CATEGORIES[CATEGORY[fact]]
    row = next(line for line in GUIDE.read_text("utf-8").splitlines() if line.startswith(f"| `{fact}` |"))
    values = [str(value) for value in category.values]
    if category.ordered:
        assert " < ".join(values) in row
    else:
        assert [value for value in values if not re.search(rf"(?<![\w-]){value}(?![\w-])", row)] == []
