"""Each reason why an acceptance does not count, with its facts: at a finding, a planned hold, elsewhere."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

import pytest

from prepadvisor.checkoff.basis import bases
from prepadvisor.logbook import Writer
from prepadvisor.records import Check, Job
from prepadvisor.records.gate import Accepted, LeftTheJob, NameIt, NotAccepted, Said
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, Shopfloor

E2: Final = f"{DOOR}/E2"
E3: Final = f"{DOOR}/E3"
LEADS: Final = ("L. D.", "J. B.")
NOTE: Final = "hidden under the trim"
Change = Callable[[Shopfloor], Any]


@pytest.fixture
def shop(worked_job: Job, shipped_house: House) -> Shopfloor:
    """Return the worked job in a shop of two leads."""
    two = shipped_house.shop.model_copy(update={"leads": LEADS})
    return Shopfloor(worked_job, replace(shipped_house, shop=two))


def accept(floor: Shopfloor, where: str, **stated: Any) -> Check:
    """Log an acceptance as a file may have it, the refusals of the command passed by, and return it."""
    panel, _, feature = where.partition("/")
    floor.now += dt.timedelta(minutes=1)
    parts = {
        "at": floor.now, "by": "L. D.", "panel": panel, "feature": feature, "step": "accepted", "note": NOTE,
        "basis": bases(floor.job, floor.advice, floor.house).get(where, ""), **stated,
    }  # fmt: skip
    knew = parts.pop("knew", None)
    check = floor.writer.stamp(Check.model_validate(parts), floor.log)
    if knew is not None:
        check = check.model_copy(update={"knew": knew})
    floor.add(check)
    return check


def answers(floor: Shopfloor) -> list[Accepted | NotAccepted]:
    """Return what is told of acceptances."""
    return [each for each in floor.gate().gate.told if isinstance(each, Accepted | NotAccepted)]


def coarse(floor: Shopfloor, grade: str, **more: str) -> Shopfloor:
    """Scuff an edge with another grade, once all is done."""
    return floor.put(E2, "scuffed", tool="hand-pad", grade=grade, **more)


FOUND: Final = {"cut-too-coarse", "saw-something", "cut-too-fine", "rubbed-through"}


WHY: Final[list[tuple[str, Change, dict[str, Any], str | None]]] = [
    ("lines", lambda floor: floor.put(E2, "inspected", result="lines"), {}, None),
    ("a little coarse", lambda floor: coarse(floor, "P800"), {}, None),
    ("too coarse", lambda floor: coarse(floor, "P600"), {}, "too-coarse"),
    ("no initials", lambda floor: coarse(floor, "P800"), {"by": "…"}, "no-initials"),
    ("no reason", lambda floor: coarse(floor, "P800"), {"note": "ok"}, "no-reason"),
    ("not a lead", lambda floor: coarse(floor, "P800"), {"by": "Q. R."}, "not-a-lead"),
    ("his own", lambda floor: coarse(floor, "P800", by="L. D."), {}, "own-work"),
    ("gloss", lambda floor: floor.put(E2, "inspected", result="gloss"), {}, "gloss"),
    ("rubbed", lambda floor: floor.put(E2, "inspected", result="cut-through"), {}, "rubbed-through"),
    ("fine", lambda floor: floor.put(E2, "guide-coated").put(E2, "sanded", tool="da-soft", grade="P3000"), {},
     "too-fine"),
    ("nothing", lambda floor: floor, {}, "nothing-to-accept"),
    ("no such", lambda floor: coarse(floor, "P800"), {"of": "nobody-7"}, "no-such-entry"),
    ("not known", lambda floor: coarse(floor, "P800"), {"knew": "start"}, "not-known"),
    ("edited", lambda floor: coarse(floor, "P800"), {"knew": "nobody-7"}, "edited"),
    ("ahead", lambda floor: coarse(floor, "P800"), {"at": dt.datetime(2026, 4, 1, tzinfo=dt.UTC)}, "ahead"),
    ("moved", lambda floor: coarse(floor, "P800"), {"basis": "zones:0000 asks:1111"}, "moved"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "found", "stated", "why"), WHY, ids=[case[0] for case in WHY])
def test_why_a_finding_is_accepted_or_not(
    shop: Shopfloor, name: str, found: Change, stated: dict[str, Any], why: str | None
) -> None:
    """With the leads who may, and the parts that moved; the finding stands unless it is accepted."""
    found(shop)
    what = Said(len(shop.log), shop.log[-1])
    before = FOUND & set(shop.gate().kinds(E2))
    assert bool(before) is (name != "nothing")
    if stated.get("knew") == "start":  # another writer, who had read nothing
        shop.writer = Writer("other")
    check = accept(shop, E2, **stated)
    said = Said(len(shop.log), check)
    if why is None:
        assert answers(shop) == [Accepted(E2, said, what, own=False)]
        assert not before & set(shop.gate().kinds(E2))
        return
    leads = LEADS if why == "not-a-lead" else ()
    parts = ("zones", "asks") if why == "moved" else ()
    assert answers(shop) == [NotAccepted(E2, said, why, leads, parts)]  # type: ignore[arg-type]
    assert before <= set(shop.gate().kinds(E2))


@pytest.mark.parametrize(
    ("stated", "why"),
    [
        ({}, None),
        ({"by": "K. M."}, "not-a-lead"),
        ({"by": "…"}, "no-initials"),
        ({"note": "ok"}, "no-reason"),
        ({"knew": "nobody-7"}, "edited"),
        ({"at": dt.datetime(2026, 4, 1, tzinfo=dt.UTC)}, "ahead"),
        ({"basis": "zones:0000"}, "moved"),
    ],
)
def test_why_a_hold_of_the_plan_is_lifted(shop: Shopfloor, stated: dict[str, Any], why: str | None) -> None:
    """A border that runs on, where a coat would end without an edge; no entry is accepted with it."""
    shop.with_log(()).with_line("E3", kind="run-on").work_through()
    check = accept(shop, E3, **stated)
    said = Said(len(shop.log), check)
    if why is None:
        assert answers(shop) == [Accepted(E3, said, None, own=False)]
    else:
        leads = LEADS if why == "not-a-lead" else ()
        told = answers(shop)
        assert (E3, said, why, leads) in {each[:4] for each in told if isinstance(each, NotAccepted)}
    assert ("plan-holds" in shop.gate().kinds(E3)) is (why is not None)


def test_a_hold_of_the_plan_is_lifted_by_no_word_that_is_about_something_else(shop: Shopfloor) -> None:
    """A reason written beside a look, or an acceptance of a finding by its id: neither is the lead's word."""
    shop.with_log(()).with_line("E3", kind="run-on").work_through()
    accept(shop, E3, step="inspected", result="clear")
    assert "plan-holds" in shop.gate().kinds(E3)
    look = shop.put(E3, "inspected", result="lines").log[-1]
    accept(shop, E3, of=look.id)
    assert "plan-holds" in shop.gate().kinds(E3)


