"""Passports: every number in rules/ says its unit, its source and how it is known, and claims no more."""

import csv
import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from prepadvisor.cases import numbers_of_class
from prepadvisor.planning import LineModel
from prepadvisor.records import MEANS, Grade, SeenFlake, Tool
from prepadvisor.standards import House, constants_stated, shop_stated, tally
from prepadvisor.standards.engine import OUTPUTS
from prepadvisor.standards.house import Stated

UNPUBLISHED = frozenset({"practice", "memory", "assumption", "measured", "chosen"})
"""Words that no publication stands behind."""

RULES: Final = Path(__file__).parents[2] / "rules"

SETTINGS: Final = {"risk_limit": "chosen-risk", "step_ratio_min": "chosen-step"}
"""Outputs that no painter could be asked for: probabilities of this program, and sums of its planner."""


def rules_stated(house: House) -> Iterator[Stated]:
    """Yield the grades and numbers that rules in force set, known as their rule's source is."""
    for rule in house.engine.rules:
        source = house.sources.get(rule.source)
        for name, value in rule.set.items():
            output = OUTPUTS[name]
            if not (output.is_grade or output.is_number) or isinstance(value, tuple):
                continue
            unit = "P grade" if output.is_grade else output.unit or "1"
            known = source.known if source else None
            yield Stated(
                name=f"{rule.id}.{name}",
                value=value,
                unit=unit,
                source=rule.source,
                known=known,
                note=source.note if source else "",
            )


def _data(name: str) -> dict[str, Any]:
    return tomllib.loads((RULES / name).read_text(encoding="utf-8"))


def _numbers(value: object, name: str = "") -> Iterator[str]:
    """Yield the dotted names of all numbers, list places left out."""
    if isinstance(value, dict):
        for key, below in value.items():
            yield from _numbers(below, f"{name}.{key}" if name else key)
    elif isinstance(value, list):
        for below in value:
            yield from _numbers(below, name)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield name


def test_every_number_of_the_outlines_has_a_passport() -> None:
    """Sizes, shapes and paths."""
    data = _data("panels.toml")
    assert set(_numbers(data["outline"])) == set(data["passport"])


def test_every_number_of_the_shop_has_a_passport_and_each_passport_a_number(shipped_house: House) -> None:
    """Single grades, such as an unsanded surface opens with, are numbers too."""
    data = _data("shop.toml")
    passports = data.pop("passport")
    first = {f"first_grade.{surface}" for surface in data["first_grade"]}
    single = {key for key, value in data.items() if isinstance(value, str) and re.fullmatch(r"P\d+", value)}
    assert set(_numbers(data)) | first | single == set(passports)
    assert {each.name for each in shop_stated(shipped_house)} == set(passports)


def test_every_number_of_a_rule_is_known_by_its_source(shipped_house: House) -> None:
    """No shipped rule rests on a publication: no open source has such grades."""
    stated = list(rules_stated(shipped_house))
    assert [each.name for each in stated if each.known not in {"practice", "chosen"} or not each.unit] == []


def test_settings_of_this_program_are_no_practice(shipped_house: House) -> None:
    """A risk limit is a probability of the own model, so nobody in a shop can know it."""
    for each in rules_stated(shipped_house):
        output = each.name.rpartition(".")[2]
        assert (each.known == "chosen") is (output in SETTINGS), each.name
        assert each.source == SETTINGS.get(output, "practice"), each.name


def test_what_is_chosen_says_what_another_choice_would_change(shipped_house: House) -> None:
    """In its own note, or in that of its register entry."""
    every = (*constants_stated(shipped_house), *shop_stated(shipped_house), *rules_stated(shipped_house))
    chosen = [each for each in every if each.known == "chosen"]
    assert [each.name for each in chosen if not re.search(r"\bwould\b", each.note)] == []
    assert len(chosen) >= 10


def test_nothing_unpublished_stands_under_a_publication(shipped_house: House) -> None:
    """And nothing published under a word for a guess."""
    for each in (*constants_stated(shipped_house), *shop_stated(shipped_house)):
        said = shipped_house.sources[each.source].known
        assert said in {None, each.known}, each.name
        assert (each.known in UNPUBLISHED) is (said is not None), each.name


