"""Guards in the shipped rules against dangerous pieces of wrong advice, each listing every offender.

All of it is common practice without a published source. The numbers are those of the list of dangers; what
guards the check-off and the plan as a whole is tested there.
"""

import itertools
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from prepadvisor.cases import CATEGORIES, CATEGORY, Facts
from prepadvisor.records import RANK, Grade, OutputName
from prepadvisor.standards import BadRulesError, House, build
from prepadvisor.standards.engine import OUTPUTS, Engine
from prepadvisor.standards.language.layers import RuleSource

pytestmark = pytest.mark.practice

Cases = dict[str, NDArray[Any]]
VALUES = {category.name: category.values for category in CATEGORIES}
CLEARS = ("aged-clear", "cured-clear")
UNDERCOATS = ("primer-surfacer", "electrocoat", "primed-plastic")
NOT_COVERED = ("matt", "lacquer", "wrap", "melt-out", "radar", "fresh-clear")
FACTS = ("flake", "zone", "stages", "surface", "next", "feature", "reach", "seen")


@pytest.fixture(scope="module")
def engine(shipped_house: House) -> Engine:
    """The shipped standards alone."""
    return shipped_house.engine


@pytest.fixture(scope="module")
def cases() -> Cases:
    """All combinations of the facts that decide grades and beds, on a bonnet, film unknown, thin, usual."""
    axes = [np.arange(len(VALUES[fact])) for fact in FACTS]
    grid = np.meshgrid(*axes, np.array([np.nan, 80.0, 120.0]), indexing="ij")
    columns = {fact: each.reshape(-1) for fact, each in zip((*FACTS, "film_um"), grid, strict=True)}
    columns = {fact: each.astype(np.intp) if fact in CATEGORY else each for fact, each in columns.items()}
    bonnet = VALUES["panel"].index("bonnet")
    face = columns["feature"] <= 1
    can_be = ~(face & ((columns["reach"] == 1) | (columns["seen"] == 0)))
    kept = {fact: each[can_be] for fact, each in columns.items()}
    return kept | {"panel": np.full(int(can_be.sum()), bonnet)}


@pytest.fixture(scope="module")
def said(engine: Engine, cases: Cases) -> Cases:
    """What the rules say of all those cases."""
    return {name: column.astype(float) for name, column in engine.sweep(cases).items()}


def offenders(cases: Cases, wrong: NDArray[np.bool_]) -> list[dict[str, object]]:
    """Return the first cases in which something is wrong, in words."""
    return [
        {fact: VALUES[fact][int(cases[fact][row])] for fact in FACTS}
        | {"film_um": float(cases["film_um"][row])}
        for row in np.flatnonzero(wrong)[:10]
    ]


def among(cases: Cases, fact: str, *values: object) -> NDArray[np.bool_]:
    """Say for every case whether a fact has one of the values."""
    return np.isin(cases[fact], [VALUES[fact].index(value) for value in values])


def test_no_wet_bed_lies_on_anything_but_clear_in_the_fade(cases: Cases, said: Cases) -> None:
    """Danger 3: over primer, a rub-through, filler or electrocoat a bed is neither asked for nor allowed."""
    asked = said["wet_bed"] > 0
    assert offenders(cases, asked & ~(among(cases, "surface", *CLEARS) & among(cases, "zone", "fade"))) == []
    assert offenders(cases, (said["bed_coats_max"] > 0) & ~among(cases, "surface", *CLEARS)) == []


def test_no_sealer_outside_full_colour(cases: Cases, said: Cases) -> None:
    """Danger 3: sealer, on the panel or to come, is held in the fade and in the clear zone."""
    sealer = among(cases, "surface", "sealer") | among(cases, "next", "sealer")
    assert offenders(cases, sealer & ~among(cases, "zone", "colour") & (said["holds"] == 0)) == []


def test_a_bed_never_has_more_than_two_coats(cases: Cases, said: Cases) -> None:
    """Danger 4: coats do not stand in for sanding, wherever a bed may lie."""
    assert offenders(cases, (said["wet_bed"] > 0) & ~(said["bed_coats_max"] <= 2)) == []


def test_the_film_that_may_be_cut_is_capped_on_every_face_and_line(cases: Cases, said: Cases) -> None:
    """Danger 5: 10 µm on a face, 5 µm on a line, wherever clear or primer is sanded, reading or not."""
    counted = among(cases, "surface", *CLEARS, "primer-surfacer", "sealer", "electrocoat")
    face = among(cases, "feature", "face", "patch")
    assert offenders(cases, counted & face & (said["film_off_max_um"] != 10)) == []
    assert offenders(cases, counted & ~face & (said["film_off_max_um"] != 5)) == []


def test_no_surface_may_be_sanded_too_fine_to_stick(cases: Cases, said: Cases) -> None:
    """Danger 6: P2000 nowhere, P1500 on no primer, electrocoat or plastic; each surface has its key limit."""
    answered = said["holds"] == 0
    assert offenders(cases, answered & (said["finish_finest"] < 0)) == []
    assert offenders(cases, answered & (said["finish_finest"] > RANK[Grade("P1500")])) == []
    under = among(cases, "surface", *UNDERCOATS)
    assert offenders(cases, answered & under & (said["finish_finest"] > RANK[Grade("P1000")])) == []


