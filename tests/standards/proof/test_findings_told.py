"""What the audit says of two or three rules, in full: which are told, where to mend, in whose file."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from prepadvisor.records import Grade, OutputName
from prepadvisor.standards import Finding, build
from prepadvisor.standards.engine import Engine, Impossible, Promise, Rule, Setting, Withdraw
from prepadvisor.standards.engine.asides import Kept
from prepadvisor.standards.language.layers import RuleSource
from prepadvisor.standards.language.read_set import read_set
from prepadvisor.standards.language.read_when import read_when
from prepadvisor.standards.proof import audited as in_audited
from prepadvisor.standards.proof import collisions as in_collisions
from prepadvisor.standards.proof import dead as in_dead
from prepadvisor.standards.proof import gaps as in_gaps
from prepadvisor.standards.proof import promises as in_promises
from prepadvisor.standards.proof.audited import Audited, named, place_of
from prepadvisor.standards.proof.collisions import beds_nowhere, beds_too_thin, collisions, forbidden_beds
from prepadvisor.standards.proof.dead import dead_rules
from prepadvisor.standards.proof.gaps import gaps
from prepadvisor.standards.proof.promises import broken_promises
from prepadvisor.standards.proof.slips import holds_not_let_go, holds_over_most

EDGE = {"feature": "edge", "reach": "machine", "zone": "fade", "role": "blend"}
"""Cases of one line, so that what is said of them is short."""


def rule(name: str, layer: str = "base", when: Mapping[str, object] = EDGE, **sets: object) -> Rule:
    """Return a rule of a layer; it stands in a file called as the layer, in the line of its name's length."""
    box, wrong = read_when(when, ())
    settings, wrong_set = read_set(sets, ())
    assert (wrong, wrong_set) == ([], [])
    rank = 0 if layer == "base" else 1
    return Rule(name, "Says.", box, settings, "x", layer, f"{layer}.toml", len(name), rank=rank)


def findings(kind: str, *rules: Rule, **more: Any) -> list[Finding]:
    """Return the findings of a kind of some rules."""
    return found(kind, Engine(rules, **more))


PARTS: dict[str, tuple[Callable[[Audited], list[Finding]], ...]] = {
    "bed": (forbidden_beds, beds_too_thin),
    "no bed": (beds_nowhere,),
    "collision": (collisions,),
    "gap": (gaps, holds_over_most),
    "dead": (dead_rules,),
    "promise": (broken_promises,),
    "hold-gone": (holds_not_let_go,),
}
"""Each kind with what finds it: the whole audit would try lines to paste as well."""


def found(kind: str, engine: Engine) -> list[Finding]:
    """Return the findings of a kind of some standards."""
    audited = Audited(engine)
    return [finding for part in PARTS[kind] for finding in part(audited)]


@pytest.mark.parametrize(
    ("layers", "need", "coats", "says", "mend", "at"),
    [
        (("base", "base"), "required", 0, "requires", 'Leave these cases out of "bed": a bed', "base.toml"),
        (("ours", "base"), "required", 0, "requires", 'Take "bed" away, or its wet_bed: a bed', "ours.toml"),
        (("base", "ours"), "required", 0, "requires", 'out of "none", or write a rule of yours', "ours.toml"),
        (("ours", "ours"), "required", 0, "requires", 'out of "bed" or out of "none".', "ours.toml"),
        (("ours", "base"), "advised", 0, "advises", 'Take "bed" away, or its wet_bed: a bed', "ours.toml"),
        (("base", "base"), "advised", 0, "", "", ""),
        (("base", "ours"), "advised", 0, "", "", ""),
        (("ours", "ours"), "advised", 0, "", "", ""),
        (("ours", "base"), "no", 0, "", "", ""),
        (("ours", "base"), "required", 1, "", "", ""),
    ],
)
def test_a_bed_that_may_not_be_laid_is_told_unless_that_is_meant(
    layers: tuple[str, str], need: str, coats: int, says: str, mend: str, at: str
) -> None:
    """A house that lays none where the base only advises one means it; the other way round it is in vain."""
    rules = rule("bed", layers[0], wet_bed=need), rule("none", layers[1], bed_coats_max=coats)
    told = findings("bed", *rules)
    assert len(told) == bool(says)
    for finding in told:
        bed, none = (f"({layer}.toml:{line})" for layer, line in zip(layers, (3, 4), strict=True))
        assert f'"bed" {bed} {says} a wet bed, "none" {none} lets no coat' in finding.says
        assert finding.says.endswith("Such places are held." if need == "required" else "None is laid there.")
        assert mend in finding.mend
        assert (finding.file, finding.line) == (at, 3 if layers[0] in at else 4)
        assert finding.rules == ("bed", "none")
        assert finding.limits["feature"] == ["edge"]
        assert finding.cases > 0