def test_no_number_is_published_on_an_abstract(shipped_house: House) -> None:
    """An abstract may bound or widen a number; no number rests on one."""
    every = (*constants_stated(shipped_house), *shop_stated(shipped_house), *rules_stated(shipped_house))
    assert [each.name for each in every if "abstract" in shipped_house.sources[each.source].read] == []


def test_the_count_is_that_of_the_files(shipped_house: House) -> None:
    """Counted here from the TOML: every `known` of constants and of the shop's passports."""
    texts = [(RULES / name).read_text(encoding="utf-8") for name in ("constants.toml", "shop.toml")]
    found = Counter(word for text in texts for word in re.findall(r'[{,] known = "([a-z]+)"', text))
    counted = tally(shipped_house)
    assert {known: number for known, number in counted.counts.items() if number} == dict(found)
    assert counted.total == sum(found.values())


def test_the_guide_says_what_every_word_means() -> None:
    """One text: rules/README.md has the meanings of records/known.py, word for word."""
    guide = (RULES / "README.md").read_text(encoding="utf-8")
    assert [known for known, means in MEANS.items() if f"| `{known}` | {means} |" not in guide] == []


@pytest.mark.parametrize(
    ("flake", "bound_um", "grade"),
    [("coarse", 24.4, "P600"), ("medium", 14.1, "P800"), ("fine", 9.6, "P800")],
)
def test_a_median_beyond_its_sieve_bound_says_what_the_bound_would_change(
    shipped_house: House, flake: SeenFlake, bound_um: float, grade: Grade
) -> None:
    """ASTM D962 (tests/reference/flake_sieve.csv) through the live model: risks in the fade, no wet bed."""
    constants = shipped_house.constants
    model, note = LineModel(constants), constants.flake[flake].d50_um.note

    def risk(tool: Tool, cut: Grade, d50_um: float | None) -> str:
        numbers = numbers_of_class(constants, flake)
        assert numbers is not None
        if d50_um is not None:
            numbers = numbers._replace(d50_um=d50_um)
        return f"{model.estimate(numbers, tool, cut, 'fade', 0, 0.4).risk:.2f}"

    cuts: tuple[tuple[Tool, Grade], ...] = (("da-soft", grade), ("hand-pad", Grade("P1500")))
    for tool, cut in cuts:
        assert f"{risk(tool, cut, bound_um)} instead of {risk(tool, cut, None)} for {tool} {cut}" in note


def test_the_note_of_the_risk_limits_is_what_the_model_says(shipped_house: House) -> None:
    """The grades named there are the coarsest of the shipped shelf within each limit."""
    constants = shipped_house.constants
    model = LineModel(constants)

    def coarsest(flake: SeenFlake, tool: Tool, limit: float) -> str | None:
        numbers = numbers_of_class(constants, flake)
        assert numbers is not None
        shelf = shipped_house.shop.shelf
        table = model.table(numbers, [tool], shelf, "fade", 0, 0.4)
        return next((cut for cut in shelf if table[tool, cut].risk <= limit), None)

    asked: tuple[tuple[SeenFlake, Tool], ...] = (
        ("very-fine", "da-soft"),
        ("fine", "da-soft"),
        ("fine", "hand-pad"),
    )
    found = {
        (flake, tool): [coarsest(flake, tool, limit) for limit in (0.15, 0.25, 0.35)] for flake, tool in asked
    }
    assert found == {
        ("very-fine", "da-soft"): ["P1500", "P1000", "P1000"],
        ("fine", "da-soft"): ["P1000", "P800", "P600"],
        ("fine", "hand-pad"): [None, "P2000", "P1500"],
    }


def test_start_values_are_those_agreed(shipped_house: House) -> None:
    """Double entry: tests/reference/start_values.csv has every number of constants and shop once more.

    So a slip in rules/ is noticed, and a change is made on purpose.
    """
    table = RULES.parent / "tests/reference/start_values.csv"
    with table.open(encoding="utf-8", newline="") as file:
        agreed = {row["name"]: (row["value"], row["unit"], row["tag"]) for row in csv.DictReader(file)}
    found = {
        each.name: (each.value if isinstance(each.value, str) else f"{each.value:g}", each.unit, each.known)
        for each in (*constants_stated(shipped_house), *shop_stated(shipped_house))
    }
    assert found == agreed
