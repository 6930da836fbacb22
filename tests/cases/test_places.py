"""Places of a panel before and after primer, worked by hand: what waits, rings, numbers, crossings."""

from itertools import product
from typing import Any

import pytest

from prepadvisor.cases import (
    CATEGORIES,
    CATEGORY,
    CaseSpot,
    Facts,
    Names,
    Subject,
    facts_of,
    judged,
    lines_aside,
    panel_shapes,
    silence,
    standing,
    subjects,
    with_usual_lines,
    zoning,
)
from prepadvisor.cases.places import WHOLE
from prepadvisor.cases.zones import crossed_patches
from prepadvisor.records import LINE_KINDS, Colour, Job, Outline, Panel
from prepadvisor.standards import House
from prepadvisor.surface import Rect

LAP_MM, RING_MM = 50, 30


def patch(name: str, at: tuple[float, float], size: tuple[float, float], next_: str) -> dict[str, Any]:
    """State a patch."""
    surface = "filler" if next_ == "primer" else "primer-surfacer"
    now = {"tool": "block", "grade": "P180"}
    return {"id": name, "surface": surface, "next": next_, "at": at, "size_mm": size, "now": now}


def panel(*patches: dict[str, Any], **more: Any) -> Panel:
    """State a wing of 1000 by 600 mm, all colour."""
    stated = {
        "id": "p", "kind": "front-wing", "role": "repair", "surface": "aged-clear", "length_mm": 1000,
        "height_mm": 600, "patch": patches, **more,
    }  # fmt: skip
    return Panel.model_validate(stated)


FILLED = patch("A", (0.5, 0.5), (200, 100), "primer")
CORNER = patch("B", (0.05, 0.95), (100, 60), "primer")
READY = patch("C", (0.8, 0.2), (100, 100), "base")


def stands(wing: Panel, *primed: str) -> tuple[set[str], dict[str, tuple[str, str]], dict[str, Any]]:
    """Return what waits, what each patch and the panel is now and later, and the sizes now and later."""
    found = standing(wing, frozenset(primed), LAP_MM, RING_MM)
    surfaces: dict[str, tuple[str, str]] = {"p": (found.now.surface, found.later.surface)}
    sizes = {}
    for now, later in zip(found.now.patch, found.later.patch, strict=True):
        surfaces[now.id] = (now.surface, later.surface)
        sizes[now.id] = (now.size_mm, later.size_mm)
    return set(found.waiting), surfaces, sizes


def test_a_panel_without_primer_stands_as_it_is() -> None:
    """Nothing waits and nothing is keyed round a patch that colour goes on."""
    wing = panel(READY)
    found = standing(wing, frozenset({"C"}), LAP_MM, RING_MM)
    assert (found.stated, found.now, found.later) == (wing, wing, wing)
    assert (found.rings, found.waiting) == ((), frozenset())


def test_a_filled_patch_waits_and_grows_by_the_lap_on_each_side() -> None:
    """200 x 100 mm becomes 300 x 200 of primer surfacer, not yet sanded, base next; another patch stays."""
    wing = panel(FILLED, READY)
    waiting, surfaces, sizes = stands(wing)
    assert waiting == {"A"}
    assert surfaces == {
        "p": ("aged-clear", "aged-clear"), "A": ("filler", "primer-surfacer"),
        "C": ("primer-surfacer", "primer-surfacer"),
    }  # fmt: skip
    assert sizes == {"A": ((200, 100), (300, 200)), "C": ((100, 100), (100, 100))}
    later = standing(wing, frozenset(), LAP_MM, RING_MM).later.patch
    assert [(each.next, each.now is None) for each in later] == [("base", True), ("base", False)]
    waiting, surfaces, sizes = stands(wing, "A", "C", "nobody")
    assert waiting == set()
    assert surfaces["A"] == ("primer-surfacer", "primer-surfacer")
    assert sizes["A"] == ((300, 200), (300, 200))


def test_of_two_filled_patches_the_one_that_is_primed_waits_no_more() -> None:
    """The other does."""
    waiting, surfaces, _ = stands(panel(FILLED, CORNER), "B")
    assert waiting == {"A"}
    assert surfaces["A"] == ("filler", "primer-surfacer")
    assert surfaces["B"] == ("primer-surfacer", "primer-surfacer")


