"""Planted slips in a house's own data: shelf, tools, pads, numbers, outlines, beds; and sound houses.

Practice: what a shop needs to finish a blend panel is common practice, without a published source.
"""

from pathlib import Path

import pytest

from prepadvisor.files import load_house
from prepadvisor.standards import Finding, audit_house, numbers, sane

SERIES = "P80 P120 P180 P240 P320 P400 P500 P600 P800 P1000 P1200 P1500 P2000"
WHOLE = SERIES.split()


def shelf(*grades: str) -> str:
    """Return a shop file with a shelf."""
    return f"shelf = {list(grades)}".replace("'", '"')


def rule(when: str, sets: str) -> str:
    """Return a rule file of one rule."""
    named = '[[rule]]\nid = "ours"\nsays = "Ours."\nsource = "practice"\n'
    return f"{named}when = {{ {when} }}\nset = {{ {sets} }}\n"


def found(folder: Path, **files: str) -> tuple[Finding, ...]:
    """Audit a house with these files."""
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return audit_house(load_house(folder)).findings


VAPOUR_BED = rule(
    'flake = "vapour", zone = ["colour", "fade"], surface = "primer-surfacer", next = "base"',
    'wet_bed = "required"',
)
NO_COAT = rule('zone = ["colour", "fade"], flake = "vapour"', "bed_coats_max = 0")
FINE_BY_HAND = rule(
    'flake = "vapour", zone = "fade", feature = "edge", surface = "aged-clear", next = "base"',
    'hand_coarsest = "P1500"',
)
DEEP = '[groove.depth_per_grain]\nda = { value = 0.5, unit = "1", source = "house", known = "practice" }'
OUTLINE = """[[outline]]
kind = "sill"
name = "sill"
length_mm = 1500
height_mm = 200
shape = {shape}
feature = [{{ id = "E1", kind = "edge", path = {path} }}]
"""
SLIPS = {
    "coarse grades only": ("shelf", {"shop": shelf("P80", "P320")}),
    "nothing between P500 and P1500": ("shelf", {"shop": shelf(*WHOLE[:7], "P1500")}),
    "no P1500 for vapour by hand": ("shelf", {"shop": shelf(*WHOLE[:-2])}),
    "no P240 nor P320 for filler": ("shelf", {"shop": shelf("P80", "P120", "P180", *WHOLE[5:])}),
    "P320 then P600: too wide a step": ("shelf", {"shop": shelf(*WHOLE[:5], *WHOLE[7:])}),
    "usual P1500 of vapour not there": ("shelf", {"shop": shelf(*WHOLE[:11], "P2000")}),
    "ends at P1200, a rule asks P1500 by hand": ("shelf", {"shop": shelf(*WHOLE[:11]), "ours": FINE_BY_HAND}),
    "first grade not on the shelf": ("shelf", {"shop": '[first_grade]\nfiller = "P60"'}),
    "ring grade not on the shelf": ("shelf", {"shop": 'ring_grade = "P360"'}),
    "a pad as sander": ("shop", {"shop": 'finishing_tool = "hand-pad"'}),
    "a block as sander": ("shop", {"shop": 'finishing_tool = "block"'}),
    "a sander as hand tool": ("shop", {"shop": 'hand_tool = "da"'}),
    "solids the wrong way round": ("shop", {"shop": "[wet_bed]\nset_solids = 0.2"}),
    "solids in percent of a percent": ("shop", {"shop": "[wet_bed]\nvolume_solids = 0.025"}),
    "film of a coat in other units": ("shop", {"shop": "[wet_bed]\ndry_um_per_coat = 80"}),
    "pass rate a hundred times": ("shop", {"shop": "pass_m2_per_minute = 9"}),
    "discs for a hundred panels": ("shop", {"shop": "disc_dm2 = 5000"}),
    "clearing an hour": ("shop", {"shop": "clearing_minutes_per_dm2_max = 9"}),
    "edge strip in metres": ("shop", {"shop": "edge_strip_mm = 3"}),
    "mist over the whole car": ("shop", {"shop": "mist_mm = 1500"}),
    "gate for a week": ("shop", {"shop": "gate_hours = 168"}),
    "a pad for the floor": ("shop", {"shop": '[pads]\ngreen = "P60"'}),
    "flake sizes crossed": (
        "shop",
        {"constants": '[flake.fine.d50_um]\nvalue = 30\nunit = "µm"\nsource = "house"\nknown = "practice"'},
    ),
    "a mirror-deep scratch": (
        "shop",
        {"constants": DEEP},
    ),
    "an outline of a line": (
        "shop",
        {"panels": OUTLINE.format(shape="[[0, 0], [1, 0], [1, 0.001]]", path="[[0, 0], [1, 0]]")},
    ),
    "an outline that crosses itself": (
        "shop",
        {"panels": OUTLINE.format(shape="[[0, 0], [1, 1], [1, 0], [0, 0.6]]", path="[[0, 0], [1, 0]]")},
    ),
    "a line without length": (
        "shop",
        {"panels": OUTLINE.format(shape="[[0, 0], [1, 0], [1, 1], [0, 1]]", path="[[0, 0], [0, 0]]")},
    ),
    "no risk at all": ("shop", {"ours": rule('zone = "fade"', "risk_limit = 0")}),
    "no film at all": ("shop", {"ours": rule('zone = "fade"', "film_off_max_um = 0")}),
    "film left of two cars": ("shop", {"ours": rule('zone = "fade"', "film_left_min_um = 400")}),
    "a bed over primer": ("bed", {"ours": VAPOUR_BED}),
    "no coat where a bed is required": ("bed", {"ours": NO_COAT}),
    "a machine off every face": (
        "gap",
        {"ours": rule('feature = "face", zone = "fade"', 'machine = "never"')},
    ),
    "a hold over nearly all": ("gap", {"ours": rule('flake = { not = ["solid"] }', 'holds = "Ask me."')}),
    "a hold on fine in three stages": (
        "unreachable",
        {"ours": rule('flake = "fine", stages = 3', 'holds = "Ask me first."')},
    ),
    "a long face": (
        "unreachable",
        {"ours": rule('feature = "face", length_mm = "> 500"', 'wet_bed = "advised"')},
    ),
    "an edge of unknown size": (
        "unreachable",
        {"ours": rule('feature = "patch", length_mm = "< 10"', 'holds = "Too short."')},
    ),
}


