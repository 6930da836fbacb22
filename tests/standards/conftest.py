"""Small random standards and a full grid of their cases, to hold a proof against brute force."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from operator import ge, gt, le, lt
from types import SimpleNamespace
from typing import Literal

import numpy as np
import pytest
from hypothesis import strategies as st
from numpy.typing import NDArray

from prepadvisor.cases import CATEGORIES, CATEGORY, Value
from prepadvisor.records import Grade, OutputName
from prepadvisor.standards.engine import Box, Engine, Impossible, Interval, Promise, Rule, Setting, box_of

GRID_FACTS = ("flake", "zone", "role", "reach", "feature")
"""The facts that the random rules ask about, besides film_um: few enough to try every case."""

VALUES = {fact: CATEGORIES[CATEGORY[fact]].values for fact in GRID_FACTS}

GRADES = tuple(map(Grade, ("P500", "P600", "P800", "P1000", "P1200")))
LINES = ("edge", "body-line", "wheel-arch", "flange", "recess", "cut-out", "run-on")
SETTINGS: dict[OutputName, Sequence[Setting]] = {
    "finish_coarsest": GRADES,
    "finish_finest": GRADES,
    "hand_coarsest": GRADES,
    "hand_last_coarsest": GRADES,
    "risk_limit": (0.25, 0.35, 0.5),
    "wet_bed": ("no", "advised", "required"),
    "machine": ("any", "interface-pad", "never"),
    "holds": (("Not here.",), ("Ask the lead.",)),
    "notes": (("Look twice.",), ("Lamp on.",)),
}

Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Condition:
    """What a random rule asks, kept apart from the program's own box so that a test can judge by itself."""

    allowed: dict[str, tuple[Value, ...]]
    film: tuple[float, bool, float, bool, bool] | None

    def box(self) -> Box:
        """Return the program's box of the condition."""
        ranges = {} if self.film is None else {"film_um": Interval(*self.film)}
        return box_of(self.allowed, ranges)

    def over(self, films: Sequence[float | None]) -> Bools:
        """Return for every case of the grid whether it meets the condition."""
        met: Bools = np.ones((1,) * (len(GRID_FACTS) + 1), np.bool_)
        for axis, fact in enumerate(GRID_FACTS):
            column = np.array([value in self.allowed.get(fact, VALUES[fact]) for value in VALUES[fact]])
            met = np.logical_and(met, along(axis, column))
        return np.logical_and(met, along(len(GRID_FACTS), np.array([self._holds(film) for film in films])))

    def _holds(self, film: float | None) -> bool:
        if self.film is None:
            return True
        if film is None:
            return self.film[4]
        low, low_closed, high, high_closed, _ = self.film
        above = low < film or (low_closed and low == film)
        return above and (film < high or (high_closed and high == film))


def along(axis: int, column: Bools) -> Bools:
    """Return a column laid along one axis of the grid."""
    shape = [1] * (len(GRID_FACTS) + 1)
    shape[axis] = len(column)
    return column.reshape(shape)


@dataclass(frozen=True)
class Drawn:
    """Random standards: rules, impossible cases and promises, each with the condition it was made of."""

    rules: tuple[tuple[Rule, Condition], ...]
    impossible: tuple[tuple[Impossible, Condition], ...]
    promises: tuple[tuple[Promise, Condition], ...]

    def films(self) -> list[float | None]:
        """Return film readings on, between and beyond every limit that any condition has, and none."""
        conditions = [condition for _, condition in (*self.rules, *self.impossible, *self.promises)]
        ends = {0.0} | {end for c in conditions if c.film for end in (c.film[0], c.film[2]) if end < inf}
        rising = sorted(ends)
        between = [(low + high) / 2 for low, high in pairwise(rising)]
        return [None, *sorted({*rising, *between, rising[-1] + 1})]

    def engine(self) -> Engine:
        """Return the standards compiled."""
        return Engine(
            [rule for rule, _ in self.rules],
            [entry for entry, _ in self.impossible],
            promises=[promise for promise, _ in self.promises],
        )


