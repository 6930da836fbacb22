"""Where two standards decide otherwise, piece by piece: by which rule, against what, and in which cases."""

from functools import partial

import pytest

from prepadvisor.standards.engine import Engine
from prepadvisor.standards.proof import differing as in_differing
from prepadvisor.standards.proof.differing import Differing
from prepadvisor.standards.proof.world import World
from tests.standards.language.test_many_layers import over, rule
from tests.standards.proof.test_findings_told import EDGE as ANY_STAGES
from tests.standards.proof.test_findings_told import rule as compiled

EDGE = ANY_STAGES | {"stages": 2}
"""Two stages alone, so that each flake has as many cases: three are never judged as fine."""

Told = tuple[str, object, object, str, str]


def pieces(before: Engine, after: Engine, *, went_only: bool = False) -> tuple[list[Told], bool, list[int]]:
    """Return what differs, whether it is all, and how many cases each piece has."""
    differing = Differing(before, after)
    found = list(differing.pieces(went_only=went_only))
    told: list[Told] = [(one.output, one.before, one.after, cause.rule, cause.by) for one, cause, _ in found]
    return told, differing.is_whole, [differing.space.diagrams.count(each.region) for *_, each in found]


BOTH = [compiled("a", when=EDGE, finish_coarsest="P800"), compiled("b", when=EDGE, risk_limit=0.25)]
NEW = compiled("c", when=EDGE | {"flake": "fine"}, finish_coarsest="P1000", notes="Look.")
MORE = compiled("d", when=EDGE | {"flake": "vapour"}, finish_coarsest="P1200")


def test_every_piece_is_told_once_with_its_cause() -> None:
    """What was stricter or said before, then what is now; of a rule in both nothing."""
    told, is_whole, cases = pieces(Engine(BOTH), Engine([*BOTH, NEW]))
    assert told == [
        ("finish_coarsest", "P800", "P1000", "c", "new"), ("notes", None, "Look.", "c", "new"),
    ]  # fmt: skip
    assert is_whole
    assert all(cases)
    told, _, back = pieces(Engine([*BOTH, NEW]), Engine(BOTH))
    assert told == [
        ("finish_coarsest", "P1000", "P800", "c", "gone"), ("notes", "Look.", None, "c", "gone"),
    ]  # fmt: skip
    assert back == cases
    assert pieces(Engine(BOTH), Engine([*BOTH, NEW]), went_only=True) == ([], True, [])
    assert pieces(Engine([*BOTH, NEW]), Engine(BOTH), went_only=True)[0] == told


def test_a_rule_that_wins_by_several_strengths_is_told_with_each() -> None:
    """Against each lower grade that stood there and against none, in falling order, no case twice."""
    before = [
        compiled("x", when=EDGE | {"flake": "fine"}, finish_coarsest="P1000"),
        compiled("y", when=EDGE | {"flake": ["fine", "very-fine"]}, finish_coarsest="P800"),
        compiled("z", when=EDGE | {"flake": "solid"}, finish_coarsest="P1500"),
    ]
    new = compiled(
        "new", when=EDGE | {"flake": ["fine", "very-fine", "vapour", "solid"]}, finish_coarsest="P1200"
    )
    told, is_whole, cases = pieces(Engine(before), Engine([*before, new]))
    assert [each[1] for each in told] == ["P1000", "P800", None]
    assert {each[2:] for each in told} == {("P1200", "new", "new")}
    assert is_whole
    assert cases[0] == cases[1] == cases[2] > 0
    every, _, one = pieces(
        Engine([]), Engine([compiled("new", when=EDGE | {"flake": "fine"}, wet_bed="advised")])
    )
    assert every == [("wet_bed", "no", "advised", "new", "new")]
    assert one == [cases[0]]


def test_of_texts_the_cases_of_one_standard_alone_are_told_rule_by_rule() -> None:
    """A rule that says it in the same cases in both changes nothing, those after it do; no case twice."""
    same = compiled("same", when=EDGE | {"flake": "solid"}, notes="Look.")
    first = compiled("first", when=EDGE | {"flake": ["fine", "vapour"]}, notes="Look.")
    second = compiled("second", when=EDGE | {"flake": ["coarse", "fine"]}, notes="Look.")
    told, is_whole, cases = pieces(Engine([same]), Engine([same._replace(id="again"), first, second]))
    assert told == [("notes", None, "Look.", name, "new") for name in ("first", "second")]
    assert is_whole
    assert cases[0] == 2 * cases[1] > 0


def test_only_the_rules_that_one_has_alone_count_as_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """More of them than are compared whole, on either side: one large box of each, and it says so."""
    monkeypatch.setattr(in_differing, "_WHOLE_MOST", 1)
    for one, other in ((BOTH, [*BOTH, NEW]), ([*BOTH, NEW], BOTH), ([*BOTH, MORE], [*BOTH, NEW])):
        assert pieces(Engine(one), Engine(other))[1]
    for one, other in ((BOTH, [*BOTH, NEW, MORE]), ([*BOTH, NEW, MORE], BOTH)):
        told, is_whole, cases = pieces(Engine(one), Engine(other))
        assert not is_whole
        assert {(each[0], each[3]) for each in told} == {
            ("finish_coarsest", "c"), ("finish_coarsest", "d"), ("notes", "c"),
        }  # fmt: skip
        assert all(cases)