def test_a_panel_that_is_primed_whole_takes_its_patches_with_it() -> None:
    """No lap and no rings: all of it is primer. Primer on a patch alone leaves the panel waiting."""
    wing = panel(FILLED, READY, next="primer", now={"tool": "da", "grade": "P320"})
    waiting, surfaces, sizes = stands(wing)
    assert waiting == {"A", WHOLE}
    assert surfaces["p"] == ("aged-clear", "primer-surfacer")
    assert sizes["A"] == ((200, 100), (200, 100))
    found = standing(wing, frozenset({WHOLE}), LAP_MM, RING_MM)
    assert (found.waiting, found.rings) == (frozenset(), ())
    assert (found.now.surface, found.now.next, found.now.now) == ("primer-surfacer", "base", None)
    assert found.now.patch[0].surface == "primer-surfacer"
    waiting, surfaces, _ = stands(wing, "A")
    assert waiting == {WHOLE}
    assert surfaces["p"] == ("aged-clear", "primer-surfacer")
    assert surfaces["A"] == ("primer-surfacer", "primer-surfacer")
    bare = standing(panel(READY, next="primer"), frozenset(), LAP_MM, RING_MM)
    assert bare.waiting == {WHOLE}


def test_a_ring_lies_round_the_lap_and_ends_at_the_panel() -> None:
    """30 mm past 300 x 200 in the middle; in the corner it is cut off; each leaves out what came before."""
    found = standing(panel(READY, FILLED, CORNER), frozenset(), LAP_MM, RING_MM)
    lapped = {
        "C": Rect(750, 70, 850, 170), "A": Rect(350, 200, 650, 400), "B": Rect(0, 490, 150, 600),
    }  # fmt: skip
    assert [ring.patch for ring in found.rings] == ["A", "B"]
    assert [ring.feature for ring in found.rings] == ["A-ring", "B-ring"]
    assert found.rings[0].rect == pytest.approx(Rect(320, 170, 680, 430))
    assert found.rings[1].rect == pytest.approx(Rect(0, 460, 180, 600))
    for ring, holes in zip(found.rings, ((), (found.rings[0].rect,)), strict=True):
        assert len(ring.holes) == 3 + len(holes)
        for hole, expected in zip(ring.holes, [*lapped.values(), *holes], strict=True):
            assert hole == pytest.approx(expected)
    near = standing(panel(patch("D", (0.95, 0.05), (100, 60), "primer")), frozenset(), LAP_MM, RING_MM)
    assert near.rings[0].rect == pytest.approx(Rect(820, 0, 1000, 140))


LINES = [
    {"id": "E1", "kind": "edge", "path": [(0, 0), (0, 1)], "reach": "hand", "name": "front edge"},
    {
        "id": "L1", "kind": "body-line", "path": [(0, 0.5), (1, 0.5)], "reach": "machine",
        "done": {"tool": "hand-pad", "grade": "P800"},
    },
    {"id": "F1", "kind": "flange", "path": [(0.9, 0), (0.9, 0.1)]},
]  # fmt: skip


def listed(wing: Panel) -> list[Subject]:
    """Return the places of a panel with its rings."""
    found = standing(wing, frozenset(), LAP_MM, RING_MM)
    return subjects(found.later, zoning(wing, 0.0), found.rings)


def test_places_are_listed_face_patches_rings_lines_and_numbered_lines_first() -> None:
    """The face is 0; then lines, patches and rings in their own order."""
    found = listed(panel(FILLED, READY, feature=LINES, now={"tool": "da", "grade": "P500"}))
    assert [(each.feature, each.kind, each.number) for each in found] == [
        ("face", "face", 0), ("A", "patch", 4), ("C", "patch", 5), ("A-ring", "patch", 6),
        ("E1", "edge", 1), ("L1", "body-line", 2), ("F1", "flange", 3),
    ]  # fmt: skip
    assert [each.id for each in found[:2]] == ["p/face", "p/A"]
    assert [each.is_line for each in found] == [False] * 4 + [True] * 3
    assert [each.ring_of for each in found] == ["", "", "", "A", "", "", ""]
    assert [each.seen for each in found] == [True] * 6 + [False]
    assert [each.reach for each in found[4:]] == ["hand", "machine", "hand"]
    assert [each.name for each in found[4:]] == ["front edge", "", ""]
    assert [each.crosses for each in found[4:]] == [(), ("A",), ()]
    assert [each.surface for each in found[:4]] == [
        "aged-clear", "primer-surfacer", "primer-surfacer", "aged-clear",
    ]  # fmt: skip
    assert [each.was and each.was.grade for each in found] == [
        "P500", None, "P180", "P500", None, "P800", None,
    ]  # fmt: skip


