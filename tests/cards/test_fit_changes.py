"""Which of the shop's own jobs other numbers change: each by its number, places as on the card."""

from prepadvisor.cards.fit.changed import SHOWN, JobChanged, PlaceChanged, changed_says
from prepadvisor.records import Grade


def _job(number: str, *changes: PlaceChanged) -> JobChanged:
    return JobChanged(f"jobs/{number}.toml", number, 9, 4.25, changes)


def test_a_job_names_its_places_by_what_changes() -> None:
    """Places that change alike stand together, with the grade before and now."""
    finer = [PlaceChanged(f"p/{at}", f"A{at}", ("finer",), Grade("P800"), Grade("P1000")) for at in (1, 2)]
    held = PlaceChanged("p/H1", "A3", ("held",), Grade("P1000"), None)
    (said,) = changed_says([_job("1042", *finer, held)])
    assert said.startswith("1042 (1042.toml): 3 of 9 places, +4.2 min. A1, A2: finish finer (P800 before, ")
    assert said.endswith("now P1000); A3: no finish any more: held")


def test_the_rest_is_counted() -> None:
    """A dozen are told one by one; those that change in minutes alone are a number."""
    one = PlaceChanged("p/face", "A", ("wet bed less",), Grade("P800"), Grade("P800"))
    said = list(changed_says([*(_job(str(at), one) for at in range(SHOWN + 2)), _job("99")]))
    assert len(said) == SHOWN + 2
    assert said[-2:] == ["and 2 more jobs", "and 1 job in minutes or discs alone"]
