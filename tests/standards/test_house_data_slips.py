"""Slips in shop file, constants and outlines, and in what a layer says of itself: found, each at its line."""

import datetime as dt
from pathlib import Path

import pytest

from prepadvisor.files import load_house, out_of_date, placed
from prepadvisor.records import BadInputError
from prepadvisor.standards import Audited, House, broken_promises, doings, shop_slips

OUTLINE = '[[outline]]\nkind = "{}"\n{}'
FIN = 'name = "fin"\nlike = "sill"\n'
LINE = 'feature = [{{ id = "E1", kind = "edge", path = {} }}]\n'
SLIPS: dict[str, tuple[str, str, int]] = {
    "a hand tool finishes": ("shop", 'finishing_tool = "hand-foam"', 1),
    "lines scuffed with a block": ("shop", 'hand_tool = "block"', 1),
    "a pad called by another grade": ("shop", '[pads]\n"our P800 pad" = "P600"', 2),
    "two lines of one path": (
        "panels",
        OUTLINE.format(
            "fin",
            FIN
            + """feature = [
            { id = "E1", kind = "edge", path = [[0, 0], [1, 0]] },
            { id = "E2", kind = "edge", path = [[1, 0], [0, 0]] },
        ]""",
        ),
        2,
    ),
    "a hard pad finishes": ("shop", 'finishing_tool = "da-hard"', 1),
    "a disc for three bonnets": ("shop", "disc_dm2 = 300", 1),
    "a sander scuffs": ("shop", 'hand_tool = "da-soft"', 1),
    "a pad that tears": ("shop", '[pads]\n"red" = "P100"', 2),
    "mist in metres": ("shop", "mist_mm = 0.15", 1),
    "mist over a metre": ("shop", "mist_mm = 1500", 1),
    "overlap in cm": ("shop", "[wet_bed]\noverlap_mm = 10", 2),
    "a coat in tenths of µm": ("shop", "[wet_bed]\ndry_um_per_coat = 80", 2),
    "all that is sprayed lands": ("shop", "[wet_bed]\ntransfer_efficiency = 1.0", 2),
    "solids set below what is sprayed": ("shop", "[wet_bed]\nvolume_solids = 0.5\nset_solids = 0.3", 3),
    "a wipe that lasts a week": ("shop", "gate_hours = 160", 1),
    "a look that lasts minutes": ("shop", "look_hours = 0.2", 1),
    "passes ten times too fast": ("shop", "pass_m2_per_minute = 9", 1),
    "clearing ten times too long": ("shop", "clearing_minutes_per_dm2_max = 1.9", 1),
    "a strip as wide as a door": ("shop", "edge_strip_mm = 400", 1),
    "lap in tenths": ("shop", "lap_mm = 400", 1),
    "filler cut slower than clear": ("shop", "[cut_faster]\nfiller = 0.1", 2),
    "an hour a metre": ("shop", "[hand_minutes_per_metre]\nedge = 60", 2),
    "filler opened with a finishing grade": ("shop", '[first_grade]\nfiller = "P600"', 2),
    "primer opened with a finishing grade": ("shop", '[first_grade]\nprimer-surfacer = "P800"', 2),
    "a lead twice": ("shop", 'leads = ["K. M.", "km"]', 1),
    "a lead nobody can read": ("shop", 'leads = ["..."]', 1),
    "an hour in cents": ("shop", '[rates]\ncurrency = "EUR"\nlabour_per_hour = 6800', 3),
    "a disc as dear as a day": ("shop", "[rates]\nlabour_per_hour = 60\nper_disc = 480", 3),
    "a litre in cents": ("shop", "[rates]\nlabour_per_hour = 60\nwet_bed_per_litre = 4500", 3),
    "a scratch a third of its grain": ("constants", "[groove.depth_per_grain]\nblock = { value = 0.3 }", 2),
    "a soft pad that cuts deeper": ("constants", "[groove.depth_per_grain]\nda-soft = { value = 0.06 }", 2),
    "a hard pad that cuts less": ("constants", "[groove.depth_per_grain]\nda-hard = { value = 0.045 }", 0),
    "the finer flake is larger": ("constants", "[flake.very-fine]\nd50_um = { value = 13 }", 2),
    "vapour flakes like gravel": ("constants", "[flake.vapour]\nd50_um = { value = 40 }", 2),
    "looked at from across the hall": ("constants", "[sight]\nviewing_distance_mm = { value = 5000 }", 2),
    "eyes twenty times worse": ("constants", "[sight]\nthinnest_line_arcsec = { value = 10 }", 2),
    "clear that will not cut": ("constants", "[removal]\nrate_um_dm2_per_minute = { value = 0.1 }", 2),
    "a shape that is a line": ("panels", OUTLINE.format("roof", "shape = [[0, 0], [1, 0], [1, 0.01]]"), 2),
    "a line without length": ("panels", OUTLINE.format("roof", LINE.format("[[0, 0], [0, 0]]")), 2),
    "a line beside the panel": (
        "panels",
        OUTLINE.format(
            "roof", f"shape = [[0, 0], [0.5, 0], [0.5, 0.5]]\n{LINE.format('[[1, 1], [0.9, 1]]')}"
        ),
        2,
    ),
    "a roof in cm": ("panels", OUTLINE.format("roof", "length_mm = 140\nheight_mm = 110"), 2),
    "an own kind in cm": ("panels", OUTLINE.format("fin", f"{FIN}length_mm = 120\nheight_mm = 20"), 2),
    "zones wider than the panel": (
        "panels",
        OUTLINE.format("fin", f'{FIN}height_mm = 90\ncolour_from = ["top"]\ncolour_mm = 80\nfade_mm = 200'),
        2,
    ),
}
SOUND = {
    "shop": 'mist_mm = 0\nfinishing_tool = "da"\ninterface_pad = false\nleads = ["K. M.", "R. T."]\n'
    '[pads]\n"grey" = "P800"\n[first_grade]\nfiller = "P120"\n'
    '[rates]\ncurrency = "JPY"\nlabour_per_hour = 9000\nper_disc = 150\nwet_bed_per_litre = 6000\n',
    "constants": '[groove.depth_per_grain]\nda-soft = { value = 0.055, known = "measured" }\n',
    "panels": OUTLINE.format("fuel-flap", "length_mm = 140\nheight_mm = 130\n")
    + OUTLINE.format(
        "fin", f'{FIN}length_mm = 900\nheight_mm = 200\ncolour_from = ["front"]\nfade_mm = 300\n'
    ),
}


