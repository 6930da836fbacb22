"""Every kind has a sentence of its own, in both systems of units, and JSON carries its name."""

import datetime as dt
from typing import Any, Literal, get_args, get_origin, get_type_hints

import pytest

from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records import (
    Caution,
    DoneAdvice,
    DoneKind,
    Grade,
    Hold,
    HoldKind,
    LogRefusal,
    ModelSaid,
    Offer,
    OfferKind,
    PanelException,
    PlaceNote,
    WetBedAdvice,
)
from prepadvisor.wording import (
    Words,
    as_data,
    caution_says,
    done_says,
    exception_says,
    hold_mend,
    model_says,
    note_says,
    offer_as_it_is,
    offer_says,
    refusal_says,
)
from prepadvisor.wording.remarks import hold_why


def kinds(family: Any) -> list[Any]:
    """Return the kinds of a family; a family of one is that one."""
    return list(get_args(family)) or [family]


def sample(kind: Any) -> Any:
    """Make one of a kind with facts of its types."""

    def value(hint: Any) -> Any:
        if get_origin(hint) is Literal:
            return get_args(hint)[-1]
        if hint in (str, Grade):
            return "P800"
        if hint is int:
            return 2
        if hint is float:
            return 12.5
        if hint is bool:
            return True
        if hint is dt.datetime:
            return dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)
        if get_origin(hint) is tuple:
            inner = get_args(hint)
            return (value(inner[0]),) if inner[-1] is ... else tuple(map(value, inner))
        if hasattr(hint, "_fields"):
            return sample(hint)
        return value(get_args(hint)[0])  # X | None

    hints = {name: hint for name, hint in get_type_hints(kind).items() if name != "kind"}
    return kind(**{name: value(hint) for name, hint in hints.items()})


@pytest.fixture(params=["very-fine-door-and-wing", "imperial-display"])
def words(request: pytest.FixtureRequest) -> Words:
    """Names and units of a metric and of an imperial card."""
    house = load_house()
    return Words(advise(load_job(str(demo_jobs_dir() / f"{request.param}.toml"), house), house))


SAYS: dict[str, Any] = {
    "hold": (HoldKind, lambda fact, words: hold_why(Hold("p/face/fade", fact), words)),
    "mend": (HoldKind, lambda fact, words: hold_mend(Hold("p/face/fade", fact, (), (Grade("P800"),)), words)),
    "scuff": (DoneKind, lambda fact, _words: done_says(DoneAdvice(fact=fact))),
    "offer": (OfferKind, lambda fact, words: offer_says(Offer((), fact, WetBedAdvice()), words)),
    "as it is": (OfferKind, lambda fact, _words: offer_as_it_is(Offer((), fact, WetBedAdvice()))),
    "caution": (Caution, caution_says),
    "note": (PlaceNote, note_says),
    "exception": (PanelException, exception_says),
    "model": (ModelSaid, lambda fact, _words: model_says(fact)),
}
CASES = [(name, kind) for name, (family, _) in SAYS.items() for kind in kinds(family)]
SILENT = {("mend", "rule-hold")}
"""A rule's own words say all there is."""


@pytest.mark.parametrize(("name", "kind"), CASES, ids=lambda one: getattr(one, "__name__", one))
def test_every_kind_has_its_sentence_without_metric_units_on_an_imperial_card(
    name: str, kind: Any, words: Words
) -> None:
    """What is left out fails mypy; what is said in the wrong unit fails here."""
    fact = sample(kind)
    says = SAYS[name][1](fact, words)
    assert bool(says) == ((name, fact.kind) not in SILENT)
    assert "None" not in says
    assert not (words.units.imperial and any(unit in says for unit in (" mm", " um", " µm")))


@pytest.mark.parametrize(
    "family", [HoldKind, DoneKind, OfferKind, Caution, PlaceNote, PanelException, ModelSaid]
)
def test_the_names_of_kinds_differ(family: Any) -> None:
    """JSON tells them apart by their names, and so does equality."""
    names = [kind._field_defaults["kind"] for kind in kinds(family)]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("kind", kinds(HoldKind), ids=lambda one: one.__name__)
def test_a_hold_in_json_has_its_kind_its_facts_and_its_words(kind: Any, words: Words) -> None:
    """Programs read kind and facts, people the sentences."""
    fact = sample(kind)
    data = as_data(Hold("p/face/fade", fact), words)
    assert data["kind"] == fact.kind
    assert set(data["facts"]) == set(fact._fields) - {"kind"}
    assert data["why"]


@pytest.mark.parametrize("kind", kinds(LogRefusal), ids=lambda one: one.__name__)
def test_a_refused_entry_is_told_on_the_screens_without_options_of_a_command(kind: Any) -> None:
    """Nobody types "--by" on a screen; and every kind has its words."""
    fact = sample(kind)
    assert refusal_says(fact)
    assert "--" not in refusal_says(fact, typed=False)
