"""Lines of a rule as a lead would write them, sentences that name other grades, and findings as records."""

from dataclasses import FrozenInstanceError, replace
from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.records import BookColour, Grade
from prepadvisor.standards import (
    Audit,
    Finding,
    NoGradeError,
    audit,
    read_set,
    read_when,
    rule_text,
    tightened,
)
from prepadvisor.standards.engine import Engine, Example, Impossible, Rule, box_of
from prepadvisor.standards.language.as_words import quoted, set_line, when_line
from prepadvisor.standards.proof.audited import Audited
from prepadvisor.standards.proof.dead import unreachable
from prepadvisor.standards.proof.deciding import Decides, where_decides
from prepadvisor.standards.proof.slips import colours_not_in_book, failing_examples, says_otherwise

WHEN: list[tuple[dict[str, object], str]] = [
    ({}, "{ }"),
    ({"flake": ["fine"]}, '{ flake = "fine" }'),
    ({"flake": ["vapour"]}, '{ flake = "vapour" }'),
    ({"flake": ["solid"]}, '{ flake = "solid" }'),
    ({"flake": ["very-fine", "vapour"]}, '{ flake = ">= very-fine" }'),
    ({"flake": "> solid"}, '{ flake = ">= coarse" }'),
    ({"flake": ["solid", "coarse"]}, '{ flake = "<= coarse" }'),
    ({"flake": ["coarse", "medium"]}, '{ flake = ["coarse", "medium"] }'),
    ({"flake": {"not": "medium"}}, '{ flake = { not = "medium" } }'),
    ({"flake": {"not": ["medium", "fine"]}}, '{ flake = { not = ["medium", "fine"] } }'),
    ({"flake": ["solid", "medium", "vapour"]}, '{ flake = ["solid", "medium", "vapour"] }'),
    ({"role": ["repair", "blend"]}, '{ role = { not = "clear-only" } }'),
    ({"next": ["sealer", "base"]}, '{ next = ["sealer", "base"] }'),
    ({"stages": 3, "seen": False}, "{ stages = 3, seen = false }"),
    ({"stages": ">= 2"}, "{ }"),
    ({"zone": "<= colour"}, '{ zone = "<= colour" }'),
    ({"panel": "roof"}, '{ panel = "roof" }'),
    ({"panel": ["roof", "sill"]}, '{ panel = ["roof", "sill"] }'),
    ({"panel": {"not": "roof"}}, '{ panel = { not = "roof" } }'),
    ({"book": "hm-1"}, '{ book = "hm-1" }'),
    ({"book": {"not": ["hm-1", "hm-2"]}}, '{ book = { not = ["hm-1", "hm-2"] } }'),
    ({"film_um": "< 90"}, '{ film_um = "< 90" }'),
    ({"film_um": "<= 90"}, '{ film_um = "<= 90" }'),
    ({"film_um": "> 90"}, '{ film_um = "> 90" }'),
    ({"film_um": ">= 90.5"}, '{ film_um = ">= 90.5" }'),
    ({"film_um": "> 0"}, '{ film_um = "> 0" }'),
    ({"film_um": 90}, "{ film_um = 90 }"),
    ({"film_um": "90 .. 120"}, '{ film_um = "90 .. 120" }'),
    ({"film_um": "no reading"}, '{ film_um = "no reading" }'),
    ({"film_um": ["no reading", "< 90"]}, '{ film_um = ["no reading", "< 90"] }'),
]  # fmt: skip


@pytest.mark.parametrize(("when", "line"), WHEN, ids=lambda value: str(value)[:40])
def test_conditions_are_written_as_a_lead_would(when: dict[str, object], line: str) -> None:
    """The shortest way: one value, a run by its end, all but few, a list."""
    box, wrong = read_when(when, ())
    assert wrong == []
    assert when_line(box) == line