@pytest.mark.parametrize("surface", UNDERCOATS)
def test_a_finer_demand_collides_with_the_key_limit_instead_of_moving_it(
    shipped_house: House, surface: str
) -> None:
    """Danger 6: whatever a house asks of a flake, the key limit of the surface stays."""
    finer = {
        "id": "own",
        "says": "P1500.",
        "set": {"finish_coarsest": "P1500", "finish_finest": "P2000"},
        "source": "x",
    }
    own = build([RuleSource("own.toml", "own", {"rule": [finer]})]).rules
    engine = Engine([*shipped_house.engine.rules, *own])
    next_coat = "sealer" if surface == "electrocoat" else "base"
    said = engine.decide(Facts(flake="vapour", surface=surface, next=next_coat, zone="colour"))
    assert said.finish_finest is not None
    assert said.finish_coarsest == "P1500"
    assert RANK[said.finish_finest] <= RANK[Grade("P1000")]


@pytest.mark.parametrize("written", [600, "600", "grey", "P601", "16 micron", 16.0, "scuff pad"], ids=str)
def test_a_grade_that_could_be_misread_is_refused(written: object) -> None:
    """Danger 7: bare numbers, pads by colour and micron discs are no grades in a rule."""
    rule = {"id": "own", "says": "x", "set": {"hand_coarsest": written}, "source": "x"}
    with pytest.raises(BadRulesError):
        build([RuleSource("own.toml", "own", {"rule": [rule]})])


@pytest.mark.parametrize("output", [name for name, output in OUTPUTS.items() if not output.is_union])
def test_a_finer_flake_is_never_treated_as_a_coarser_one(
    cases: Cases, said: Cases, output: OutputName
) -> None:
    """Danger 8: along flake no limit gets coarser, no bed or guide coat weaker, no risk higher."""
    shape = (len(VALUES["flake"]), -1)
    order = np.argsort(cases["flake"], kind="stable")
    column = np.nan_to_num(said[output][order].reshape(shape), nan=-1.0)
    laxer = np.diff(column, axis=0) * (-1 if OUTPUTS[output].kind == "number lowest" else 1) < 0
    rows = np.zeros(len(order), np.bool_)
    rows[order.reshape(shape)[1:][laxer]] = True
    assert offenders(cases, rows) == []


@pytest.mark.parametrize(("surface", "next_coat"), itertools.product(VALUES["surface"], VALUES["next"]))
def test_colour_and_clear_go_only_where_they_may(engine: Engine, surface: str, next_coat: str) -> None:
    """Danger 9: every surface with every next coat has grades only if that coat may go straight on it."""
    allowed = {
        "aged-clear": {"base"},
        "cured-clear": {"base"},
        "primer-surfacer": {"sealer", "base"},
        "sealer": {"base"},
        "electrocoat": {"primer", "sealer"},
        "primed-plastic": {"base"},
        "feather-edge": {"primer"},
        "filler": {"primer"},
        "bare": set[str](),
    }
    for flake, feature in itertools.product(VALUES["flake"], ("face", "patch", "edge")):
        case = Facts(flake=str(flake), feature=feature, surface=surface, next=next_coat, zone="colour")
        assert (engine.decide(case).holds == ()) == (next_coat in allowed[surface])


@pytest.mark.parametrize(
    ("surface", "next_coat", "missing"),
    [
        ("filler", "base", "Primer is missing"),
        ("filler", "sealer", "Primer is missing"),
        ("feather-edge", "base", "Primer is missing"),
        ("electrocoat", "base", "Primer or sealer is missing"),
        ("bare", "base", "primer first"),
        ("primer-surfacer", "clear", "colour is missing"),
        ("aged-clear", "clear", "colour is missing"),
    ],
)
def test_the_hold_names_the_coat_that_is_missing(
    engine: Engine, surface: str, next_coat: str, missing: str
) -> None:
    """Danger 9: the words say what goes on first."""
    holds = engine.decide(Facts(surface=surface, next=next_coat, zone="colour")).holds
    assert any(missing in hold for hold in holds)


def test_clear_alone_goes_on_nothing_but_clear(cases: Cases, said: Cases) -> None:
    """Danger 9: in the clear zone any other surface is held until the colour reaches it."""
    wrong = among(cases, "zone", "clear") & ~among(cases, "surface", *CLEARS) & (said["holds"] == 0)
    assert offenders(cases, wrong) == []


@pytest.mark.parametrize("special", NOT_COVERED)
def test_what_is_not_covered_is_held_whatever_else_holds(engine: Engine, cases: Cases, special: str) -> None:
    """Danger 10: matt, lacquer, wrap, melt-out, radar and fresh clear are never an ordinary blend."""
    column = np.full(len(cases["flake"]), VALUES["special"].index(special))
    held = engine.sweep({**cases, "special": column}, ["holds"])["holds"]
    assert offenders(cases, held == 0) == []


def test_three_stages_are_never_taken_for_less_than_very_fine(engine: Engine) -> None:
    """Danger 10: whatever its flake, a three-stage colour gets the limits of very fine flake or tighter."""
    shared = (("zone", ("colour", "fade")), ("surface", (*CLEARS, "primer-surfacer", "primed-plastic")))
    places = (("feature", ("face", "edge", "recess")), ("panel", ("front-door", "bonnet")))
    for values in itertools.product(*(each for _, each in (*shared, *places)), VALUES["flake"]):
        zone, surface, feature, panel, flake = (str(value) for value in values)
        reach = "hand" if feature == "recess" else "machine"
        case = Facts(
            zone=zone, surface=surface, feature=feature, panel=panel, reach=reach, flake=flake, stages=3
        )
        three, very_fine = engine.decide(case), engine.decide(case._replace(flake="very-fine", stages=2))
        laxer = [
            name
            for name, output in OUTPUTS.items()
            if not output.is_union
            and getattr(very_fine, name) is not None
            and output.strength(getattr(three, name)) < output.strength(getattr(very_fine, name))
            and name != "finish_finest"
        ]
        assert laxer == [], case
        assert any("test panel" in caution for caution in three.cautions)
