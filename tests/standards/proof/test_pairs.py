"""Pairs of rules and of neighbouring values over a tiny space, against trying every case."""

import random
from itertools import pairwise
from types import SimpleNamespace
from typing import Any, NamedTuple

import pytest

from prepadvisor.records import Grade, OutputName
from prepadvisor.standards.proof import pairs as in_pairs
from prepadvisor.standards.proof.audited import Ranking
from prepadvisor.standards.proof.covers import Covers, Support
from prepadvisor.standards.proof.diagram import Diagrams, Masks
from prepadvisor.standards.proof.pairs import Pair, deciding_pairs, freed, steps
from tests.standards.proof.tiny import CASES, RUNS, SIZES, Case, a_box, any_box, cases_of, in_any

GRADES = tuple(map(Grade, ("P600", "P800", "P1000")))


class Tiny(NamedTuple):
    """What stands in for standards: a store and the index of boxes over it."""

    diagrams: Diagrams
    not_judged: set[str]

    @property
    def space(self) -> Any:
        """The space, whose boxes of rules are masks already."""
        return SimpleNamespace(covers=self.covers, masks=lambda when: when)

    def covers(self, boxes: list[Masks], outside: tuple[Masks, ...], supports: tuple[Masks, ...]) -> Covers:
        """Index boxes, then those of the cases that do not count."""
        return Covers(self.diagrams, [*boxes, *outside], RUNS, supports)

    def ranking(self, draw: random.Random, output: OutputName, supports: list[Masks]) -> Ranking:
        """Draw the rules of an output."""
        rules: list[Any] = [
            SimpleNamespace(id=f"{output}{at}", set={output: draw.choice(GRADES)}, when=a_box(draw))
            for at in range(draw.randint(0, 5))
        ]
        outside = [a_box(draw) for _ in range(draw.randint(0, 2))]
        return Ranking(self.space, output, rules, outside, supports=supports)


def tiny() -> Any:
    """Return an empty store."""
    return Tiny(Diagrams(SIZES), set())


def decider(ranking: Ranking, case: Case) -> int | None:
    """Return the first rule that a case meets."""
    return next((at for at, box in enumerate(ranking.boxes) if case in cases_of(box)), None)


class Asked(NamedTuple):
    """Two rankings, which strengths matter, and where to look."""

    audited: Any
    one: Ranking
    other: Ranking
    wanted: set[tuple[float, float]]
    where: Masks | None
    within: list[Masks]

    def pairs(self) -> list[Pair]:
        """Return the pairs found."""
        within = Support(Covers(self.audited.diagrams, self.within, RUNS), 3) if self.within else None
        return list(
            deciding_pairs(
                self.audited, self.one, self.other, lambda *two: two in self.wanted, self.where, within
            )
        )

    def expected(self) -> dict[tuple[str, str], set[Case]]:
        """Return the cases that two rules decide, by the names of the rules, case by case."""
        inside = cases_of(self.where) if self.where else CASES
        for boxes in (self.one.supports, self.within):
            inside &= in_any(list(boxes)) if boxes else CASES
        found: dict[tuple[str, str], set[Case]] = {}
        for case in inside - in_any([*self.one.outside, *self.other.outside]):
            place, rival = decider(self.one, case), decider(self.other, case)
            if place is None or rival is None:
                continue
            if (self.one.strengths[place], self.other.strengths[rival]) in self.wanted:
                names = self.one.rules[place].id, self.other.rules[rival].id
                found.setdefault(names, set()).add(case)
        return found


def asked(seed: int) -> Asked:
    """Draw what is asked."""
    draw = random.Random(seed)
    audited = tiny()
    supports = [a_box(draw) for _ in range(draw.choice((0, 0, 2)))]
    one = audited.ranking(draw, "finish_coarsest", supports)
    other = audited.ranking(draw, "finish_finest", supports)
    wanted = {(draw.choice(one.strengths or [0]), own) for own in other.strengths}
    where = draw.choice((None, any_box(draw)))
    within = [a_box(draw), a_box(draw)] if draw.random() < 0.4 else []
    return Asked(audited, one, other, wanted, where, within)