def test_places_have_their_own_areas_and_lengths() -> None:
    """0.6 m², of it 0.06 patch A, 0.01 patch C, 0.36 x 0.26 less 0.06 the ring; lines by their path."""
    found = {each.feature: each.amount for each in listed(panel(FILLED, READY, feature=LINES))}
    ring = 0.36 * 0.26 - 0.06
    assert found == pytest.approx(
        {"face": 0.6 - 0.07 - ring, "A": 0.06, "C": 0.01, "A-ring": ring, "E1": 600, "L1": 1000, "F1": 60},
        rel=1e-6,
    )


def test_a_face_that_patches_cover_whole_is_no_place_and_neither_is_such_a_ring() -> None:
    """A patch as large as the panel leaves neither."""
    whole = patch("A", (0.5, 0.5), (1000, 600), "primer")
    assert [each.feature for each in listed(panel(whole))] == ["A"]


def test_a_line_crosses_a_patch_where_more_than_a_millimetre_of_it_lies_in_it() -> None:
    """Along its border, through it, and in a corner of it."""
    wing = panel(patch("A", (0.5, 0.5), (200, 100), "base"))
    for path, crossed in (
        ([(0.0, 0.5), (1.0, 0.5)], ["A"]),
        ([(0.0, 0.5), (0.4015, 0.5)], ["A"]),
        ([(0.0, 0.5), (0.4009, 0.5)], []),
        ([(0.0, 0.1), (1.0, 0.1)], []),
    ):
        assert crossed_patches(wing, tuple(path)) == crossed


def test_usual_lines_are_given_to_panels_that_state_none(shipped_house: House) -> None:
    """Each by its outline; a panel with lines keeps them, and one of a kind without outline has none."""
    stated = [
        panel(id="a").model_dump(), panel(id="b", kind="sill").model_dump(),
        panel(id="c", feature=LINES).model_dump(),
    ]  # fmt: skip
    job = Job.model_validate({"job": {"number": "1"}, "panel": stated})
    lined = with_usual_lines(job, shipped_house.outlines)
    outlines = shipped_house.outlines
    assert [each.feature for each in lined.panel] == [
        outlines["front-wing"].feature, outlines["sill"].feature, job.panel[2].feature,
    ]  # fmt: skip
    only_sill = with_usual_lines(job, {"sill": outlines["sill"]})
    assert [bool(each.feature) for each in only_sill.panel] == [False, True, True]
    alone = job.model_copy(update={"panel": job.panel[2:]})
    assert with_usual_lines(alone, outlines) == alone


def test_a_case_is_read_off_a_spot() -> None:
    """A panel of 1000 x 600 mm is 0.6 m²; film is its lowest reading; only a line has a length."""
    wing = panel(feature=LINES, film_um=[120, 95])
    colour = judged(Colour(flake="coarse", stages=2, tone="mid"))
    face, edge = listed(wing)[0], listed(wing)[1]
    on_face, on_edge = (facts_of(CaseSpot(colour, each, "colour", 77.0)) for each in (face, edge))
    assert on_face == Facts(
        "coarse", "mid", "colour", 2, "repair", "aged-clear", "base", "face", "machine", True, "front-wing",
        "none", "other", 95.0, None, 0.6,
    )  # fmt: skip
    assert on_edge == on_face._replace(feature="edge", reach="hand", length_mm=77.0)
    assert facts_of(CaseSpot(colour, listed(panel())[0], "colour", 1.0)).film_um is None


def test_the_line_model_speaks_exactly_where_a_flake_that_is_seen_comes_over_colour() -> None:
    """Asked of every combination of the five facts it looks at; the first that fails is the reason."""
    grounds = {"aged-clear", "cured-clear", "primer-surfacer", "sealer", "primed-plastic"}
    facts = ("zone", "next", "surface", "flake", "seen")
    for values in product(*(CATEGORIES[CATEGORY[fact]].values for fact in facts)):
        zone, next_, surface, flake, seen = values
        expected = None
        if zone == "clear" or next_ != "base":
            expected = "no-flake-next"
        elif surface not in grounds:
            expected = "surface"
        elif flake == "solid":
            expected = "no-flake"
        elif not seen:
            expected = "not-seen"
        stated: dict[str, Any] = dict(zip(facts, values, strict=True))
        case = Facts()._replace(**stated)
        assert silence(case) == expected