@pytest.mark.parametrize(
    ("need", "least", "most", "is_told"),
    [("required", 3, 2, True), ("advised", 2, 1, True), ("required", 2, 2, False), ("no", 3, 2, False)],
)
def test_more_coats_at_least_than_at_most_is_told_where_a_bed_is_asked_for(
    need: str, least: int, most: int, *, is_told: bool
) -> None:
    """The same coats are no fault, and where no bed is asked for nobody counts them."""
    rules = (
        rule("bed", when=EDGE | {"flake": "vapour"}, wet_bed=need),
        rule("few", "ours", bed_coats_min=least), rule("many", bed_coats_max=most),
    )  # fmt: skip
    told = findings("bed", *rules)
    assert len(told) == is_told
    for finding in told:
        assert finding.says.startswith(
            f'"few" (ours.toml:3) asks for {least} coats of wet bed at least, "many" (base.toml:4) for '
        )
        assert finding.limits["flake"] == ["vapour"]
        assert (finding.rules, finding.file, finding.line) == (("few", "many"), "ours.toml", 3)
    assert findings("bed", *rules[1:]) == []
    none = rule("none", bed_coats_max=0)
    assert not [each for each in findings("bed", *rules[:2], none) if "few" in each.rules]


FADE: dict[str, object] = {**EDGE, "flake": ["vapour", "very-fine"]}


@pytest.mark.parametrize(
    ("layer", "when", "need", "is_told"),
    [
        ("ours", FADE | {"flake": "solid"}, "required", True),
        ("ours", FADE | {"flake": "solid"}, None, True),
        ("ours", FADE, "no", True),
        ("ours", FADE, "advised", False),
        ("ours", FADE, "required", False),
        ("ours", EDGE, "required", False),
        ("ours", FADE | {"flake": "very-fine"}, "advised", False),
        ("base", FADE | {"flake": "solid"}, "required", False),
        ("ours", FADE | {"role": "clear-only"}, "required", False),
    ],
)
def test_coats_that_a_house_asks_for_where_no_bed_is_ever_asked_for_are_told(
    layer: str, when: Mapping[str, object], need: str | None, *, is_told: bool
) -> None:
    """Beds for vapour and very fine flake: one case with a bed is enough.

    A clear-only panel has no fade; that a rule meets no case is told by itself.
    """
    rules = [rule("coats", layer, when, bed_coats_min=2)]
    rules += [rule("bed", "base", FADE, wet_bed=need)] if need else []
    none = [Impossible(read_when({"role": "clear-only", "zone": "fade"}, ())[0], "No fade.", "base.toml", 1)]
    told = findings("no bed", *rules, impossibles=none)
    assert len(told) == is_told
    for finding in told:
        assert finding.says.startswith(
            '"coats" (ours.toml:5) asks for 2 coats of wet bed at least, where no '
        )
        assert finding.says.endswith(". None is laid there.")
        assert (finding.kind, finding.rules) == ("bed", ("coats",))
        assert (finding.file, finding.line) == ("ours.toml", 5)
        assert finding.limits["zone"] == ["fade"]
        assert 'wet_bed = "advised"' in finding.mend


