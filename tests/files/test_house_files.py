"""A house folder lies over the shipped files key by key, and every fault of every file is told at once."""

import hashlib
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.files import demo_jobs_dir, load_house, load_standards, rules_dir
from prepadvisor.records import BadInputError
from prepadvisor.standards import House

Write = Callable[..., Path]


@pytest.fixture
def house_folder(tmp_path: Path) -> Write:
    """Return a function that writes a house folder: file names without .toml to their text."""

    def write(**files: str) -> Path:
        folder = tmp_path / "our-shop"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        for name, text in files.items():
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")
        return folder

    return write


def faults_of(folder: Path) -> list[str]:
    """Return the faults of a house folder as printed, with the folder's own path left off."""
    with pytest.raises(BadInputError) as caught:
        load_house(folder)
    return [str(fault).removeprefix(f"{folder}/") for fault in caught.value.faults]


def test_the_shipped_standards_load(shipped_house: House) -> None:
    """Without a folder the shipped rules, shop, constants, outlines and sources are there."""
    assert shipped_house.engine.rules
    assert len(shipped_house.outlines) == 14
    assert shipped_house.shop.mist_mm == 150
    assert shipped_house.constants.sight.thinnest_line_arcsec.value == 0.5
    assert shipped_house.sources["practice"].read == "no published source"
    assert shipped_house.folder == ""
    assert load_standards() is load_house()


def test_every_file_used_is_named_with_its_digest(shipped_house: House) -> None:
    """What a card rests on is every shipped file with the SHA-256 of its bytes."""
    used = {file.path: file.sha256 for file in shipped_house.used.files}
    shipped = [*rules_dir().glob("*.toml"), *(rules_dir() / "base").glob("*.toml")]
    expected = {
        f"rules/{path.relative_to(rules_dir()).as_posix()}": hashlib.sha256(path.read_bytes()).hexdigest()
        for path in shipped
    }
    assert used == expected


def test_a_shop_file_lies_over_key_by_key(house_folder: Write, shipped_house: House) -> None:
    """What the shop states counts, what it leaves out comes from the shipped file, the shelf is replaced."""
    house = load_house(
        house_folder(shop='mist_mm = 120\nshelf = ["P800", "P1000"]\n[wet_bed]\nset_solids = 0.3\n')
    )
    assert house.shop.mist_mm == 120
    assert house.shop.shelf == ("P800", "P1000")
    assert house.shop.wet_bed.set_solids == 0.3
    assert house.shop.wet_bed.volume_solids == shipped_house.shop.wet_bed.volume_solids
    assert house.folder.endswith("our-shop")
    assert house.digest != shipped_house.digest
    assert any(file.path.endswith("our-shop/shop.toml") for file in house.used.files)


def test_a_number_of_the_shop_goes_under_its_own_word(house_folder: Write) -> None:
    """A changed number never keeps the passport of the number it replaces."""
    folder = house_folder(
        shop="mist_mm = 120\n[wet_bed]\ntransfer_efficiency = 0.5\n",
        constants="[groove.depth_per_grain]\nda = { value = 0.045 }\n[sight]\n"
        'viewing_distance_mm = { value = 600, source = "house", known = "practice" }\n',
    )
    house = load_house(folder)
    passport = house.shop.passport["wet_bed.transfer_efficiency"]
    assert (passport.source, passport.known) == ("house", "assumption")
    assert house.shop.passport["wet_bed.overlap_mm"].source == "practice"
    da = house.constants.groove.depth_per_grain["da"]
    assert (da.value, da.source, da.known) == (0.045, "house", "assumption")
    assert house.constants.sight.viewing_distance_mm.known == "practice"


def test_outlines_lie_over_by_kind(house_folder: Write, shipped_house: House) -> None:
    """A shop's outline changes what it states; its list of lines is replaced as a whole."""
    line = '{ id = "E1", kind = "edge", name = "rim", path = [[0, 0], [1, 0]], reach = "machine" }'
    folder = house_folder(panels=f'[[outline]]\nkind = "sill"\nlength_mm = 1800\nfeature = [{line}]\n')
    sill = load_house(folder).outlines["sill"]
    assert (sill.length_mm, sill.height_mm) == (1800, shipped_house.outlines["sill"].height_mm)
    assert [each.name for each in sill.feature] == ["rim"]
    assert load_house(folder).outlines["roof"] == shipped_house.outlines["roof"]