def test_names_of_an_open_fact_keep_their_places() -> None:
    """A name gets the next place once; what nobody named has that of the rest, or none."""
    book, kinds = Names(), Names(("roof", "sill"), rest=None)
    assert (list(book), book.always, list(kinds), kinds.always) == (["other"], 1, ["roof", "sill"], 3)
    assert [book.place(name) for name in ("a", "b", "a", "other")] == [1, 2, 1, 0]
    assert list(book) == ["other", "a", "b"]
    assert [book.index(name) for name in ("other", "b", "unheard of")] == [0, 2, 0]
    assert [kinds.index(name) for name in ("roof", "sill", "fin")] == [0, 1, 2]
    assert kinds.place("fin") == 2
    assert kinds.index("fin") == 2
    assert kinds.index("wing") == 3
    assert (book.always, kinds.always) == (1, 3)


def test_sets_of_values_are_whole_open_and_named_by_their_bits() -> None:
    """A closed fact has a bit for each value; an open one has all bits, and names beside its own."""
    flake, book, kind = (CATEGORIES[CATEGORY[fact]] for fact in ("flake", "book", "panel"))
    assert (flake.full, flake.always, flake.is_open, flake.takes_any_word) == (63, 63, False, False)
    assert (book.full, book.always, book.is_open, book.takes_any_word) == (-1, 1, True, True)
    assert (kind.full, kind.is_open, kind.takes_any_word) == (-1, True, False)
    assert kind.always == (1 << len(kind.stated)) - 1
    assert list(book.stated) == ["other"]
    assert list(flake.stated) == ["solid", "coarse", "medium", "fine", "very-fine", "vapour"]
    assert [book.named_in(mask) for mask in (0, 1, 2, 6, 7, -1, -2, -3, -7)] == [0, 0, 2, 6, 6, 0, 0, 2, 6]


def test_only_lines_are_lines() -> None:
    """Nine kinds of place, two of them with an area."""
    kinds = CATEGORIES[CATEGORY["feature"]].values
    wing, zones = panel(), zoning(panel(), 0.0)
    (face,) = subjects(wing, zones)
    assert {kind for kind in kinds if face._replace(kind=kind).is_line} == set(LINE_KINDS)  # type: ignore[arg-type]
    assert set(kinds) - set(LINE_KINDS) == {"face", "patch"}


def test_what_a_panels_drawing_shows_is_laid_out_in_its_mm(shipped_house: House) -> None:
    """Outline, lines, patches and where colour comes in; a kind without an outline is a rectangle."""
    outline = shipped_house.outlines["front-wing"]
    wing = panel(READY, feature=LINES, role="blend", colour_from=["rear"], colour_mm=100, fade_mm=300)
    plain = panel_shapes(wing, None, 150)
    assert plain.outline == ((0, 0), (1000, 0), (1000, 600), (0, 600))
    assert plain.lines == {
        "E1": ((0, 0), (0, 600)),
        "L1": ((0, 300), (1000, 300)),
        "F1": ((900, 0), (900, 60)),
    }
    assert plain.patches == {"C": pytest.approx(Rect(750, 70, 850, 170))}
    assert (plain.layout.length_mm, plain.layout.height_mm, plain.layout.sides) == (1000, 600, ("rear",))
    drawn = panel_shapes(panel(), outline, 150)
    assert drawn.outline == tuple((x * 1000, y * 600) for x, y in outline.shape)
    assert drawn.lines.keys() == {line.id for line in outline.feature}
    assert panel_shapes(wing, outline, 150).lines == plain.lines
    assert panel_shapes(panel(), None, 150).lines == {}


def test_a_usual_line_is_set_aside_where_no_own_one_has_its_id_or_its_kind_and_name(
    shipped_house: House,
) -> None:
    """Of four usual lines one is stated by id, one by kind and name; one name on another kind is not it."""

    def line(name: str, kind: str, called: str = "") -> dict[str, Any]:
        return {"id": name, "kind": kind, "name": called, "path": [(0, 0), (1, 0)]}

    usual = [
        line("E1", "edge", "front"),
        line("E2", "edge", "rear"),
        line("L1", "body-line", "waist"),
        line("L2", "body-line"),
    ]
    wing = shipped_house.outlines["front-wing"]
    outline = Outline.model_validate({**wing.model_dump(), "feature": usual})
    own = [line("E1", "recess", "spear"), line("X", "edge", "rear"), line("Y", "edge", "waist")]
    assert lines_aside(panel(feature=own), outline) == ("waist", "L2")
    assert lines_aside(panel(), outline) == ()
    assert lines_aside(panel(feature=own), None) == ()