def test_each_rule_that_asks_for_coats_of_no_bed_is_told_by_itself() -> None:
    """Also next to one that has a bed."""
    rules = [
        rule("aa", "ours", EDGE | {"flake": "solid"}, bed_coats_min=2),
        rule("bbb", "ours", EDGE | {"flake": "vapour"}, bed_coats_min=2),
        rule("cccc", "ours", EDGE | {"flake": "coarse"}, bed_coats_min=3),
        rule("bed", "base", EDGE | {"flake": "vapour"}, wet_bed="advised"),
    ]
    assert {each.rules for each in findings("no bed", *rules)} == {("aa",), ("cccc",)}


@pytest.mark.parametrize(
    ("layers", "mend"),
    [
        (("ours", "base"), 'Make "fine" ask P1200 at most or leave these cases out of it.'),
        (("base", "ours"), 'Let "key" end at P1500 or leave these cases out of it.'),
        (("ours", "ours"), 'Make "fine" ask P1200 at most or leave these cases out of it; only if the finer'),
        (("base", "base"), 'Make "fine" ask P1200 at most or leave these cases out of it; only if the finer'),
    ],
)
def test_a_collision_is_mended_in_the_file_of_the_house(layers: tuple[str, str], mend: str) -> None:
    """Of the base nothing is to be changed where a house's rule takes part."""
    rules = rule("fine", layers[0], finish_coarsest="P1500"), rule("key", layers[1], finish_finest="P1200")
    (finding,) = findings("collision", *rules)
    assert finding.mend.startswith(mend)
    assert f'"fine" ({layers[0]}.toml:4) asks P1500 or finer (finish_coarsest), "key"' in finding.says
    assert "nothing finer than P1200 (finish_finest)" in finding.says
    assert finding.rules == ("fine", "key")
    assert finding.file == ("ours.toml" if "ours" in layers else "base.toml")
    assert finding.limits == {each: [value] for each, value in EDGE.items()}


def test_a_grade_that_both_let_be_is_no_collision() -> None:
    """P1200 or finer, and nothing finer than P1200: that one grade is left; by hand that of the hand."""
    assert findings("collision", rule("a", finish_coarsest="P1200"), rule("b", finish_finest="P1200")) == []
    by_hand = EDGE | {"reach": "hand"}
    key = rule("b", when=by_hand, finish_finest="P1200")
    assert findings("collision", rule("a", when=by_hand, finish_coarsest="P1500"), key) == []
    assert len(findings("collision", rule("a", when=by_hand, hand_last_coarsest="P1500"), key)) == 1


def test_collisions_beyond_those_told_one_by_one_are_told_together(monkeypatch: pytest.MonkeyPatch) -> None:
    """Their rules are named, at the first of the house's."""
    monkeypatch.setattr(in_collisions, "_MOST_COLLISIONS", 1)
    rules = (
        rule("key", finish_finest="P1000"),
        rule("a", "ours", EDGE | {"flake": "fine"}, finish_coarsest="P1200"),
        rule("bb", "ours", EDGE | {"flake": ">= very-fine"}, finish_coarsest="P1500"),
    )  # fmt: skip
    first, rest = findings("collision", *rules)
    assert first.rules == ("bb", "key")
    assert rest.says == "1 more pairs of rules leave no grade in smaller groups of cases."
    assert (rest.rules, rest.file, rest.line) == (("a", "key"), "ours.toml", 1)
    assert len(findings("collision", *rules[:2])) == 1


def test_a_rule_that_another_one_decides_before_collides_nowhere() -> None:
    """P1500 is asked only where P2000 is asked already: that one is told."""
    rules = (
        rule("key", finish_finest="P1200"), rule("weak", "ours", finish_coarsest="P1500"),
        rule("strong", "ours", finish_coarsest="P2000"),
    )  # fmt: skip
    assert [each.rules for each in findings("collision", *rules)] == [("key", "strong")]
    lax = rule("lax", finish_finest="P1500")
    assert [each.rules for each in findings("collision", *rules, lax)] == [("key", "strong")]


ALL_BOUNDS: dict[str, Any] = {
    "finish_finest": "P1500", "finish_coarsest": "P800", "hand_last_coarsest": "P800",
    "hand_coarsest": "P800",
}  # fmt: skip
NOT_EDGE = {"feature": {"not": "edge"}}