def test_a_shop_may_add_a_source(house_folder: Write) -> None:
    """A source of the shop's own register can stand behind its rules and numbers."""
    folder = house_folder(
        sources='[[source]]\nid = "spray-outs"\ntitle = "Our spray-out cards"\nread = "in the drawer"\n',
        constants='[flake.fine]\nd50_um = { value = 13.0, source = "spray-outs", known = "practice" }\n',
    )
    assert load_house(folder).sources["spray-outs"].title == "Our spray-out cards"


def test_every_other_file_is_a_rule_file(house_folder: Write, shipped_house: House) -> None:
    """A rule of the folder is in force, with the folder's name as its layer and the line it stands on."""
    rule = (
        '# ours\n[[rule]]\nid = "our-pads"\nsays = "Foam pads only in the fade."\nwhen = { zone = "fade" }\n'
        'set = { notes = "Foam pads only." }\nsource = "house"\n'
    )
    house = load_house(house_folder(anything=rule))
    (found,) = [rule for rule in house.engine.rules if rule.id == "our-pads"]
    assert (found.layer, found.line, Path(found.file).name) == ("our-shop", 2, "anything.toml")
    assert len(house.engine.rules) == len(shipped_house.engine.rules) + 1


def test_all_faults_of_all_files_are_told_at_once(house_folder: Write) -> None:
    """Each file's faults, by file and line, each in the file that caused it."""
    folder = house_folder(
        shop='shelf = ["P80", "600"]\nfinishing_tol = "da"\nmist_mm = -3\n',
        constants="[groove.depth_per_grain]\ndaa = { value = 3.0 }\nblock = 0.3\n[film]\n"
        'colour_set_solids = { value = 0.2, source = "a talk", known = "practice" }\n',
        panels='[[outline]]\nkind = "front-door"\nlength_mm = 9999\n[[outline]]\nkind = "moon"\n',
        rules='[[rule]]\nid = "a"\nsays = "b"\nwhen = { flak = "fine" }\n'
        'set = { notes = "c" }\nsource = "practise"\n',
        broken="x = \n",
    )
    begins = [
        "broken.toml:1:5: the value is missing",
        'constants.toml:2:1: the key "daa" is not known here; did you mean "da"?',
        "constants.toml:3:9: block is the number 0.3 and must be a table of keys; a number with its passport",
        'constants.toml:5:45: the source "a talk" is not in sources.toml',
        "panels.toml:3:13: length_mm is 9999: it may be 6000 at most",
        "panels.toml:4:1: name is missing",
        'panels.toml:5:8: "moon" is no shipped kind, and does not say which one it is like',
        'rules.toml:4:17: rule "a": no fact is called "flak"',
        'shop.toml:1:17: "600" has no P',
        'shop.toml:2:1: the key "finishing_tol" is not known here; did you mean "finishing_tool"?',
        "shop.toml:3:11: mist_mm is -3: it must be 0 or more",
    ]
    found = faults_of(folder)
    assert len(found) == len(begins), found
    for fault, begin in zip(found, begins, strict=True):
        assert fault.startswith(begin), (fault, begin)


