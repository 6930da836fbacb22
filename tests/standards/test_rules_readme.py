"""The guide for leads: its blocks add up to one house, and the check is clean after each."""

import re
from pathlib import Path
from typing import Any

import pytest
import tomli

from prepadvisor.cases import CATEGORIES, CATEGORY, NUMBER
from prepadvisor.files import load_house, start_house
from prepadvisor.standards import KINDS, House, audit_house, shortfalls
from prepadvisor.standards.engine import OUTPUTS

GUIDE = Path(__file__).parents[2] / "rules" / "README.md"
SHOWN: list[str] = re.findall(r"```toml\n(.*?)```", GUIDE.read_text("utf-8"), re.DOTALL)


def place_of(text: str) -> tuple[str, str]:
    """Return folder and file that a block says it stands in."""
    found = re.match(r"# ([\w-]+)/([\w.-]+)\n", text)
    assert found, f"a block does not say where it goes: {text[:60]}"
    return found[1], found[2]


def grown(folder: Path, blocks: int) -> House:
    """Make the house of the guide up to a block, as a lead would who follows it."""
    start_house(folder / "my-house")
    layers = [folder / "my-house"]
    for text in SHOWN[:blocks]:
        layer, name = place_of(text)
        if folder / layer not in layers:
            layers.append(folder / layer)
        (folder / layer).mkdir(exist_ok=True)
        (folder / layer / name).write_text(text, encoding="utf-8")
    return load_house(*layers)


@pytest.mark.parametrize("blocks", range(len(SHOWN) + 1))
def test_the_check_is_clean_after_each_block_of_one_growing_house(blocks: int, tmp_path: Path) -> None:
    """No error and no note, whatever stands there already."""
    house = grown(tmp_path, blocks)
    assert [f"{finding.kind}: {finding.says}" for finding in audit_house(house).findings] == []


def test_every_example_of_the_guide_comes_out(tmp_path: Path) -> None:
    """Of the whole house."""
    engine = grown(tmp_path, len(SHOWN)).engine
    own = [example for example in engine.examples if example.rank]
    assert own
    assert [shortfalls(each, engine.up_to(each.rank).decide(each.facts)) for each in own] == [{} for _ in own]


def test_the_guide_shows_each_kind_of_entry_a_house_may_write() -> None:
    """Rules, replacements, withdrawals, holds, examples, promises and the head are all there to copy."""
    entries: list[dict[str, Any]] = [tomli.loads(text) for text in SHOWN]
    keys = {key for entry in entries for key in entry}
    assert keys >= {"standards", "rule", "withdraw", "example", "promise", "rates", "pads"}
    rules = [rule for entry in entries for rule in entry.get("rule", ())]
    assert any("replaces" in rule for rule in rules)
    assert any("holds" in rule["set"] for rule in rules)
    assert any("lets_go" in each for entry in entries for each in entry.get("withdraw", ()))


@pytest.mark.parametrize("word", [*CATEGORY, *NUMBER, *OUTPUTS])
def test_the_guide_lists_every_fact_and_output(word: str) -> None:
    """Each has its row in a table."""
    assert f"`{word}`" in GUIDE.read_text("utf-8")


@pytest.mark.parametrize("kind", KINDS)
def test_the_guide_lists_every_kind_of_finding(kind: str) -> None:
    """With what it means and its mend."""
    assert re.search(rf"^\| [^|]*\b{kind}\b[^|]* \|", GUIDE.read_text("utf-8"), re.MULTILINE)


@pytest.mark.parametrize("fact", CATEGORY)
def test_the_guide_lists_the_values_of_a_fact_in_their_order(fact: str) -> None:
    """With < between them where there is an order."""
    category = CATEGORIES[CATEGORY[fact]]
    row = next(line for line in GUIDE.read_text("utf-8").splitlines() if line.startswith(f"| `{fact}` |"))
    values = [str(value).lower() if isinstance(value, bool) else str(value) for value in category.stated]
    if category.ordered:
        assert " < ".join(values) in row
    else:
        assert [value for value in values if not re.search(rf"(?<![\w-]){value}(?![\w-])", row)] == []