def bounds_but(*outputs: str) -> dict[str, Any]:
    """Return all bounds but some."""
    return {name: value for name, value in ALL_BOUNDS.items() if name not in outputs}


@pytest.mark.parametrize(
    ("missing", "bounds"),
    [
        (("finish_finest",), "finish_finest"),
        (("finish_coarsest",), "finish_coarsest where a machine reaches"),
        (("hand_last_coarsest",), "hand_last_coarsest by hand only"),
        (("hand_coarsest",), "hand_coarsest on lines a machine reaches"),
        (
            ("finish_finest", "finish_coarsest", "hand_coarsest"),
            "finish_finest and finish_coarsest where a machine reaches and hand_coarsest on lines",
        ),
    ],
)
def test_a_gap_names_the_bounds_that_are_missing(missing: tuple[str, ...], bounds: str) -> None:
    """Here at edges in solid colours; elsewhere all are set."""
    when = {"feature": "edge", "flake": "solid", "reach": "hand" if "by hand" in bounds else "machine"}
    rules = [
        rule("a", when=NOT_EDGE, **ALL_BOUNDS), rule("b", when={"flake": "> solid"}, **ALL_BOUNDS),
        rule("c", when=when, **bounds_but(*missing)),
        rule("d", when=when | {"reach": {"not": when["reach"]}}, **ALL_BOUNDS),
    ]  # fmt: skip
    (finding,) = findings("gap", *rules)
    assert finding.says.startswith(f"No rule sets {bounds}")
    assert finding.limits["feature"] == ["edge"]
    assert finding.limits["flake"] == ["solid"]
    assert finding.mend == (
        f"Write a rule for these cases that sets {' and '.join(missing)}, or one that holds them."
    )
    assert (finding.file, finding.line, finding.rules) == ("", 0, ())
    hold = rule("hold", when={"feature": "edge", "flake": "solid"}, holds="Ask.")
    assert findings("gap", *rules, hold) == []


def build_over(*, withdraw: bool, **when: str) -> Engine:
    """Return a base of two rules, one of which a layer takes away or replaces by one for a few cases."""
    base = [
        {"id": "rest", "says": "x", "set": bounds_but("finish_finest"), "source": "x"},
        {"id": "key", "says": "x", "set": {"finish_finest": "P1500"}, "source": "x"},
    ]
    layer: dict[str, object] = {"withdraw": [{"rule": "key", "because": "x"}]}
    if not withdraw:
        own = base[1] | {"id": "own", "when": when, "replaces": "key"}
        layer = {"rule": [own]}
    files = [
        RuleSource("base.toml", "base", {"rule": base}),
        RuleSource("ours.toml", "ours", layer, line_of=lambda _: 7),
    ]
    return build(files)


@pytest.mark.parametrize(
    ("withdraw", "says"),
    [
        (True, 'Withdrawing "key" opened this.'),
        (False, '"own" replaces "key" but leaves these cases out.'),
    ],
)
def test_a_gap_that_a_layer_opened_is_told_at_its_line(*, withdraw: bool, says: str) -> None:
    """With what it took away."""
    told = found("gap", build_over(withdraw=withdraw, feature="face"))
    assert told
    for finding in told:
        assert says in finding.says
        assert (finding.file, finding.line) == ("ours.toml", 7)


def test_what_was_taken_away_elsewhere_or_set_something_else_has_opened_no_gap() -> None:
    """Solids lacked a key limit before; what the layer took away bound others, or bound something else."""
    base = [
        {"id": "rest", "says": "x", "set": bounds_but("finish_finest"), "source": "x"},
        {"id": "key", "says": "x", "when": {"flake": "> solid"}, "set": ALL_BOUNDS, "source": "x"},
        {"id": "fine", "says": "x", "when": {"flake": "fine"}, "set": ALL_BOUNDS, "source": "x"},
        {"id": "usual", "says": "x", "set": {"finish_target": "P1000"}, "source": "x"},
    ]
    layer = {"withdraw": [{"rule": name, "because": "x"} for name in ("fine", "usual")]}
    told = found(
        "gap", build([RuleSource("base.toml", "base", {"rule": base}), RuleSource("o.toml", "ours", layer)])
    )
    assert [(each.limits, each.file, each.line) for each in told] == [({"flake": ["solid"]}, "", 0)]
    assert "opened this" not in told[0].says