class Brute:
    """Every case of the grid, worked out rule by rule without the program."""

    def __init__(self, drawn: Drawn, films: Sequence[float | None] | None = None) -> None:
        """Lay every condition over the grid."""
        self.films = list(drawn.films() if films is None else films)
        self.shape = (*(len(VALUES[fact]) for fact in GRID_FACTS), len(self.films))
        self.met = {rule.id: self.spread(condition) for rule, condition in drawn.rules}
        self.rules = [rule for rule, _ in drawn.rules]
        self.possible = np.ones(self.shape, np.bool_)
        for _, condition in drawn.impossible:
            self.possible &= ~self.spread(condition)
        self.living = self.judged(self.possible & self.met_by_a_card()) & ~self.held()

    def held(self) -> Bools:
        """Return the cases that some rule holds."""
        held = np.zeros(self.shape, np.bool_)
        for rule in self.rules:
            if "holds" in rule.set:
                held |= self.met[rule.id]
        return held

    def met_by_a_card(self) -> Bools:
        """Return the cases that a job can lead to.

        A face or patch is reached by machine; a clear-only panel has no colour and no fade.
        """
        areas = self.box({"feature": ("face", "patch")})
        coloured = self.box({"role": ("clear-only",)}) & self.box({"zone": ("colour", "fade")})
        return ~(areas & self.box({"reach": ("hand",)})) & ~coloured

    def judged(self, met: Bools) -> Bools:
        """Return the cases that are decided: a place that a rule keeps the machine off is done by hand.

        A place is done in one way over all its zones; zone is the second axis, reach the fourth.
        """
        never = np.zeros(self.shape, np.bool_)
        for rule in self.rules:
            if rule.set.get("machine") == "never":
                never |= self.met[rule.id]
        machine = self.box({"reach": ("machine",)})
        kept_off = met & never & machine
        zone, reach = GRID_FACTS.index("zone"), GRID_FACTS.index("reach")
        place = np.broadcast_to(kept_off.any(axis=(zone, reach), keepdims=True), self.shape)
        reached = np.broadcast_to((met & machine).any(axis=reach, keepdims=True), self.shape)
        judged: Bools = (met & ~kept_off) | (place & reached & ~machine)
        return judged

    def read(self, output: OutputName) -> Bools:
        """Return the living cases in which a card reads an output."""
        where: dict[str, dict[str, Sequence[Value]]] = {
            "finish_coarsest": {"reach": ("machine",)},
            "hand_last_coarsest": {"reach": ("hand",)},
            "hand_coarsest": {"reach": ("machine",), "feature": LINES},
            "risk_limit": {"zone": ("colour", "fade"), "flake": VALUES["flake"][1:]},
        }
        return self.living & self.box(where.get(output, {}))

    def spread(self, condition: Condition) -> Bools:
        """Return the condition over the whole grid."""
        return np.broadcast_to(condition.over(self.films), self.shape)

    def outputs(self, without: str = "") -> dict[str, NDArray[np.float64]]:
        """Return for every output, and every text of a union output, its strength in every case."""
        found = {}
        for output, values in SETTINGS.items():
            texts = [(f"{output}: {value[0]}", value) for value in values if isinstance(value, tuple)]
            named: list[tuple[str, Setting | None]] = [*texts] or [(output, None)]
            for name, text in named:
                grid = np.full(self.shape, 0.0 if text or output in {"wet_bed", "machine"} else -inf)
                for rule in self.rules:
                    if rule.id != without and output in rule.set and text in (None, rule.set[output]):
                        strength = 1.0 if text else strength_of(output, rule.set[output])
                        grid = np.where(self.met[rule.id], np.maximum(grid, strength), grid)
                found[name] = grid
        return found

    def box(self, limits: Mapping[str, Sequence[Value]]) -> Bools:
        """Return the cases in a box as the program tells it, in values and in words for ranges."""
        inside: Bools = np.ones(self.shape, np.bool_)
        for axis, fact in enumerate(GRID_FACTS):
            inside &= along(
                axis, np.array([value in limits.get(fact, VALUES[fact]) for value in VALUES[fact]])
            )
        if "length_mm" in limits:  # a line has one, a face or patch has none
            lengths = {kind: "known" if kind in LINES else "unknown" for kind in VALUES["feature"]}
            column = np.array([lengths[str(kind)] in limits["length_mm"] for kind in VALUES["feature"]])
            inside &= along(GRID_FACTS.index("feature"), column)
        words = [str(word) for word in limits.get("film_um", ("known", "unknown"))]
        column = np.array([any(film_is(film, word) for word in words) for film in self.films])
        return inside & along(len(GRID_FACTS), column)


def strength_of(output: OutputName, value: Setting | str) -> float:
    """Return how strict a value is, by the table of outputs: finest, coarsest, lowest or highest wins."""
    place = float(SETTINGS[output].index(value))
    return -place if output in {"finish_finest", "risk_limit"} else place


def film_is(film: float | None, words: str) -> bool:
    """Say whether a reading lies in a range told in words."""
    if film is None or words in {"unknown", "known"}:
        return (film is None) == (words == "unknown")
    if ".." in words:
        low, high = words.split("..")
        return float(low) <= film <= float(high)
    sides = {">=": ge, ">": gt, "<=": le, "<": lt}
    parts = [part.split() for part in words.split(" and ")]
    return all(
        sides[part[0]](film, float(part[1])) if len(part) == 2 else film == float(part[0]) for part in parts
    )


