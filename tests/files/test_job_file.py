"""A job file that is wrong in any way is refused with each fault at its place, in a shop's words."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
import tomli

from prepadvisor.files import job_of_text, load_job
from prepadvisor.files.job_file import FAULTS_MAX
from prepadvisor.records import BadInputError
from prepadvisor.standards import House

GOOD = """\
[job]
number = "1042"
date = 2026-03-02

[colour]
flake = "very-fine"
stages = 2
tone = "light"

[[panel]]
id = "door"
kind = "front-door"
role = "blend"
surface = "aged-clear"
next = "base"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400
film_um = [118, 112]
now = { tool = "da", grade = "P320" }

[[panel.patch]]
id = "R1"
surface = "primer-surfacer"
at = [0.4, 0.6]
size_mm = [300, 250]

[[panel.feature]]
id = "E1"
kind = "edge"
path = [[0.0, 0.0], [0.0, 1.0]]
reach = "machine"
done = { tool = "hand-pad", grade = "P1000" }

[[check]]
at = 2026-03-02T09:40:00Z
by = "K. M."
panel = "door"
feature = "E1"
step = "scuffed"
grade = "P1000"
"""

Faults = Callable[[str], list[str]]


@pytest.fixture
def faults(shipped_house: House) -> Faults:
    """Return a function from the text of a job to its faults as printed, none for a good job."""

    def found(text: str) -> list[str]:
        try:
            job_of_text(text.encode(), "job.toml", shipped_house)
        except BadInputError as error:
            return [str(fault) for fault in error.faults]
        return []

    return found


def test_the_job_all_cases_start_from_is_good(faults: Faults) -> None:
    """Without a change there is no fault."""
    assert faults(GOOD) == []


CASES = [
    (case["old"], case["new"], case["fault"])
    for case in tomli.loads(Path(__file__).with_name("job_faults.toml").read_text(encoding="utf-8"))["case"]
]


@pytest.mark.parametrize(("old", "new", "fault"), CASES, ids=[f"{old} -> {new}" for old, new, _ in CASES])
def test_each_fault_is_told_alone_at_its_place(old: str, new: str, fault: str, faults: Faults) -> None:
    """One wrong thing is one line: where, what, and how to mend it; an empty expectation is no fault."""
    assert old in GOOD
    found = faults(GOOD.replace(old, new, 1))
    assert len(found) == (1 if fault else 0), found
    assert all(line.startswith(f"job.toml:{fault}") for line in found), found


def test_all_faults_are_told_at_once_by_line(faults: Faults) -> None:
    """Every fault of the list that can stand with the others is told in one go, sorted by line."""
    text = GOOD
    for old, new in [
        ('"1042"', "1042"),
        ("tone = ", "tune = "),
        ('"front-door"', '"front-dor"'),
        ("fade_mm = 400", "fade_mm = 2000"),
        ('"P320"', '"600"'),
        ("at = [0.4, 0.6]", "at = [0.1, 0.6]"),
        ("[[0.0, 0.0], [0.0, 1.0]]", "[[0.2, 0.3], [0.2, 0.3]]"),
        ('"scuffed"', "scuffed"),
    ]:
        text = text.replace(old, new, 1)
    assert [int(line.split(":")[1]) for line in faults(text)] == [2, 8, 12, 20, 22, 28, 33, 42]


def test_what_rests_on_a_refused_value_is_not_judged(faults: Faults) -> None:
    """A panel whose length is no number is not told that its blend does not fit as well."""
    assert len(faults(GOOD.replace("length_mm = 1050", 'length_mm = "1 m"').replace("= 400", "= 2000"))) == 1


def test_no_fault_speaks_the_checker_s_language(faults: Faults) -> None:
    """No sentence has a word of the checking library or of a programmer."""
    jargon = re.compile(
        r"input|valid|string|integer|float|tuple|dict|boolean|literal|none\b|extra|field|pydantic",
        re.IGNORECASE,
    )
    for old, new, _ in CASES:
        for line in faults(GOOD.replace(old, new, 1)):
            assert not jargon.search(line.replace(new.strip('"'), "")), line


@pytest.mark.parametrize(
    ("change", "mend"),
    [
        (
            'colour_from = ["front"]\n',
            "take colour_from, colour_mm and fade_mm out: then all of it is full colour",
        ),
        ("colour_mm = 150\n", "add colour_mm = 150, or take"),
        ("fade_mm = 400\n", "add fade_mm = 400, or take"),
    ],
)
def test_half_a_layout_on_a_repair_panel_is_refused(change: str, mend: str, faults: Faults) -> None:
    """A repair panel states its whole blend or none of it."""
    (fault,) = faults(GOOD.replace('"blend"', '"repair"').replace(change, ""))
    assert mend in fault


def test_a_repair_panel_without_layout_is_all_colour(faults: Faults) -> None:
    """Leaving the blend out of a repair panel is a statement, not a fault."""
    text = GOOD.replace('"blend"', '"repair"')
    for line in ('colour_from = ["front"]\n', "colour_mm = 150\n", "fade_mm = 400\n"):
        text = text.replace(line, "")
    assert faults(text) == []


def test_colour_on_a_clear_only_panel_is_refused_once(faults: Faults) -> None:
    """The two contradict one another: guessing which was meant could leave colour on unprepared clear."""
    text = GOOD.replace('"blend"', '"clear-only"').replace("fade_mm = 400", "fade_mm = 5000")
    says = "a clear-only panel gets no colour, yet colour_from, colour_mm, fade_mm is stated"
    assert faults(text) == [f'job.toml:18:15: {says}; take that out, or say role = "blend"']


def test_a_clear_only_panel_without_layout_is_good(faults: Faults) -> None:
    """All of it is clear zone."""
    text = GOOD.replace('"blend"', '"clear-only"')
    for line in ('colour_from = ["front"]\n', "colour_mm = 150\n", "fade_mm = 400\n"):
        text = text.replace(line, "")
    assert faults(text) == []


# Panel of 1050 x 640 mm, patch of 300 x 250 mm in its middle. Farthest points by hand: the far side for one,
# half the panel between two, a corner for the patch: sqrt((525-150)² + (320-125)²) = 422.67 mm.
@pytest.mark.parametrize(
    ("sources", "farthest_mm"),
    [
        ('["front"]', 1050.0),
        ('["top"]', 640.0),
        ('["front", "rear"]', 525.0),
        ('["front", "top"]', 640.0),
        ('["front", "rear", "top", "bottom"]', 320.0),
        ('["R1"]', 422.67),
    ],
)
def test_a_blend_may_reach_the_farthest_point_and_no_further(
    sources: str, farthest_mm: float, faults: Faults
) -> None:
    """Colour and fade that end at the panel's farthest point fit; half a millimetre more does not."""
    text = GOOD.replace('["front"]', sources).replace("at = [0.4, 0.6]", "at = [0.5, 0.5]")
    fits, over = farthest_mm - 150.05, farthest_mm - 149.5
    assert faults(text.replace("fade_mm = 400", f"fade_mm = {fits:.2f}")) == []
    (fault,) = faults(text.replace("fade_mm = 400", f"fade_mm = {over:.2f}"))
    assert "no room for this blend" in fault
    assert fault.endswith('full colour here (role = "repair"), blend the next panel')