@pytest.mark.parametrize(
    ("settings", "line"),
    [
        ({"finish_coarsest": "P800", "risk_limit": 0.25}, '{ finish_coarsest = "P800", risk_limit = 0.25 }'),
        ({"bed_coats_max": 2, "wet_bed": "advised"}, '{ bed_coats_max = 2, wet_bed = "advised" }'),
        ({"notes": "Look."}, '{ notes = "Look." }'),
        ({"notes": ["Lamp.", "Look."]}, '{ notes = ["Lamp.", "Look."] }'),
    ],
)
def test_settings_are_written_as_a_lead_would(settings: dict[str, object], line: str) -> None:
    """Grades and words in quotes, numbers bare, several texts in a list."""
    read, wrong = read_set(settings, ())
    assert wrong == []
    assert set_line(read) == line


def test_a_rule_is_written_line_by_line() -> None:
    """With what it replaces last, where it does; quotes and backslashes are kept."""
    text = rule_text("own", 'Say "P800" \\ so.', box_of({}), {"wet_bed": "no"}, "x")
    assert text == (
        '[[rule]]\nid = "own"\nsays = "Say \\"P800\\" \\\\ so."\nwhen = { }\nset = { wet_bed = "no" }\n'
        'source = "x"\n'
    )
    assert rule_text("own", "x", box_of({}), {"wet_bed": "no"}, "x", "base").endswith('\nreplaces = "base"\n')
    assert quoted('a\\"') == '"a\\\\\\""'


SHELF = tuple(map(Grade, ("P1500", "P800", "P1000", "P800", "P1200")))


def test_a_tightened_rule_goes_up_the_shelf_by_rank_and_says_it() -> None:
    """Whatever order the shelf is in; every grade named in its sentence that changes is named anew."""
    own = Rule(
        "own", "By hand P800, else p 1000, never P600.", box_of({}),
        {"hand_coarsest": Grade("P800"), "finish_coarsest": Grade("P1000"), "finish_finest": Grade("P1500")},
        "x",
    )  # fmt: skip
    made = tightened(own, 1, SHELF)
    assert made.id == "our-own"
    assert made.set == {"hand_coarsest": "P1000", "finish_coarsest": "P1200"}
    assert made.steps == {"hand_coarsest": ("P800", "P1000"), "finish_coarsest": ("P1000", "P1200")}
    assert made.says == "By hand P1000, else P1200, never P600."
    assert tightened(own, 2, SHELF).set == {"hand_coarsest": "P1200", "finish_coarsest": "P1500"}
    with pytest.raises(NoGradeError, match="nothing 3 finer than P1000"):
        tightened(own, 3, SHELF)


@pytest.mark.parametrize(
    ("says", "is_told"),
    [
        ("P600 by DA.", True),
        ("P600 by DA, then P800.", False),
        ("Sand it fine.", False),
        ("p 800 by DA.", False),
        ("P801 by DA.", False),
        ("Part P8 of the book.", False),
    ],
)
def test_a_sentence_that_names_only_other_grades_is_told(says: str, *, is_told: bool) -> None:
    """One of those that are set is enough; a rule that sets none is not asked."""
    box = box_of({})
    own = Rule(
        "own", says, box, {"finish_coarsest": Grade("P800"), "wet_bed": "no"}, "x", "ours", "a.toml", 4
    )
    assert says_otherwise(own) == is_told
    assert not says_otherwise(own._replace(set={"wet_bed": "no"}))
    found = [each for each in audit(Engine([own])).findings if each.kind == "says"]
    assert len(found) == is_told
    for finding in found:
        assert finding.says == '"own" (a.toml:4) says P600 but sets finish_coarsest P800.'
        assert (finding.rules, finding.file, finding.line) == (("own",), "a.toml", 4)
    assert not [each for each in audit(Engine([own._replace(layer="base")])).findings if each.kind == "says"]