def test_a_gap_by_hand_is_told_at_the_rule_that_keeps_the_machine_off() -> None:
    """All machine cases are bound, faces by hand are not: with the house's rule gone there is no gap."""
    rules = [
        rule("lines", when={"feature": {"not": ["face", "patch"]}}, **ALL_BOUNDS),
        rule("areas", when={"feature": ["face", "patch"]}, **bounds_but("hand_last_coarsest")),
    ]
    off = rule("off", "ours", {"feature": "face", "special": "radar"}, machine="never")
    assert findings("gap", *rules) == []
    (finding,) = findings("gap", *rules, off)
    assert finding.rules == ("off",)
    assert (finding.file, finding.line) == ("ours.toml", 3)
    assert '"off" keeps the machine off, so they are done by hand.' in finding.says
    assert (finding.limits["feature"], finding.limits["special"]) == (["face"], ["radar"])
    base = rule("off", "base", {"feature": "face", "special": "radar"}, machine="never")
    assert [each.rules for each in findings("gap", *rules, base)] == [()]


def test_gaps_beyond_those_told_one_by_one_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """One box is told; the cases of the others are counted once."""
    rules = [
        rule("a", when={"flake": ["coarse", "medium", "very-fine"]}, **ALL_BOUNDS),
        rule("b", when={"zone": ["clear", "colour"]}, **ALL_BOUNDS),
        rule("c", when={"flake": "vapour", "feature": "face"}, **ALL_BOUNDS),
    ]
    every = findings("gap", *rules)
    monkeypatch.setattr(in_gaps, "_MOST", 1)
    first, rest = findings("gap", *rules)
    assert first == every[0]
    assert len(every) > 1
    assert rest.says == f"{rest.cases} more cases lack a bound, in smaller groups."
    assert (rest.file, rest.line) == (first.file, first.line) == ("", 0)
    by_layer = found("gap", build_over(withdraw=False, feature="face", zone="fade"))
    assert [(each.file, each.line) for each in by_layer] == [("ours.toml", 7)] * 2
    assert "more cases lack a bound" in by_layer[1].says
    monkeypatch.setattr(in_gaps, "_MOST", len(every))
    assert findings("gap", *rules) == every


def test_dead_rules_beyond_those_told_one_by_one_are_told_together(monkeypatch: pytest.MonkeyPatch) -> None:
    """Their ids, at the first."""
    rules = [rule("strict", finish_coarsest="P1500")]
    rules += [rule(name, "ours", finish_coarsest=grade) for name, grade in (("a", "P800"), ("bb", "P1000"))]
    assert [each.rules[0] for each in findings("dead", *rules)] == ["a", "bb"]
    monkeypatch.setattr(in_dead, "_MOST", 1)
    first, rest = findings("dead", *rules)
    assert first.rules[0] == "a"
    assert (rest.says, rest.rules, rest.file, rest.line) == (
        "1 more rules change nothing.", ("bb",), "ours.toml", 2,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("output", "setting", "says"),
    [
        ("finish_coarsest", Grade("P800"), "P800"),
        ("bed_coats_max", 1, "1 coat"),
        ("bed_coats_min", 2, "2 coats"),
        ("film_off_max_um", 5.0, "5 µm"),
        ("film_left_min_um", 92.5, "92.5 µm"),
        ("risk_limit", 0.25, "0.25"),
        ("step_ratio_min", 0.63, "0.63"),
        ("finish_finest", Grade("P1500"), "P1500"),
        ("wet_bed", "advised", "advised"),
        ("guide_coat", "every-change", "every-change"),
    ],
)
def test_an_answer_is_told_from_its_strength_with_its_unit(
    output: OutputName, setting: Setting, says: str
) -> None:
    """A grade, coats, µm, a bare number, a word; no rule at all is no bound, or the start of a word."""
    ranking = Audited(Engine([Rule("a", "x", rule("b").when, {output: setting}, "x")])).ranking(output)
    assert in_audited.told(output, ranking.strengths[0]) == says
    unset = {"wet_bed": "no", "guide_coat": "no"}.get(output, "no bound")
    assert in_audited.told(output, in_audited.unset_strength(output)) == unset


