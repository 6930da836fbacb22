"""Blocks are put on pages by computed heights: every row once, in order, none past the page."""

from hypothesis import given
from hypothesis import strategies as st

from prepadvisor.cards.page.block import Extent, fit, fit_whole

ROOM = 250.0
heights = st.floats(min_value=0.5, max_value=60, allow_nan=False)
extents = st.builds(
    Extent,
    lead_mm=heights,
    row_mms=st.lists(heights, max_size=14).map(tuple),
    again_mm=st.floats(min_value=0, max_value=20),
    side_mm=st.floats(min_value=0, max_value=120),
    keep_rows=st.integers(min_value=1, max_value=3),
    keep_next=st.booleans(),
)
jobs = st.lists(extents, min_size=1, max_size=8)


@given(jobs)
def test_every_row_of_every_block_stands_once_and_in_order(blocks: list[Extent]) -> None:
    """Blocks one after another, each cut without a gap."""
    parts = [part for page in fit(blocks, ROOM) for part in page]
    assert [part.block for part in parts] == sorted(part.block for part in parts)
    for index, block in enumerate(blocks):
        own = [part for part in parts if part.block == index]
        assert own[0].start == 0
        assert own[-1].stop == len(block.row_mms)
        assert [part.start for part in own[1:]] == [part.stop for part in own[:-1]]


@given(jobs)
def test_nothing_reaches_past_the_page_or_into_another_block(blocks: list[Extent]) -> None:
    """These blocks are all lower than a page, their leads and one row together too."""
    for page in fit(blocks, ROOM):
        y = 0.0
        for part in page:
            assert part.y_mm >= y - 1e-6
            y = part.y_mm + part.height_mm
            alone = part.y_mm == 0 and part.stop - part.start <= 1
            assert y <= ROOM + 1e-6 or alone


@given(jobs)
def test_keeping_blocks_whole_never_costs_a_page(blocks: list[Extent]) -> None:
    """Whole where that is free, divided where it is not."""
    assert len(fit_whole(blocks, ROOM)) <= len(fit(blocks, ROOM))


def test_a_block_that_fits_exactly_needs_no_second_page() -> None:
    """Ten rows of 20 under a lead of 50."""
    assert len(fit([Extent(50.0, (20.0,) * 10)], ROOM)) == 1


def test_one_row_more_goes_on_on_the_next_page_under_the_repeated_head() -> None:
    """The eleventh row stands under what is repeated."""
    first, second = fit([Extent(50.0, (20.0,) * 11, again_mm=12.0)], ROOM)
    assert (first[0].stop, second[0].start, second[0].height_mm) == (10, 10, 32.0)


def test_a_heading_is_never_left_alone_at_the_foot_of_a_page() -> None:
    """It moves on with the first rows of what it heads."""
    heading, rows = Extent(20.0, keep_next=True), Extent(10.0, (20.0,) * 3, keep_rows=3)
    pages = fit([Extent(200.0), heading, rows], ROOM)
    assert [[part.block for part in page] for page in pages] == [[0], [1, 2]]


def test_what_stands_beside_the_rows_makes_the_block_at_least_as_high() -> None:
    """A drawing of 80 beside two rows of 10."""
    assert fit([Extent(5.0, (10.0, 10.0), side_mm=80.0)], ROOM)[0][0].height_mm == 80.0


def test_what_is_taken_of_the_first_page_is_taken_of_no_other() -> None:
    """A job line 60 higher than the one that is repeated: three rows less on the first page."""
    rows = Extent(0.0, (20.0,) * 24)
    assert [page[0].stop - page[0].start for page in fit([rows], ROOM)] == [12, 12]
    assert [page[0].stop - page[0].start for page in fit([rows], ROOM, 60.0)] == [9, 12, 3]