def test_a_large_box_is_true_of_the_weaker_answer_it_names(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule against one grade in fine, none in vapour, more in solid: one of the first two is told."""
    before = [
        compiled("x", when=EDGE | {"flake": "fine"}, finish_coarsest="P1000"),
        compiled("z", when=EDGE | {"flake": "solid"}, finish_coarsest="P1500"),
    ]
    new = compiled("new", when=EDGE | {"flake": ["fine", "solid"]}, finish_coarsest="P1200")
    monkeypatch.setattr(in_differing, "_WHOLE_MOST", 0)
    differing = Differing(Engine(before), Engine([*before, new]))
    ((difference, _, piece),) = differing.pieces()
    assert (difference.before, difference.after) == ("P1000", "P1200")
    assert piece.box is not None
    assert differing.space.axes.limits(piece.box) == {name: [value] for name, value in EDGE.items()} | {
        "flake": ["fine"]
    }
    free = compiled("new", when=EDGE | {"flake": ["vapour", "solid"]}, finish_coarsest="P1200")
    ((difference, _, piece),) = Differing(Engine(before), Engine([*before, free])).pieces()
    assert (difference.before, difference.after) == (None, "P1200")
    assert piece.box is not None
    assert differing.space.axes.limits(piece.box)["flake"] == ["vapour"]
    no_bed = [compiled(name, when=EDGE | {"flake": name}, wet_bed="no") for name in ("fine", "vapour")]
    bed = compiled("new", when=EDGE | {"flake": ["fine", "vapour"]}, wet_bed="advised")
    ((difference, _, piece),) = Differing(Engine(no_bed), Engine([*no_bed, bed])).pieces()
    assert (difference.before, difference.after) == ("no", "advised")
    assert piece.box is not None
    assert differing.space.axes.limits(piece.box)["flake"] == ["fine", "vapour"]
    covered = compiled("new", when=EDGE | {"flake": "solid"}, finish_coarsest="P1200")
    assert pieces(Engine(before), Engine([*before, covered]))[0] == []


@pytest.mark.parametrize("tone", ["dark", "light"])
def test_a_large_box_leaves_out_where_another_answer_stood(
    monkeypatch: pytest.MonkeyPatch, tone: str
) -> None:
    """Against P800 only where P1000 was not asked as well, whichever of both is told."""
    wide = compiled("y", when=EDGE | {"flake": "fine"}, finish_coarsest="P800")
    narrow = compiled("x", when=EDGE | {"flake": "fine", "tone": tone}, finish_coarsest="P1000")
    new = compiled("new", when=EDGE | {"flake": "fine"}, finish_coarsest="P1200")
    monkeypatch.setattr(in_differing, "_WHOLE_MOST", 0)
    differing = Differing(Engine([wide, narrow]), Engine([wide, narrow, new]))
    ((difference, _, piece),) = differing.pieces()
    assert piece.box is not None
    tones = set(differing.space.axes.limits(piece.box)["tone"])
    assert tones == ({tone} if difference.before == "P1000" else {"dark", "mid", "light"} - {tone})


def test_it_is_whole_only_where_both_standards_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """Holds too intricate to count on one side alone."""
    monkeypatch.setattr(in_differing, "World", partial(World, nodes_most=0))
    hold = compiled("hold", when=EDGE | {"flake": "solid"}, holds="Ask.")
    assert Differing(Engine(BOTH), Engine([*BOTH, NEW])).is_whole
    assert not Differing(Engine(BOTH), Engine([*BOTH, hold])).is_whole
    assert not Differing(Engine([*BOTH, hold]), Engine(BOTH)).is_whole


@pytest.mark.parametrize("name", ["_NODES_A_RULE", "NODES_MOST"])
def test_what_is_too_intricate_for_one_rule_is_told_by_a_box(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """The same differences, each with a box, and not all of them."""
    whole = pieces(Engine(BOTH), Engine([*BOTH, NEW, MORE]))
    monkeypatch.setattr(in_differing, name, 0)
    part = pieces(Engine(BOTH), Engine([*BOTH, NEW, MORE]))
    assert part[0] == whole[0]
    assert (whole[1], part[1]) == (True, False)


def test_a_layer_that_replaces_is_the_cause_in_its_own_file() -> None:
    """What went is told by what took it away; a rule written anew by its new form."""
    engine = over({"rule": [rule("own", "P800", replaces="base-fine")]})
    (told,), _, _ = pieces(over(), engine)
    assert told == ("finish_coarsest", "P1000", "P800", "base-fine", "replaced")
    one, other = (over({"rule": [rule("own", grade)]}) for grade in ("P1500", "P1200"))
    assert pieces(one, other)[0] == [("finish_coarsest", "P1500", "P1200", "own", "changed")]