def test_colours_that_the_book_lacks_are_told_with_a_near_one(shipped_house: Any) -> None:
    """A note: no job meets that."""
    own = Rule(
        "own", "x", read_when({"book": ["hm-3", "hm-5"]}, ())[0], {"wet_bed": "no"}, "x", "o", "a.toml", 4
    )
    book = {"hm-3": BookColour(book="HM-3")}
    house = replace(shipped_house, engine=Engine([own]), book=book)
    (finding,) = colours_not_in_book(house)
    assert (finding.kind, finding.rules, finding.line) == ("dead", ("own",), 4)
    assert finding.says == '"own" (a.toml:4) asks for the colour "hm-5", which the colour book has not.'
    assert finding.mend == 'Did you mean "hm-3"?'
    without = list(colours_not_in_book(replace(house, book={})))
    assert [each.mend for each in without] == ["Put the colour into colours.toml."] * 2


def test_an_example_is_held_against_the_layers_up_to_its_own() -> None:
    """A layer above may tighten it; one that states what cannot be is told as that."""
    everywhere = box_of({})
    base = Rule("base", "x", everywhere, {"finish_coarsest": Grade("P800")}, "x")
    own = Rule("own", "x", everywhere, {"finish_coarsest": Grade("P1000")}, "x", "ours", rank=1)
    expect: dict[Any, object] = {"finish_coarsest": "P800", "notes": ("Look",), "holds": ()}
    examples = [
        Example({"flake": "fine"}, Facts(), expect, file="a.toml", line=1),
        Example({}, Facts(), {"finish_coarsest": "P800"}, "ours", "b.toml", 2, rank=1),
        Example({}, Facts(flake="solid"), {"finish_coarsest": "P800"}, file="c.toml", line=3),
        Example({}, Facts(), {"wet_bed": None, "notes": {"not": ("Stop",)}}, file="d.toml", line=4),
    ]
    cannot = [Impossible(box_of({"flake": ("solid",)}), "No solids here.")]
    found = failing_examples(Audited(Engine([base, own], cannot, examples=lambda: examples)))
    assert [(each.file, each.line, each.says) for each in found] == [
        ("a.toml", 1, 'An example expects notes "Look" but gets none.'),
        ("b.toml", 2, 'An example expects finish_coarsest P800 but gets P1000, by own.'),
        ("c.toml", 3, "An example states a case that cannot be: No solids here."),
        ("d.toml", 4, "An example expects wet_bed none but gets no."),
    ]  # fmt: skip
    assert found[0].limits == {"flake": ["fine"]}
    assert [each.rules for each in found] == [(), ("own",), (), ()]
    assert [each.cases for each in found] == [1] * 4


def test_findings_are_put_in_order_and_told_as_conditions() -> None:
    """Gravest kind first; notes are no errors; one value stands alone, several in a list."""
    kinds: list[Any] = ["dead", "shop", "gap", "says", "hold-gone"]
    findings = [Finding(kind, "x", "y") for kind in kinds]
    told = Audit((findings[0],), 1).with_more(findings[1:])
    assert [each.kind for each in told.findings] == ["hold-gone", "gap", "shop", "says", "dead"]
    assert not told.is_clean
    assert Audit((findings[0], findings[3]), 1).is_clean
    assert [each.is_error for each in findings] == [False, True, True, False, True]
    limits = {"flake": ["fine"], "zone": ["fade", "colour"]}
    assert Finding("gap", "x", "y", limits=limits).facts() == {"flake": "fine", "zone": ["fade", "colour"]}


def test_a_finding_says_where_it_is_and_claims_no_more_than_it_was_given() -> None:
    """File and line, by a shorter name where one is given; without a file, line, case or rule it has none."""
    bare = Finding("gap", "x", "y")
    assert (bare.rules, bare.file, bare.line, bare.cases, bare.paste, bare.key) == ((), "", 0, 0, "", ())
    placed = replace(bare, file="/shop/a.toml", line=4)
    assert [each.where() for each in (bare, placed, replace(placed, line=0))] == [
        "", "/shop/a.toml:4", "/shop/a.toml",
    ]  # fmt: skip
    assert [each.where("a.toml") for each in (bare, placed)] == ["a.toml", "a.toml:4"]
    assert replace(bare, line=4).where() == ""
    told = Audit((), 1)
    assert (told.living, told.living_is_exact, told.not_judged, told.is_clean) == (0, True, (), True)
    for each in (bare, told):
        with pytest.raises(FrozenInstanceError):
            each.cases = 1  # type: ignore[union-attr, misc]