def test_two_rules_are_paired_exactly_if_both_decide_a_case_that_counts(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of strengths that matter, in the box asked for and in boxes that support a case; with such a case.

    Where few pairs are asked for each rule at fault is named all the same.
    """
    found_any = few_any = 0
    for what in map(asked, range(150)):
        expected = what.expected()
        found = {(pair.one.id, pair.other.id): pair for pair in what.pairs()}
        assert set(found) == set(expected)
        for names, pair in found.items():
            assert pair.case in expected[names]
            assert expected[names] <= cases_of(pair.box) <= cases_of(what.where or what.audited.diagrams.full)
        with monkeypatch.context() as patched:
            patched.setattr(in_pairs, "_PAIRS_MOST", 0)
            patched.setattr(in_pairs, "_ROUNDS_MOST", 1)
            few = [(pair.one.id, pair.other.id) for pair in what.pairs()]
        assert set(few) <= set(found)
        assert {name for names in few for name in names} == {name for names in found for name in names}
        found_any += len(found)
        few_any += len(few)
    assert 100 < few_any < found_any


def ranked(audited: Any, boxes: list[Masks], outside: list[Masks]) -> Any:
    """Return rules of some boxes, with the cases that do not count."""
    covers = audited.covers(boxes, tuple(outside), ())
    return SimpleNamespace(boxes=boxes, outside=outside, covers=covers, everyone=(1 << len(boxes)) - 1)


def neighbours(level: int, where: Masks, outside: list[Masks]) -> set[tuple[int, int, Case]]:
    """Return pairs of values of an axis that count with nothing between them that does, case by case."""
    left_out = in_any(outside)
    values = [value for value in range(SIZES[level]) if where[level] >> value & 1]
    if level in RUNS[:1]:
        values = [value for value in values if value]  # a number that is not known is no neighbour
    found = set()
    for case in cases_of((*where[:level], 1, *where[level + 1 :])):
        counting = [value for value in values if (*case[:level], value, *case[level + 1 :]) not in left_out]
        found |= {(low, high, case) for low, high in pairwise(counting)}
    return found


@pytest.fixture
def axes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the third axis of the tiny space be one of numbers."""
    monkeypatch.setattr(in_pairs, "ORDER", ("flake", "zone", "film_um", "role"))


@pytest.mark.usefixtures("axes")
def test_values_are_neighbours_exactly_where_nothing_between_them_counts() -> None:
    """Told in boxes, none within another, wherever some rule tells the two values apart."""
    for seed in range(250):
        draw = random.Random(seed)
        audited = tiny()
        level = draw.randrange(len(SIZES))
        boxes = [a_box(draw) for _ in range(draw.randint(1, 4))]
        outside = [a_box(draw) for _ in range(draw.randint(0, 4))]
        asking = [box for box in outside if box[level] != audited.diagrams.full[level]]
        where = any_box(draw)
        told: dict[tuple[int, int], list[Masks]] = {}
        for low, high, context in steps(audited, ranked(audited, boxes, outside), level, where):
            told.setdefault((low, high), []).append(context)
        assert audited.not_judged == set()
        expected = {
            (low, high, case)
            for low, high, case in neighbours(level, where, outside)
            if any(box[level] >> low & 1 != box[level] >> high & 1 for box in boxes)
        }
        covered: set[tuple[int, int, Case]] = set()
        for (low, high), contexts in told.items():
            assert len(set(contexts)) == len(contexts)
            for context in contexts:
                cases = cases_of((*context[:level], 1, *context[level + 1 :]))
                here = {(low, high, case) for case in cases}
                covered |= here
                # nothing in between counts in a box told, and no box says of all of it that an end does not
                assert cases_of(context) <= cases_of(freed(where, level, audited.diagrams))
                for value in (low, high):
                    at = cases_of((*context[:level], 1 << value, *context[level + 1 :]))
                    assert not any(at <= cases_of(box) for box in asking)
                between = [value for value in range(low + 1, high) if where[level] >> value & 1]
                for value in between:
                    at = cases_of((*context[:level], 1 << value, *context[level + 1 :]))
                    ends = [
                        cases_of((*context[:level], 1 << end, *context[level + 1 :])) for end in (low, high)
                    ]
                    assert at <= in_any(outside) or all(end <= in_any(outside) for end in ends)
                assert not any(
                    other != context and cases_of(context) <= cases_of(other) for other in contexts
                )
        assert expected <= covered
        if not outside:
            assert expected == covered


def test_a_run_is_of_neighbouring_values_that_no_mask_tells_apart() -> None:
    """A value that is left out parts its neighbours; value by value."""
    draw = random.Random(8)
    for _ in range(200):
        values, masks = draw.getrandbits(7), [draw.getrandbits(7) for _ in range(draw.randint(0, 3))]
        expected: list[tuple[int, int]] = []
        for value in range(7):
            before = value - 1
            if values >> value & 1:
                is_on = value and values >> before & 1
                if is_on and all(mask >> value & 1 == mask >> before & 1 for mask in masks):
                    expected[-1] = expected[-1][0], value
                else:
                    expected.append((value, value))
        assert in_pairs._runs(values, masks) == expected


def test_boxes_that_lie_in_another_one_are_left_out() -> None:
    """All others stay, whatever they share."""
    for seed in range(40):
        draw = random.Random(seed)
        boxes = {a_box(draw) for _ in range(6)}
        boxes |= {(*box[:2], box[2] & 7, box[3]) for box in boxes if box[2] & 7}
        kept = {box for box in boxes if not any(cases_of(box) < cases_of(other) for other in boxes)}
        assert in_pairs._largest(boxes) == kept


FULL: Masks = (7, 3, 63, 15)
APART: list[Masks] = [(7, 3, 63, 1), (7, 3, 63, 3), (7, 3, 63, 7)]
LEFT_OUT: list[Masks] = [(1, 3, 63, 2), (7, 1, 63, 2), (2, 3, 63, 4)]
"""On the fourth axis: value 1 does not count in two boxes, value 2 in one; all values are told apart."""


@pytest.mark.usefixtures("axes")
def test_steps_over_what_does_not_count_are_given_up_after_so_many_weighings(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Worked by hand: 13 times two boxes are weighed against each other here; then only next values are told.

    From 0: everything against the two boxes of 1 (2), what is left of it against itself (4), that against
    the box of 2 (2), the one box left against itself (1). From 1: everything against the box of 2 (1), what
    is left against the two of 1 (2) and itself (1).
    """
    a, b, c, d = (1, 3, 63, 15), (7, 1, 63, 15), (2, 1, 63, 15), (2, 3, 63, 15)
    whole = {(0, 1, FULL), (0, 2, a), (0, 2, b), (0, 3, c), (1, 2, FULL), (1, 3, d), (2, 3, FULL)}
    far: set[Any] = {step for step in whole if step[1] != step[0] + 1}
    given_up: dict[int, set[Any]] = {
        13: set(), 12: {(1, 3, d)}, 9: {(1, 3, d)}, 8: {(0, 3, c), (1, 3, d)}, 0: far,
    }  # fmt: skip
    for most, missed in given_up.items():
        monkeypatch.setattr(in_pairs, "_WEIGHED_MOST", most)
        audited = tiny()
        assert set(steps(audited, ranked(audited, APART, LEFT_OUT), 3, FULL)) == whole - missed
        assert audited.not_judged == ({in_pairs.NEXT_ONLY} if missed else set())
    monkeypatch.setattr(in_pairs, "_WEIGHED_MOST", 13)
    for most, is_whole in ((3, True), (2, False)):  # of three boxes that do not count
        monkeypatch.setattr(in_pairs, "_UNCOUNTED_MOST", most)
        audited = tiny()
        told = set(steps(audited, ranked(audited, APART, LEFT_OUT), 3, FULL))
        assert told == (whole if is_whole else whole - far)
        assert (audited.not_judged == set()) == is_whole