@pytest.mark.practice
@pytest.mark.parametrize(("kind", "files"), SLIPS.values(), ids=SLIPS)
def test_a_planted_slip_is_found_where_it_was_planted(
    kind: str, files: dict[str, str], tmp_path: Path
) -> None:
    """At least one finding, all that are errors of its kind, with a mend."""
    errors = [finding for finding in found(tmp_path, **files) if finding.is_error]
    assert {finding.kind for finding in errors} == {kind}
    assert all(finding.mend for finding in errors)
    if "ours" in files and kind != "shelf":
        assert {Path(finding.file).name for finding in errors} == {"ours.toml"}


SOUND = {
    "the shipped shelf": {"shop": shelf(*WHOLE)},
    "no P2000": {"shop": shelf(*WHOLE[:-1])},
    "with P2500 and P3000": {"shop": shelf(*WHOLE, "P2500", "P3000")},
    "with P150 and P220": {"shop": shelf(*WHOLE, "P150", "P220")},
    "no P1200": {"shop": shelf(*WHOLE[:10], "P1500", "P2000")},
    "sander's own pad": {"shop": 'finishing_tool = "da"'},
    "paper by hand": {"shop": 'hand_tool = "hand-paper"'},
    "water-borne bed": {"shop": "[wet_bed]\nvolume_solids = 0.12\nset_solids = 0.25"},
    "slow and careful": {"shop": "pass_m2_per_minute = 0.15\ndisc_minutes = 1\nmist_mm = 250"},
    "pads by colour": {"shop": '[pads]\ngrey = "P600"\nmaroon = "P320"\ngold = "P1500"'},
    "a bed of one coat": {
        "ours": rule('zone = ["colour", "fade"], surface = ["aged-clear"]', "bed_coats_max = 1")
    },
    "a hold for roofs": {"ours": rule('panel = "roof", zone = "fade"', 'holds = "The lead looks first."')},
    "less film": {
        "ours": rule('zone = "fade", surface = "aged-clear"', "film_off_max_um = 6, film_left_min_um = 90")
    },
    "a hand place": {
        "ours": rule(
            'feature = "recess", zone = "fade", surface = "aged-clear", next = "base"', 'machine = "never"'
        )
    },
}


@pytest.mark.practice
@pytest.mark.parametrize("files", SOUND.values(), ids=SOUND)
def test_a_sound_house_has_nothing_to_mend(files: dict[str, str], tmp_path: Path) -> None:
    """No false alarm, not even a note."""
    assert found(tmp_path, **files) == ()


def test_every_number_of_the_shipped_files_is_sane_and_none_was_forgotten() -> None:
    """A number that is added to shop or constants needs its sensible range too."""
    house = load_house(None)
    every = [*numbers(house.shop), *numbers(house.constants)]
    without = [".".join(path) for path, _ in every if sane(path) is None]
    outside = [(".".join(path), value) for path, value in every if not _within(path, value)]
    assert without == []
    assert outside == []


def _within(path: tuple[str, ...], value: float) -> bool:
    span = sane(path)
    return span is None or span[0] <= value <= span[1]


def test_a_finding_on_the_shelf_points_to_the_houses_own_line(tmp_path: Path) -> None:
    """The line of `shelf` where the house states it."""
    from prepadvisor.files import placed

    findings = placed(found(tmp_path, shop="name = 'ours'\n" + shelf("P80", "P320")), [str(tmp_path)])
    assert {(finding.file, finding.line) for finding in findings} == {(str(tmp_path / "shop.toml"), 2)}


def test_more_coats_at_least_than_at_most_is_found_where_a_bed_is_asked_for(tmp_path: Path) -> None:
    """Where no bed is asked for the two numbers never meet: there it is told that none is laid."""
    clears = 'surface = ["aged-clear", "cured-clear"], next = "base", zone = "fade"'
    asked = found(tmp_path, ours=rule(f'flake = "vapour", {clears}', "bed_coats_min = 3"))
    idle = found(tmp_path, ours=rule(f'flake = "solid", {clears}', "bed_coats_min = 3"))
    assert {finding.kind for finding in asked} == {"bed"}
    assert ["None is laid there" in finding.says for finding in idle if finding.kind == "bed"] == [True]
    assert not any("None is laid there" in finding.says for finding in asked)