def test_rules_are_named_with_their_places_and_not_too_many() -> None:
    """Eight by name, the rest by their number; mending begins in the house's file."""
    rules = [rule("x" * number) for number in range(1, 11)]
    assert named(rules[:2]) == '"x" (base.toml:1) and "xx" (base.toml:2)'
    assert named(rules[:8]).count("(") == 8
    assert "more" not in named(rules[:8])
    assert named(rules).endswith(f'"{"x" * 8}" (base.toml:8) and 2 more')
    assert place_of(rules) == ("base.toml", 1)
    assert place_of([*rules, rule("house", "ours")]) == ("ours.toml", 5)
    assert place_of([rule("zzz", "ours"), rule("zz", "ours")]) == ("ours.toml", 2)


PROMISE = {
    "says": "A finer flake is never given a coarser finish.", "along": "flake", "output": "finish_coarsest",
    "never": "coarser", "where": EDGE,
}  # fmt: skip


def promised(*rules: dict[str, object], **promise: object) -> list[Finding]:
    """Return what is found of a promise over rules of a base and a house."""
    files = [
        RuleSource("base.toml", "base", {"promise": [PROMISE | promise]}, line_of=lambda _: 5),
        RuleSource("ours.toml", "ours", {"rule": list(rules)}, line_of=lambda path: 10 * (1 + int(path[1]))),
    ]
    return found("promise", build(files))


def own(name: str, grade: str, **when: object) -> dict[str, Any]:
    """Write a house rule of a coarsest finish."""
    return {"id": name, "says": "x", "when": when, "set": {"finish_coarsest": grade}, "source": "x"}


def test_a_broken_promise_is_told_with_both_answers_at_the_rule_of_the_house() -> None:
    """Fine is bound, very fine is not: from one to the next it gets laxer."""
    (finding,) = promised(own("own", "P1000", flake="<= fine"))
    assert finding.says == (
        'Broken promise: "A finer flake is never given a coarser finish." But finish_coarsest is P1000 by '
        '"own" at flake fine and no bound at flake very-fine, for: fine or very-fine flake; fade zone; blend '
        "panel; edge; where a machine reaches."
    )
    assert (finding.rules, finding.file, finding.line) == (("own",), "ours.toml", 10)
    assert finding.mend.startswith('Change "own" so that both agree')
    assert promised(own("own", "P1000", flake=">= fine")) == []
    assert promised(own("own", "P1000", flake=">= fine"), along="falling flake") != []


def test_a_promise_runs_upwards_unless_it_says_falling() -> None:
    """From the laxer to the stricter end of the order, or the other way; a zone before a stricter one."""
    up = rule("a", when=EDGE | {"flake": "solid"}, finish_coarsest="P1000")
    box, _ = read_when(EDGE, ())
    plain = Promise("p", "finish_coarsest", "coarser", box, along="flake")
    assert [each.rules for each in findings("promise", up, promises=[plain])] == [("a",)]
    assert findings("promise", up, promises=[plain._replace(falling=True)]) == []
    down = rule("b", when=EDGE | {"flake": "vapour"}, finish_coarsest="P1000")
    assert findings("promise", down, promises=[plain]) == []
    assert [each.rules for each in findings("promise", down, promises=[plain._replace(falling=True)])] == [
        ("b",)
    ]


def test_a_promise_counts_in_its_own_cases_though_no_rule_parts_them() -> None:
    """Over thin film alone: told of that film, though the rules that break it ask for none."""
    up = rule("a", when=EDGE | {"flake": "solid"}, finish_coarsest="P1000")
    box, _ = read_when(EDGE | {"film_um": "< 95"}, ())
    (told,) = findings(
        "promise", up, promises=[Promise("p", "finish_coarsest", "coarser", box, along="flake")]
    )
    assert told.limits["film_um"] == ["< 95"]


