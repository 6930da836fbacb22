"""Numbers as they are printed: exact definitions of inch, mil and US fluid ounce, and times as said."""

import pytest

from prepadvisor.wording import Units, minutes

METRIC, IMPERIAL = Units(), Units(imperial=True)


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        (25.4, "1 in"),
        (304.8, "12 in"),
        (12.7, "1/2 in"),
        (3.175, "1/8 in"),
        (150.0, "5-7/8 in"),
        (0.0, "0 in"),
    ],
)
def test_lengths_are_inches_to_the_nearest_eighth(mm: float, inches: str) -> None:
    """One inch is 25.4 mm exactly (international yard and pound agreement of 1959)."""
    assert IMPERIAL.length(mm) == inches


def test_a_span_names_its_unit_once() -> None:
    """Metric with a hyphen; inches with a word, since fractions have hyphens of their own."""
    assert METRIC.span(150, 700) == "150-700 mm"
    assert IMPERIAL.span(0, 152.4) == "0 to 6 in"


@pytest.mark.parametrize(("um", "mil"), [(25.4, "1.0 mil"), (127.0, "5.0 mil"), (2.54, "0.10 mil")])
def test_film_is_in_mils(um: float, mil: str) -> None:
    """A mil is a thousandth of an inch: 25.4 µm."""
    assert IMPERIAL.film(um) == mil


def test_thin_film_keeps_a_decimal() -> None:
    """What comes off is a few µm, where a decimal matters; a gauge reads whole µm."""
    assert METRIC.film(112.0) == "112 um"
    assert METRIC.film(1.24) == "1.2 um"


@pytest.mark.parametrize(
    ("ml", "shown"),
    [(29.5735, "1 US fl oz (30 ml)"), (150.0, "5.5 US fl oz (150 ml)"), (250.0, "8.5 US fl oz (250 ml)")],
)
def test_ounces_are_rounded_up_so_that_a_mix_is_never_short(ml: float, shown: str) -> None:
    """A US fluid ounce is 29.5735 ml (231 cubic inches a gallon, 128 ounces: NIST Handbook 44)."""
    assert IMPERIAL.volume(ml) == shown


def test_area_is_in_square_feet() -> None:
    """One square foot is 0.09290304 m² exactly."""
    assert IMPERIAL.area(0.09290304 * 4) == "4.0 ft2"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0, "0 min"), (0.4, "under 1 min"), (5.6, "6 min"), (57.4, "57 min"), (57.6, "about 1 h"),
        (81, "about 1 h 20"), (119, "about 2 h"), (63, "about 1 h 05"),
    ],
)  # fmt: skip
def test_times_are_said_as_in_a_shop(value: float, said: str) -> None:
    """Minutes below an hour, then to the nearest five minutes."""
    assert minutes(value) == said


@pytest.mark.parametrize("units", [METRIC, IMPERIAL])
@pytest.mark.parametrize("other", [4.8, 5.02, 5.001, 10.3])
def test_two_films_held_against_each_other_are_told_apart(units: Units, other: float) -> None:
    """Of 0.20 mil that comes off where 0.20 mil may, nobody sees what is wrong."""
    for one in (5.0, 10.0):
        said = units.films(one, other)
        assert said[0] != said[1]
    assert units.films(5.0, 5.0) == (units.film(5.0), units.film(5.0))
