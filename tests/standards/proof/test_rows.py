"""Rows of small tables, read as their columns are said to mean: each case once, as the engine answers."""

from bisect import bisect_left
from itertools import product
from math import inf, nextafter
from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.standards import Table
from prepadvisor.standards.engine import Engine, Impossible, Interval, box_of
from prepadvisor.standards.proof import answers as in_answers
from prepadvisor.standards.proof import table as in_table
from prepadvisor.standards.proof.diagram import TooIntricateError
from prepadvisor.standards.proof.world import World
from tests.standards.proof.test_findings_told import rule
from tests.standards.proof.test_table import Rows, check, holds

FILMS = (
    None,
    0.0,
    nextafter(90.0, 0),
    90.0,
    nextafter(90.0, inf),
    119.0,
    120.0,
    nextafter(120.0, inf),
    900.0,
)
RULES = [
    rule("all", when={}, finish_finest="P1500", notes="Look."),
    rule("b-thin", when={"film_um": "< 90"}, finish_finest="P1200", notes="Thin."),
    rule("a-thin", when={"film_um": ["no reading", "<= 90"]}, finish_finest="P1200", cautions="Ask."),
    rule("thick", when={"film_um": "> 120", "tone": "dark"}, finish_coarsest="P800", notes="Look."),
    rule("ask", when={"film_um": "90 .. 120", "flake": "fine"}, holds="Ask."),
    rule("stop", when={"flake": "fine", "tone": "dark"}, holds="Stop."),
    rule("seen", when={"seen": False, "feature": "edge"}, risk_limit=0.3),
]
WHERE: dict[str, Any] = {
    "special": ("none",), "surface": ("aged-clear",), "next": ("base",), "role": ("blend",),
    "zone": ("fade",), "stages": (2,),
}  # fmt: skip
"""What is asked for, so that tables are small."""


def table(**more: Any) -> Table:
    """Return the table of the rules above, of a part of the cases."""
    return Table(Engine(RULES), box_of(WHERE | more))


def cases() -> list[Facts]:
    """Return cases on, between and beyond all limits of film."""
    some = product(("fine", "vapour", "solid"), ("dark", "mid"), (True, False), ("edge", "recess"), FILMS)
    return [
        Facts(flake=flake, tone=tone, seen=seen, feature=feature, film_um=film, length_mm=500.0, panel_m2=0.5)
        for flake, tone, seen, feature, film in some
    ]


def test_each_case_stands_in_one_row_with_what_the_engine_says_of_it() -> None:
    """On the limits of a number and beside them; a case of other facts in none."""
    small, engine = table(), Engine(RULES)
    found = [small.cells(row) for row in small.rows()]
    rows = Rows(iter(found))
    for case in cases():
        assert check(rows, engine, case)
        assert not rows.of(case._replace(zone="colour"))
    for row in found:  # what is asked for stands in each, and what any value may have in none
        assert [row[fact] for fact in WHERE] == ["none", "aged-clear", "base", "blend", "fade", "2"]
        assert (row["panel"], row["panel_m2_from"], row["panel_m2_below"]) == (None, None, None)
        assert row["panel_m2_unknown"] in ("any", "no")


def test_cells_are_written_as_the_columns_say() -> None:
    """Ranges from the first number to the first beyond, words in lower case, texts and rules in a row."""
    small = table(flake=("solid",), tone=("dark",), feature=("edge",), reach=("machine",), seen=(True,))
    found = {
        (row["film_um_from"], row["film_um_below"], row["film_um_unknown"], row["seen"]): row
        for row in map(small.cells, small.rows())
    }
    above = [nextafter(90.0, inf), nextafter(120.0, inf)]
    films = [
        (None, 90.0, "no"), (90.0, above[0], "any"), (above[0], above[1], "no"),
        (above[1], None, "no"),
    ]  # fmt: skip
    assert {key[:3] for key in found} == set(films)
    assert {key[3] for key in found} == {"true"}
    thin, thick = (next(row for key, row in found.items() if key[:3] == films[at]) for at in (0, 3))
    assert (thin["finish_finest"], thin["finish_finest_rule"]) == ("P1200", "a-thin|b-thin")
    assert (thin["notes"], thin["notes_rule"]) == ("Look. | Thin.", "all|b-thin")
    assert (thin["cautions"], thin["cautions_rule"]) == ("Ask.", "a-thin")
    assert (thin["finish_coarsest"], thin["finish_coarsest_rule"]) == (None, None)
    assert (thick["notes"], thick["notes_rule"]) == ("Look.", "all|thick")
    assert (thick["cautions"], thick["wet_bed"], thick["wet_bed_rule"]) == (None, "no", None)
    assert thin["holds"] is thin["holds_rule"] is None
    assert thick["finish_coarsest"] == "P800"
    by_hand = table(flake=("solid",), tone=("dark",), feature=("edge",), reach=("hand",))
    assert {row["finish_coarsest"] for row in map(by_hand.cells, by_hand.rows())} == {None}  # nobody reads it