def test_where_a_rule_decides_is_told_with_its_share() -> None:
    """All of it, a part that another one leaves, nowhere; words always."""
    always = Rule("all", "x", box_of({}), {"finish_finest": Grade("P1500"), "notes": ("Look.",)}, "x")
    strict = Rule("strict", "x", box_of({"flake": ("fine",)}), {"finish_finest": Grade("P1000")}, "x")
    equal = Rule("weak", "x", box_of({"flake": ("fine",)}), {"finish_finest": Grade("P1200")}, "x")
    audited = Audited(Engine([always, strict, equal]))
    whole = where_decides(Audited(Engine([always])), always)
    assert [(each.output, each.everywhere, each.limits) for each in whole] == [
        ("finish_finest", True, {}), ("notes", True, {}),
    ]  # fmt: skip
    first, _ = where_decides(audited, always)
    assert not first.everywhere
    assert 0 < first.cases < first.of
    assert first.limits is not None
    assert "fine" not in first.limits["flake"]
    (by_strict,), (by_weak,) = (where_decides(audited, each) for each in (strict, equal))
    assert by_strict.everywhere
    assert (by_weak.limits, by_weak.cases, by_weak.everywhere) == (None, 0, False)
    assert by_weak.of == by_strict.of == by_strict.cases


def test_each_text_of_a_rule_decides_and_what_meets_no_case_decides_nowhere() -> None:
    """Holds, cautions and notes each stand by themselves; "everywhere" needs a case."""
    own = Rule("own", "x", box_of({}), {"holds": ("Ask.",), "cautions": ("Hot.",), "notes": ("Look.",)}, "x")
    told = where_decides(Audited(Engine([own])), own)
    assert [(each.output, each.everywhere) for each in told] == [
        ("holds", True), ("cautions", True), ("notes", True),
    ]  # fmt: skip
    assert Decides("notes", {}, 1, 1).everywhere
    assert not Decides("notes", None, 0, 0).everywhere


def test_a_rule_that_no_case_meets_is_told_with_the_reason() -> None:
    """What cannot be, a value that is nobody's, a list with such a value, a case no card has."""
    cannot = [
        Impossible(box_of({"role": ("clear-only",), "zone": ("fade", "colour")}), "No colour there."),
        Impossible(box_of({"surface": ("bare",), "role": ("clear-only",)}), "Bare is primed."),
    ]

    def told(*rules: Rule) -> list[str]:
        return [finding.says for finding in unreachable(Audited(Engine(rules, cannot)))]

    def own(listed: tuple[str, ...] = (), **when: tuple[str, ...]) -> Rule:
        return Rule(
            "own", "x", box_of(when), {"wet_bed": "no"}, "x", "o", "a.toml", 4, listed=frozenset(listed)
        )

    assert told(own(role=("clear-only",), zone=("clear",))) == []
    assert told(own(role=("clear-only",), zone=("fade",))) == [
        '"own" (a.toml:4) meets no possible case (fade zone; clear-only panel). No colour there.'
    ]
    assert told(own(role=("clear-only",), surface=("bare",))) == [
        '"own" (a.toml:4) meets no possible case (clear-only panel; on bare). Bare is primed.'
    ]
    (listed,) = told(own(("zone",), role=("clear-only",), zone=("clear", "fade")))
    assert listed == (
        '"own" (a.toml:4) lists zone "fade", which no possible case has with its other conditions (fade '
        "zone; clear-only panel)."
    )
    assert told(own((), role=("clear-only",), zone=("clear", "fade"))) == []
    (nothing,) = told(own(flake=()))
    assert nothing.endswith("Nothing lies in its condition on flake.")
    (no_card,) = told(own(feature=("face",), reach=("hand",)))
    assert no_card.startswith(
        'No card ever meets "own" (a.toml:4) (face; by hand only): a job is judged before'
    )