@st.composite
def conditions(draw: st.DrawFn, most: int = 3) -> Condition:
    """Draw a condition on a few facts."""
    facts = draw(st.lists(st.sampled_from((*GRID_FACTS, "film_um")), max_size=most, unique=True))
    allowed = {
        fact: tuple(draw(st.lists(st.sampled_from(VALUES[fact]), min_size=1, unique=True)))
        for fact in facts
        if fact != "film_um"
    }
    film = None
    if "film_um" in facts:
        low = draw(st.sampled_from((0.0, 90.0, 120.0)))
        high = draw(st.sampled_from([end for end in (90.0, 120.0, 300.0, inf) if end >= low]))
        both_ends = low == high  # one number alone: closed on both sides
        film = (
            low,
            both_ends or draw(st.booleans()),
            high,
            both_ends or (high < inf and draw(st.booleans())),
            draw(st.booleans()),
        )
        if draw(st.integers(0, 4)) == 0:
            film = (0.0, False, 0.0, False, True)  # no reading
    return Condition(allowed, film)


@st.composite
def standards(draw: st.DrawFn, rules_most: int = 7, *, machine: bool = False) -> Drawn:
    """Draw small random standards; with `machine` some keep the machine off places."""
    names = sorted(SETTINGS if machine else SETTINGS.keys() - {"machine"})
    asked = draw(st.lists(conditions(), min_size=1, max_size=rules_most))
    rules = []
    for number, condition in enumerate(asked):
        outputs = draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True))
        setting = {output: draw(st.sampled_from(SETTINGS[output])) for output in outputs}
        name = f"r{number}"
        rule = Rule(name, "Says.", condition.box(), setting, "practice", file="a.toml", line=number)
        rules.append((rule, condition))
    impossible = [
        (Impossible(condition.box(), "Cannot be."), condition)
        for condition in draw(st.lists(conditions(most=2), max_size=2))
        if condition.allowed
    ]
    promised = []
    for number in range(draw(st.integers(0, 2))):
        where = draw(conditions(most=2))
        promised.append((draw(promises(number, where)), where))
    return Drawn(tuple(rules), tuple(impossible), tuple(promised))


@st.composite
def promises(draw: st.DrawFn, number: int, where: Condition) -> Promise:
    """Draw a promise along a fact or between two grade outputs."""
    name, box = f"p{number}", where.box()
    outputs: tuple[OutputName, ...] = ("finish_coarsest", "finish_finest", "hand_coarsest")
    if draw(st.booleans()):
        output, than = draw(st.sampled_from(outputs)), draw(st.sampled_from(outputs))
        return Promise(name, output, "coarser", box, than=than, file="p.toml", line=number)
    wider: tuple[OutputName, ...] = (*outputs, "risk_limit", "wet_bed")
    output = draw(st.sampled_from(wider))
    fact, falling = draw(st.sampled_from(("flake", "zone", "film_um"))), draw(st.booleans())
    never: Literal["coarser", "weaker"] = "coarser" if output in outputs else "weaker"
    return Promise(name, output, never, box, along=fact, falling=falling, file="p.toml", line=number)


def of_settings(condition: Condition, setting: Mapping[OutputName, Setting]) -> Drawn:
    """Return standards of one rule."""
    rule = Rule("r0", "Says.", condition.box(), setting, "practice", file="a.toml", line=1)
    return Drawn(((rule, condition),), (), ())


def film_pieces(*all_drawn: Drawn) -> list[float | None]:
    """Return one film reading for each range that some rule or impossible case tells apart, and none."""
    conditions_ = [
        condition
        for drawn in all_drawn
        for _, condition in (*drawn.rules, *drawn.impossible)
        if condition.film
    ]
    pieces: list[float | None] = [None]
    last: tuple[bool, ...] | None = None
    films = sorted({film for drawn in all_drawn for film in drawn.films() if film is not None})
    for film in films:
        told = tuple(bool(condition.over([film]).any()) for condition in conditions_)
        if told != last:
            pieces.append(film)
        last = told
    return pieces


@pytest.fixture(scope="session")
def small() -> SimpleNamespace:
    """Strategies for small random standards, and the grid of all their cases."""
    return SimpleNamespace(
        standards=standards,
        brute=Brute,
        facts=GRID_FACTS,
        condition=Condition,
        drawn=Drawn,
        of_settings=of_settings,
        film_pieces=film_pieces,
        strength_of=strength_of,
    )