KEY = {"output": "finish_finest"}


def key(name: str, grade: str, **when: object) -> dict[str, Any]:
    """Write a house rule of a finest finish."""
    return own(name, grade, **when) | {"set": {"finish_finest": grade}}


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ((key("a", "P1200"),), []),
        ((key("a", "P1200"), key("b", "P1000", flake="solid")), []),  # it gets finer from there
        (
            (key("a", "P1200"), key("b", "P1000", flake="vapour")),
            ['P1200 by "a" at flake very-fine and P1000 by "b" at flake vapour'],
        ),
        (
            (key("a", "P1200", flake="<= fine"),),
            ['P1200 by "a" at flake fine and no bound at flake very-fine'],
        ),
        (
            (key("a", "P1200"), key("b", "P1000", flake="medium"), key("c", "P800", flake="fine")),
            [
                'P1200 by "a" at flake coarse and P1000 by "b" at flake medium',
                'P1000 by "b" at flake medium and P800 by "c" at flake fine',
            ],
        ),
        ((key("a", "P800"), key("b", "P1000", flake="vapour")), []),  # the coarser one decides all along
    ],
)
def test_a_key_limit_that_gets_coarser_breaks_its_promise(
    rules: tuple[dict[str, Any], ...], told: list[str]
) -> None:
    """The coarsest rule decides: one that comes in breaks it, and one that goes where none is left."""
    found_ = promised(*rules, **KEY)
    steps = [each.says.split(" But finish_finest is ")[1].split(", for:")[0] for each in found_]
    assert sorted(steps) == sorted(told)


@pytest.mark.parametrize(
    ("by_hand", "told"),
    [(["fine", "very-fine"], [("a", "b")]), (["fine"], []), (["very-fine"], []), (["medium", "fine"], [])],
)
def test_a_promise_about_faces_by_hand_is_judged_where_both_values_are_done_by_hand(
    by_hand: list[str], told: list[tuple[str, ...]]
) -> None:
    """A face is done by hand only where a rule keeps the machine off: a flake without one is no neighbour."""
    rules: list[dict[str, Any]] = [
        {"id": name, "says": "x", "when": when, "set": setting, "source": "x"}
        for name, when, setting in (
            ("off", {"feature": "face", "flake": by_hand}, {"machine": "never"}),
            ("a", {"flake": "fine"}, {"hand_last_coarsest": "P1000"}),
            ("b", {"flake": "very-fine"}, {"hand_last_coarsest": "P800"}),
        )
    ]
    where = {"feature": "face", "reach": "hand", "zone": "fade", "role": "blend"}
    found_ = promised(*rules, output="hand_last_coarsest", where=where)
    assert [each.rules for each in found_] == told


def test_a_promise_between_two_outputs_is_told_with_both() -> None:
    """P800 may be the coarsest while P1000 is the usual grade."""
    other: dict[str, Any] = {"id": "b", "says": "x", "set": {"finish_target": "P1000"}, "source": "x"}
    (finding,) = _than(own("own", "P800"), other)
    assert 'But finish_coarsest is P800 by "own" and finish_target is P1000 by "b", for: ' in finding.says
    assert finding.rules == ("own", "b")
    assert finding.mend.startswith('Change "b" or "own" so that both agree')


def _than(*rules: dict[str, Any]) -> list[Finding]:
    promise = {key: value for key, value in PROMISE.items() if key != "along"} | {"than": "finish_target"}
    files = [
        RuleSource("base.toml", "base", {"promise": [promise]}),
        RuleSource("ours.toml", "ours", {"rule": list(rules)}),
    ]
    return found("promise", build(files))