def test_a_folder_that_is_none_is_refused(tmp_path: Path) -> None:
    """No folder, a file, a folder without standards: they would silently mean the shipped ones."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "file").write_text("", encoding="utf-8")
    said = []
    for name in ("none", "file", "empty", "x\0y"):
        with pytest.raises(BadInputError) as caught:
            load_house(f"{tmp_path}/{name}")
        said.append(str(caught.value).split(": ", 1)[1].split(";", maxsplit=1)[0])
    assert said[:3] == [
        "there is no such house folder",
        "this is a file, not a house folder",
        "there is no .toml file in this house folder",
    ]


def test_an_edited_folder_is_read_anew_and_another_is_not(house_folder: Write) -> None:
    """Within a process a folder is read once, until a file of it changes."""
    folder = house_folder(shop="mist_mm = 120\n")
    first = load_house(folder)
    assert load_house(folder) is first
    (folder / "shop.toml").write_text("mist_mm = 1300\n", encoding="utf-8")
    assert load_house(folder).shop.mist_mm == 1300


def test_every_number_of_the_shop_has_a_passport(shipped_house: House) -> None:
    """Unit, source and how it is known, for each number of the shop file; sources are in the register."""
    shop = shipped_house.shop.model_dump(exclude={"passport", "pads", "first_grade", "name"})
    numbers = {key for key, value in shop.items() if isinstance(value, float)}
    numbers |= {f"wet_bed.{key}" for key in shop["wet_bed"]}
    assert numbers <= set(shipped_house.shop.passport)
    assert {entry.source for entry in shipped_house.shop.passport.values()} <= set(shipped_house.sources)


def test_a_shop_number_without_passport_is_told(house_folder: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    """A damaged shipped file that lost a passport is refused, so that no number goes without one."""
    rules = house_folder(x="").parent / "rules"
    shutil.copytree(rules_dir(), rules)
    shop = rules / "shop.toml"
    lines = shop.read_text(encoding="utf-8").splitlines(keepends=True)
    shop.write_text("".join(line for line in lines if not line.startswith("disc_dm2 = {")), encoding="utf-8")
    monkeypatch.setattr("prepadvisor.files.house_files.rules_dir", lambda: rules)
    with pytest.raises(BadInputError, match=r"^rules/shop.toml:\d+:\d+: disc_dm2 has no passport"):
        load_house()


def test_the_demo_house_loads() -> None:
    """The house folder of the demo job about a short shelf lacks what that job needs."""
    assert "P1000" not in load_house(demo_jobs_dir() / "houses" / "short-shelf").shop.shelf


# The start values of common practice; the shelf in the order coarse to fine.
@pytest.mark.practice
def test_the_shipped_shop_has_the_usual_values(shipped_house: House) -> None:
    """Shelf, tools and rates as a shop has them before it states its own."""
    shop = shipped_house.shop
    assert shop.shelf == (
        "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500",
        "P2000",
    )  # fmt: skip
    assert (shop.finishing_tool, shop.hand_tool) == ("da-soft", "hand-pad")
    assert (shop.pass_m2_per_minute, shop.edge_strip_mm, shop.disc_dm2) == (0.3, 30, 50)
    assert (shop.disc_minutes, shop.guide_coat_minutes, shop.gate_hours) == (0.5, 1, 24)
    assert shop.wet_bed.model_dump() == {
        "volume_solids": 0.25,
        "set_solids": 0.40,
        "dry_um_per_coat": 8,
        "transfer_efficiency": 0.65,
        "overlap_mm": 100,
    }


def test_every_block_of_the_guide_for_leads_loads_beside_a_started_folder(tmp_path: Path) -> None:
    """`standards new`, then a file with what the guide shows: the way a lead really goes."""
    guide = (rules_dir() / "README.md").read_text("utf-8")
    beside: dict[str, str] = {}
    for number, text in enumerate(re.findall(r"```toml\n(.*?)```", guide, re.DOTALL)):
        folder = tmp_path / str(number)
        shutil.copytree(rules_dir() / "start", folder)
        name = text.partition("\n")[0].rpartition("/")[2]  # each block says in its first line where it goes
        for data, before in beside.items():  # a rule may be for an own kind of panel
            (folder / data).write_text(before, encoding="utf-8")
        (folder / name).write_text(text, encoding="utf-8")
        if name == "panels.toml":
            beside[name] = text
        assert load_house(folder).engine.rules


def test_the_shipped_rules_are_no_house() -> None:
    """One sentence, not a fault for each of its rules that is there twice then."""
    with pytest.raises(BadInputError, match="shipped standards") as raised:
        load_house(rules_dir() / "base")
    assert len(raised.value.faults) == 1