def test_held_cases_stand_last_with_their_holds_alone() -> None:
    """Two that hold together stand side by side."""
    small = table(flake=("fine",))
    found = [small.cells(row) for row in small.rows()]
    held = [row["holds"] is not None for row in found]
    assert held == sorted(held)
    assert {(row["holds"], row["holds_rule"]) for row in found} == {
        (None, None), ("Ask.", "ask"), ("Stop.", "stop"), ("Ask. | Stop.", "ask|stop"),
    }  # fmt: skip
    assert all(row["notes"] is None for row in found if row["holds"])


def test_a_number_that_may_be_unknown_stands_with_its_first_range() -> None:
    """One row each for broken ranges; where any number will do, or none, both limits are empty."""
    rules = [
        rule("all", when={}, finish_finest="P1500"),
        rule("odd", when={"film_um": "90 .. 120"}, finish_finest="P1200"),
        rule("else", when={"film_um": "< 60", "flake": "vapour"}, finish_finest="P1000"),
    ]
    small = Table(
        Engine(rules), box_of(WHERE | {"feature": ("face",), "flake": ("fine",), "tone": ("dark",)})
    )
    told = [
        (row["film_um_from"], row["film_um_below"], row["film_um_unknown"], row["finish_finest"])
        for row in map(small.cells, small.rows())
    ]
    end = nextafter(120.0, inf)
    assert sorted(told, key=str) == sorted(
        [(None, 90.0, "any", "P1500"), (90.0, end, "no", "P1200"), (end, None, "no", "P1500")], key=str
    )
    plain = Table(Engine(rules[:1]), box_of(WHERE | {"feature": ("face",), "flake": ("fine",)}))
    (row,) = map(plain.cells, plain.rows())
    assert (row["film_um_from"], row["film_um_below"], row["film_um_unknown"]) == (None, None, "any")


def test_a_range_that_is_asked_for_cuts_the_rows() -> None:
    """Though no rule begins or ends there."""
    asked = box_of(WHERE | {"flake": ("solid",)}, {"film_um": Interval(100.0, True, 110.0, True)})
    small = Table(Engine(RULES), asked)
    rows = [small.cells(row) for row in small.rows()]
    assert rows
    assert {(row["film_um_from"], row["film_um_below"], row["film_um_unknown"]) for row in rows} == {
        (100.0, nextafter(110.0, inf), "no")
    }


def test_what_cannot_be_stands_in_no_row() -> None:
    """Nor does a place that no card has."""
    cannot = [Impossible(rule("x", when={"flake": "fine", "film_um": "< 90"}, wet_bed="no").when, "Never.")]
    small = Table(Engine(RULES, cannot), box_of(WHERE))
    rows = [small.cells(row) for row in small.rows()]
    for case in cases():
        is_out = case.flake == "fine" and case.film_um is not None and case.film_um < 90
        assert any(holds(row, case) for row in rows) != is_out
    assert not any(holds(row, Facts(feature="face", reach="hand")) for row in rows)


def test_as_many_rows_as_were_counted_are_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """So many are let be, one more is refused before any is written."""
    small = table()
    counted = sum(small._rows_below((region, *nodes.values())) for region, nodes in small._parts)
    assert counted == len(list(small.rows())) > 20
    monkeypatch.setattr(in_table, "_ROWS_MOST", counted)
    table()
    monkeypatch.setattr(in_table, "_ROWS_MOST", counted - 1)
    with pytest.raises(TooIntricateError):
        table()


@pytest.mark.parametrize("module", [in_table, in_answers])
def test_a_table_that_takes_too_many_steps_is_refused(monkeypatch: pytest.MonkeyPatch, module: Any) -> None:
    """While answers are worked out, or rows are counted: with so many it is written, with one less not."""

    def is_written(most: int) -> bool:
        with monkeypatch.context() as patched:
            patched.setattr(module, "STEPS_MOST", most)
            try:
                table(flake=("solid",), tone=("dark",))
            except TooIntricateError:
                return False
        return True

    enough = bisect_left(range(400), True, key=is_written)
    assert 3 < enough < 400
    assert not is_written(enough - 1)


def test_cases_too_intricate_to_be_told_apart_make_no_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """Which are held is then not known."""
    monkeypatch.setattr(in_table, "World", lambda space, rules, *_: World(space, rules, nodes_most=0))
    with pytest.raises(TooIntricateError):
        table()