@pytest.mark.parametrize(
    ("where", "says"),
    [
        ({"role": "blend", "feature": "face", "reach": "hand"}, "no case in which a card reads"),
        (
            {"feature": "edge", "reach": "hand"},
            "no case in which a card reads finish_coarsest (edge; by hand",
        ),
    ],
)
def test_a_promise_about_nothing_is_told_at_its_own_line(where: dict[str, object], says: str) -> None:
    """It would hold whatever rules say."""
    (finding,) = promised(own("own", "P800"), where=where)
    assert says in finding.says
    assert (finding.file, finding.line, finding.mend[:7]) == ("base.toml", 5, "Correct")


def test_more_broken_steps_than_are_told_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """The largest first; beyond those looked for it says "at least"."""
    rules = [
        own("a", "P1500", flake="solid"), own("b", "P1200", flake="coarse"),
        own("c", "P1000", flake="medium"),
    ]  # fmt: skip
    every = promised(*rules)
    assert [each.rules for each in every] == [("a", "b"), ("b", "c"), ("c",)]
    assert not [each for each in every if "more steps" in each.says]
    monkeypatch.setattr(in_promises, "_MOST", 1)
    (one,) = promised(*rules)
    assert one.says.endswith(" 2 more steps between rules break it.")
    monkeypatch.setattr(in_promises, "_ENOUGH", 2)
    (one,) = promised(*rules)
    assert one.says.endswith(" At least 1 more steps between rules break it.")
    monkeypatch.setattr(in_promises, "_ENOUGH", 100)
    monkeypatch.setattr(in_promises, "_ENOUGH_OF_MANY", 2)
    for many, at_least in ((3, False), (2, True)):  # of three rules; with more than so many fewer steps do
        monkeypatch.setattr(in_promises, "_RULES_MANY", many)
        (one,) = promised(*rules)
        assert ("At least" in one.says) == at_least
    monkeypatch.setattr(in_promises, "_RULES_MANY", 300)
    monkeypatch.setattr(in_promises, "_MOST", 3)
    monkeypatch.setattr(in_promises, "_ENOUGH", 100)
    assert promised(*rules) == every


def test_a_withdrawal_that_ends_a_hold_without_a_word_is_told() -> None:
    """It stays in force, and the finding stands at the withdrawal."""
    hold = rule("hold", holds="Ask first.")
    withdrawal = Withdraw("hold", "Never needed.", "ours", "ours.toml", 4)
    engine = Engine([hold], withdrawals=[withdrawal], kept=[Kept(hold, withdrawal)])
    (finding,) = found("hold-gone", engine)
    assert finding.says.startswith(
        'The withdrawal in "ours" takes away "hold" (base.toml:4), which holds: Ask'
    )
    assert (finding.rules, finding.file, finding.line) == (("hold",), "ours.toml", 4)


def test_a_hold_over_a_small_part_is_not_told() -> None:
    """Two of nine kinds of place."""
    base = rule("base", when={}, **ALL_BOUNDS)
    assert findings("gap", base, rule("mine", "ours", {"feature": ["face", "patch"]}, holds="Ask.")) == []


def test_a_hold_over_more_than_half_of_what_the_base_answers_is_told_with_its_share() -> None:
    """Half of the tones and then some; exactly half is let be."""
    base = rule("base", when={}, **ALL_BOUNDS)
    two_thirds = rule("mine", "ours", {"tone": ["dark", "mid"]}, holds="Ask.")
    (finding,) = (each for each in findings("gap", base, two_thirds) if "% of" in each.says)
    assert "holds 66 % of the cases that the base answers." in finding.says
    assert (finding.rules, finding.file, finding.line, finding.limits) == (
        ("mine",), "ours.toml", 4, {"tone": ["dark", "mid"]},
    )  # fmt: skip
    half = rule("mine", "ours", {"next": ["base", "clear"]}, holds="Ask.")
    assert not [each for each in findings("gap", base, half) if "% of" in each.says]
    no_hold = rule("mine", "ours", {}, notes="Look.")
    assert not [each for each in findings("gap", base, no_hold) if "% of" in each.says]
    in_base = rule("mine", "base", {"tone": ["dark", "mid"]}, holds="Ask.")
    assert not [each for each in findings("gap", base, in_base) if "% of" in each.says]
