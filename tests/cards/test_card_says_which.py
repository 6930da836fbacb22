"""A card names what it is about: the colour, the panels of a caution, the grade of the place that decides."""

from collections.abc import Callable

import pytest

from prepadvisor.cards.page.columns import wrap
from prepadvisor.cards.page.text import write_text
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet
from prepadvisor.files import job_of_text, load_house
from prepadvisor.planning import advise

Carded = Callable[[str], CardSheet]
TWO = """
[job]
number = "1"
units = "imperial"
[colour]
flake = "medium"
stages = 2
tone = "mid"
book = "Silt"
[[panel]]
id = "door"
kind = "front-door"
role = "blend"
surface = "aged-clear"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400
film_um = [70]
[[panel]]
id = "wing"
kind = "front-wing"
role = "repair"
surface = "aged-clear"
length_mm = 900
height_mm = 600
[[panel]]
id = "bumper"
kind = "front-bumper"
role = "repair"
surface = "aged-clear"
length_mm = 1500
height_mm = 500
"""


@pytest.fixture(scope="module")
def carded(tmp_path_factory: pytest.TempPathFactory) -> Carded:
    """Return a maker of cards from the text of a job, in a house with a colour book."""
    folder = tmp_path_factory.mktemp("house")
    (folder / "colours.toml").write_text('[[colour]]\nbook = "Silt"\nname = "Grey silt"\n', "utf-8")
    house = load_house(folder)

    def card(text: str) -> CardSheet:
        job = job_of_text(text.encode(), "1.toml", house)
        return card_sheet(Papers(job, advise(job, house), house))

    return card


def test_a_colour_of_the_book_has_its_name_on_top(carded: Carded) -> None:
    """A job that says only the book word is not a job without a colour."""
    assert carded(TWO).head.colour == "Grey silt"
    assert carded(TWO.replace('book = "Silt"', 'name = "Slate"')).head.colour == "Slate"


def test_a_caution_of_some_panels_names_them(carded: Carded) -> None:
    """Thin film on one of three panels is nothing to look for on the others."""
    thin = [says for says in carded(TWO).taken if "Thin film" in says]
    assert [says.partition(":")[0] for says in thin] == ["A"]


def test_no_gauge_is_asked_for_on_a_bumper(carded: Carded) -> None:
    """It reads nothing on plastic; a reading that is stated is shown."""
    ticks = [tick.says for tick in carded(TWO).before_sanding if tick.says.startswith("gauge")]
    assert ticks == ["gauge, lowest: A 2.8 mil, B ____ mil"]


def test_the_grade_that_decides_stands_on_the_card(carded: Carded) -> None:
    """A medium flake's fade would do with P800; the clear zone's P1000 is what the whole face gets."""
    only_door = TWO[: TWO.index('[[panel]]\nid = "wing"')].replace("[70]", "[120]")
    card = carded(only_door)
    assert card.panels[0].answers[0].big == "P1000"
    assert ": P1000" in card.why[0]


def test_a_bed_of_one_coat_is_not_a_length_in_one_coat(carded: Carded) -> None:
    """Coats stand before the stretch: "5-7/8 to 31-1/2 in 1 coat" reads as something else."""
    bed = next(step.says for step in carded(TWO).booth if step.says.startswith("wet bed"))
    assert "1 coat over A 5-7/8 to 31-1/2 in;" in bed


@pytest.mark.parametrize("kept", ["3.9 mil,", "____ mil,", "369 847 296", "B ____", "C 4.1"])
def test_no_line_ends_inside_a_measure(kept: str) -> None:
    """Wherever the line would end, number and unit, thousands and a blank to fill in stay together."""
    for before in range(1, 30):
        lines = wrap(f"{'x' * before} {kept} and more", 30)
        assert any(kept in line for line in lines), lines


def test_a_primer_that_is_on_hold_is_not_told_to_be_sprayed(carded: Carded) -> None:
    """Primer over nothing, and an order of work with nothing in it, are no help."""
    bare = 'surface = "bare"\nnext = "primer"'
    card = carded(TWO[: TWO.index('[[panel]]\nid = "wing"')].replace('surface = "aged-clear"', bare, 1))
    assert [step.says for step in card.booth] == ["NOT BEFORE all that blocks this job is cleared"]
    assert "ORDER" not in write_text(card)


def test_a_stretch_is_of_its_own_panels_alone(carded: Carded) -> None:
    """Two blends with one stretch beside a panel that is painted whole: the whole one stands apart."""
    head, door, rest = TWO.partition('[[panel]]\nid = "door"')
    blend = door + rest[: rest.index("[[panel]]")]
    card = carded(f"{head}{blend}{blend.replace('door', 'gate', 1)}{rest[rest.index('[[panel]]') :]}")
    colour = next(step.says for step in card.booth if step.says.startswith("colour"))
    assert colour == "colour over C and D; A and B 0 to 5-7/8 in until it hides; flash"


def test_each_line_across_a_patch_says_so_itself(carded: Carded) -> None:
    """Two of them cross it: at the foot of the card nobody knew which."""
    lines = "".join(
        f'[[panel.feature]]\nid = "L{n}"\nkind = "body-line"\nreach = "machine"\n'
        f"path = [[0.0, 0.{n}], [1.0, 0.{n}]]\n"
        for n in (4, 5, 9)
    )
    patch = '[[panel.patch]]\nid = "R1"\nsurface = "primer-surfacer"\nat = [0.5, 0.5]\nsize_mm = [200, 200]\n'
    card = carded(TWO[: TWO.index('[[panel]]\nid = "wing"')] + patch + lines)
    across = {row.number: any("crosses A4" in note for note in row.notes) for row in card.panels[0].rows}
    assert [across[number] for number in ("A1", "A2", "A3")] == [True, True, False]
    assert not [note for note in card.notes if "crosses" in note]


def test_trim_of_a_place_on_hold_is_not_left_out(carded: Carded) -> None:
    """Lamp and grille openings of a bumper, hand only, hold here: as the card stands their trim stays on."""
    text = TWO.replace('flake = "medium"', 'flake = "vapour"')
    bumper = text[text.index('[[panel]]\nid = "bumper"') :].replace("aged-clear", "primed-plastic")
    card = carded(text[: text.index("[[panel]]")] + bumper)
    assert [hold for hold in card.holds if "grille opening" in hold.where]
    trim = next(tick.says for tick in card.before_sanding if tick.says.startswith("trim off"))
    assert trim == "trim off (A7-A9 stay on)"