def test_mist_past_the_panel_is_no_fault(faults: Faults) -> None:
    """Only colour and fade must fit; the mist beyond the fade may leave the panel."""
    assert faults(GOOD.replace("fade_mm = 400", "fade_mm = 890")) == []


def test_entries_about_a_place_that_is_gone_are_no_fault(faults: Faults) -> None:
    """A job opens after a line that was logged is taken out; the gate tells of the entry."""
    assert faults(GOOD.replace('feature = "E1"', 'feature = "X1"')) == []
    assert faults(GOOD.replace('panel = "door"', 'panel = "dor"')) == []


def test_the_same_panel_id_twice_is_refused(faults: Faults) -> None:
    """Two panels of one id could not be told apart in the log."""
    panel = GOOD[GOOD.index("[[panel]]") : GOOD.index("[[panel.patch]]")]
    (fault,) = faults(GOOD + panel)
    assert fault.startswith('job.toml:45:6: the id "door" is already taken by another panel')


def test_blank_or_missing_flake_is_no_fault(faults: Faults) -> None:
    """What is not known is judged strictly later on, not refused here."""
    assert faults(GOOD.replace('"very-fine"', '""')) == []
    assert faults(GOOD.replace('flake = "very-fine"\n', "")) == []


def test_an_impossible_case_is_refused_with_the_standards_reason(
    shipped_house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the standards' own list calls impossible is refused where a place really is in that zone."""
    engine = shipped_house.engine
    monkeypatch.setattr(
        engine,
        "impossible",
        lambda facts: "Not in the clear zone." if (facts.feature, facts.zone) == ("patch", "clear") else None,
    )
    job_of_text(GOOD.encode(), "job.toml", shipped_house)  # the patch lies in colour and fade
    far = GOOD.replace("at = [0.4, 0.6]", "at = [0.85, 0.6]")
    with pytest.raises(
        BadInputError, match=r"^job.toml:26:11: the patch R1 cannot be as stated: Not in the clear"
    ):
        job_of_text(far.encode(), "job.toml", shipped_house)


@pytest.mark.parametrize("entries", [501, 10_000])
def test_more_lines_than_any_panel_has_are_refused(entries: int, faults: Faults) -> None:
    """A list beyond any real size is one sentence, not thousands of faults."""
    line = '[[panel.feature]]\nid = "E{0}"\nkind = "edge"\npath = [[0,0],[0,1]]\n'
    (fault,) = faults(
        GOOD[: GOOD.index("[[check]]")] + "".join(line.format(n) for n in range(2, entries + 1))
    )
    assert f"{entries:,} feature entries are more than the 500 that are read" in fault


def test_very_many_faults_are_counted(faults: Faults) -> None:
    """After the first two hundred the rest is one line with their number."""
    check = GOOD[GOOD.index("[[check]]") :].replace("P1000", "1000")
    found = faults(GOOD + check * 1000)
    assert len(found) == FAULTS_MAX + 1
    assert "800 more faults follow" in found[-1]


def test_a_job_comes_from_standard_input_as_well(
    shipped_house: House, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A dash is standard input, for the job and in its faults."""
    (tmp_path / "job").write_text(GOOD + "x = 1\n", encoding="utf-8")
    with (tmp_path / "job").open(encoding="utf-8") as file:
        monkeypatch.setattr("sys.stdin", file)
        with pytest.raises(BadInputError, match=r'^standard input:44:1: the key "x" is not known here'):
            load_job("-", shipped_house)


def test_a_misspelt_side_is_told_beside_a_length_that_cannot_be(faults: Faults) -> None:
    """No length bears on it, so it does not wait for the next reading."""
    found = faults(GOOD.replace('["front"]', '["fronnt"]').replace("length_mm = 1050", "length_mm = -3"))
    assert len(found) == 2
    assert '"fronnt" is neither a side nor a patch of this panel; did you mean "front"?' in found[1]