def test_what_left_the_job_is_named_by_who_knew_all_that_was_done_there(shop: Shopfloor) -> None:
    """An acceptance by one who had read all but the last entry names nothing away."""
    read = len(shop.log)
    late, other = shop.writer, Writer("other")
    shop.put(E2, "inspected", result="clear")
    shop.without_line("E2")
    shop.now += dt.timedelta(minutes=1)
    stated = {"at": shop.now, "by": "L. D.", "panel": DOOR, "feature": "E2", "step": "accepted", "note": NOTE}
    shop.add(other.stamp(Check.model_validate(stated), shop.log[:read]))
    assert E2 in shop.gate().held
    shop.writer = late
    accept(shop, E2)
    assert E2 not in shop.gate().held


@pytest.mark.parametrize(
    ("stated", "why"),
    [
        ({}, None),
        ({}, "rubbed-through"),
        ({"by": "K. M."}, "not-a-lead"),
        ({"by": "…"}, "no-initials"),
        ({"note": "ok"}, "no-reason"),
        ({"knew": "nobody-7"}, "edited"),
        ({"at": dt.datetime(2026, 4, 1, tzinfo=dt.UTC)}, "ahead"),
    ],
)
def test_why_what_left_the_job_is_named_or_not(
    shop: Shopfloor, stated: dict[str, Any], why: str | None
) -> None:
    """A line that was worked and is deleted; a rub-through there is never named away."""
    rubbed = why == "rubbed-through"
    if rubbed:
        shop.put(E2, "inspected", result="cut-through")
    here = [number for number, check in enumerate(shop.log, 1) if f"{check.panel}/{check.feature}" == E2]
    entries = tuple(here)
    shop.without_line("E2")
    (hold,) = (each for each in shop.gate().gate.holds if each.place == E2)
    assert isinstance(hold.fact, LeftTheJob)
    assert (hold.fact.entries, hold.fact.rubbed) == (entries, rubbed)
    assert hold.mend == NameIt(hold.fact.near, rubbed)
    check = accept(shop, E2, **stated)
    said, last = Said(len(shop.log), check), Said(entries[-1], shop.log[entries[-1] - 1])
    if why is None:
        assert answers(shop) == [Accepted(E2, said, last, own=False)]
    else:
        assert answers(shop) == [NotAccepted(E2, said, why, LEADS if why == "not-a-lead" else ())]  # type: ignore[arg-type]
    assert (E2 in shop.gate().held) is (why is not None)


@pytest.mark.parametrize(
    ("panel", "feature", "near"),
    [(DOOR, "E22", E2), ("left-front-dor", "E2", E2), ("left-front-wing", "R11", "left-front-wing/R1"),
     ("roof", "zz", "")],
)  # fmt: skip
def test_a_place_that_is_not_there_names_the_one_that_may_be_meant(
    shop: Shopfloor, panel: str, feature: str, near: str
) -> None:
    """A slip of a letter or two, in panel or place; nothing where nothing is like it."""
    stated = {"at": shop.now, "by": "KM", "panel": panel, "feature": feature, "step": "inspected"}
    shop.add(shop.writer.stamp(Check.model_validate({**stated, "result": "clear"}), shop.log))
    (hold,) = (each for each in shop.gate().gate.holds if each.place == f"{panel}/{feature}")
    assert hold.fact == LeftTheJob((len(shop.log),), near)
    assert hold.mend == NameIt(near)