def house_of(folder: Path, **files: str) -> House:
    """Write a house folder and load it."""
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text + "\n", encoding="utf-8")
    return load_house(folder)


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_found_at_its_line(name: str, tmp_path: Path) -> None:
    """One finding in the file where it was made, never in a shipped one."""
    file, text, line = SLIPS[name]
    house = house_of(tmp_path, **{file: text})
    (finding,) = placed(shop_slips(house), house.folders)
    assert finding.kind == "shop"
    assert finding.mend
    if line:
        assert (Path(finding.file).name, finding.line) == (f"{file}.toml", line)


def test_sound_data_are_silent(tmp_path: Path) -> None:
    """Of all files together."""
    assert shop_slips(house_of(tmp_path, **SOUND)) == []


@pytest.mark.parametrize(
    ("file", "text", "says"),
    [
        ("shop", 'leads = [""]', "leads is empty"),
        ("shop", '[pads]\n"grey" = "800"', '"800" has no P'),
        ("shop", "[rates]\nper_disc = -1", "must be 0 or more"),
        ("shop", "[wet_bed]\nvolume_solids = 25", "at most"),
        ("rules", '[standards]\nname = "A"\nversion = "1"\ncustomer = " "', "names nobody"),
        ("rules", '[standards]\nname = "A"\nversion = "1"\nvalid_to = "2026-01-01"', "without quotes"),
    ],
)
def test_what_can_be_nothing_at_all_is_refused(file: str, text: str, says: str, tmp_path: Path) -> None:
    """At load, with the mend."""
    with pytest.raises(BadInputError, match=says):
        house_of(tmp_path, **{file: text})


def test_a_layer_that_is_over_is_told(tmp_path: Path) -> None:
    """From the day after its last."""
    text = '[standards]\nname = "Fleet"\nversion = "1"\nvalid_to = 2026-06-30\n'
    (layer,) = (each for each in house_of(tmp_path, rules=text).used.layers if each.layer != "base")
    assert list(out_of_date(layer, dt.date(2026, 6, 30), "fleet")) == []
    (finding,) = out_of_date(layer, dt.date(2026, 7, 1), "fleet")
    assert (finding.kind, finding.says) == (
        "file", '"Fleet" was in force until 2026-06-30: it counts on no card now.',
    )  # fmt: skip


def test_a_promise_about_what_no_card_reads_is_told(tmp_path: Path) -> None:
    """It would hold whatever rules say."""
    promise = """[[promise]]
says = "Faces: never coarser by hand."
along = "flake"
output = "hand_coarsest"
never = "coarser"
where = { feature = "face" }
"""
    house = house_of(tmp_path, rules=promise)
    (finding,) = broken_promises(Audited(house.engine))
    assert finding.kind == "unreachable"
    assert "no case in which a card reads hand_coarsest" in finding.says


def test_a_rule_that_sets_what_no_card_reads_says_so(tmp_path: Path) -> None:
    """A last pass by DA where hand is the last touch."""
    rule = """[[rule]]
id = "own"
says = "P1000."
when = { reach = "hand" }
set = { finish_coarsest = "P1000" }
source = "x"
"""
    house = house_of(tmp_path, rules=rule)
    (doing,) = doings(Audited(house.engine), house.shop.shelf)
    assert (doing.does, doing.unread) == ("nothing", True)
