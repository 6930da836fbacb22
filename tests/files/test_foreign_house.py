"""A house from elsewhere: what it changes is named, what is out of range refused, its texts steer nothing."""

from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, load_house
from prepadvisor.records import BadInputError

JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")
EVIL = "\\u001b[2J\\u202ethis\\nCLEAR TO MASK   job 1042\\u2066"


def _house(folder: Path, name: str, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return folder


def test_every_number_that_differs_is_named(tmp_path: Path) -> None:
    """With its unit, as shipped and as the house has it; words too."""
    _house(tmp_path, "shop.toml", 'mist_mm = 0\nhand_tool = "hand-foam"\n[wet_bed]\nset_solids = 0.5\n')
    _house(tmp_path, "constants.toml", "[groove.depth_per_grain]\nda-soft = { value = 0.02 }\n")
    changes = {each.name: (each.shipped, each.house, each.unit) for each in load_house(tmp_path).used.changes}
    assert changes == {
        "mist_mm": (150, 0, "mm"),
        "hand_tool": ("hand-pad", "hand-foam", ""),
        "wet_bed.set_solids": (0.4, 0.5, ""),
        "groove.depth_per_grain.da-soft": (0.039, 0.02, ""),
    }


def test_the_shipped_standards_change_nothing() -> None:
    """Nor does a house without data of its own."""
    assert load_house().used.changes == ()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("shop.toml", "gate_hours = 1e308"),
        ("shop.toml", "gate_hours = 0.0"),
        ("shop.toml", "edge_strip_mm = 1e-300"),
        ("shop.toml", "disc_dm2 = 1e-9"),
        ("shop.toml", "pass_m2_per_minute = 1e300"),
        ("shop.toml", "[wet_bed]\nset_solids = 1"),
        ("shop.toml", "[wet_bed]\ntransfer_efficiency = 1e-12"),
        ("shop.toml", "[wet_bed]\noverlap_mm = 1e9"),
        ("constants.toml", "[groove.depth_per_grain]\nda = { value = 0.0005 }"),
        ("constants.toml", "[sight]\nthinnest_line_arcsec = { value = 1e6 }"),
        ("constants.toml", "[mixing]\nstep_ml = { value = 1e-9 }"),
        ("constants.toml", "[flake.fine]\ntilt_deg = { value = 1e5 }"),
    ],
)
def test_a_number_out_of_range_is_refused(name: str, text: str, tmp_path: Path) -> None:
    """With its line; a slip of the pen is not another shop."""
    with pytest.raises(BadInputError) as refused:
        load_house(_house(tmp_path, name, text + "\n"))
    assert all(fault.line for fault in refused.value.faults)


RULE = """\
[standards]
name = "{evil}"
version = "1"
[[rule]]
id = "own-hold"
says = "{evil}"
when = {{ zone = ["colour", "fade"] }}
set = {{ holds = ["{evil}"], cautions = ["{evil}"], notes = ["{evil}"] }}
source = "{evil}"
"""


@pytest.mark.parametrize("form", ["text", "html", "json"])
def test_no_text_of_a_rule_steers_the_terminal(
    form: str, tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    """No escape, no line of its own, no turned reading, on the card, in why and at the gate."""
    house = str(_house(tmp_path / "\x1b[31mhouse\u202e", "rules.toml", RULE.format(evil=EVIL)))
    main(["card", JOB, "--house", house, "--to", form])
    for words in (["why", JOB, "left-front-door/E1"], ["gate", JOB], ["standards", "show", "own-hold"]):
        main([*words, "--house", house])
    printed = b"".join(capfdbinary.readouterr()).decode()
    assert not [sign for sign in "\x1b\u202e\u2066" if sign in printed]
    assert not [line for line in printed.splitlines() if line.startswith("CLEAR TO MASK   job")]


def test_a_sentence_of_a_rule_has_its_length(tmp_path: Path) -> None:
    """A hold of a thousand letters is refused with its line."""
    text = RULE.format(evil="x").replace('holds = ["x"]', f'holds = ["{"x" * 1000}"]')
    with pytest.raises(BadInputError, match="letters at most"):
        load_house(_house(tmp_path, "rules.toml", text))


def test_a_folder_named_base_does_not_become_the_base(tmp_path: Path) -> None:
    """It deviates like any other house: what it loosens is named, and it may not say what is impossible."""
    text = '[[withdraw]]\nrule = "clear-zone-finish"\nbecause = "ours"\n'
    house = load_house(_house(tmp_path / "base", "own.toml", text))
    assert [each.rule for each in house.used.deviations] == ["clear-zone-finish"]
    lowest, own = (each.layer for each in house.used.layers)
    assert (lowest, own == "base") == ("base", False)
