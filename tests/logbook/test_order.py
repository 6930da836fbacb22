"""Who knew what: held against the definition read out word by word over sets."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.logbook import Logbook, Writer, name_of
from prepadvisor.records import Ahead, Check, KnewBelow, KnewNone, NoKnew, OutOfTurn, TimeBack, TwiceThere

START = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)


def entry(minute: float, step: str = "sanded", **stated: object) -> Check:
    """Return an entry at a minute after the start."""
    at = START + dt.timedelta(minutes=minute)
    return Check.model_validate(
        {"at": at, "by": "KM", "panel": "door", "feature": "E1", "step": step, **stated}
    )


def chain(count: int) -> list[Check]:
    """Return what one writer logs who reads the file each time."""
    writer, log = Writer("k"), list[Check]()
    for minute in range(count):
        log.append(writer.stamp(entry(minute), log))
    return log


def by_definition(log: list[Check]) -> dict[int, set[int]]:
    """Return for each entry the numbers that it knew, straight from the definition."""
    known: dict[int, set[int]] = {}
    for mine, check in enumerate(log, 1):
        above = set(range(1, mine))
        if check.knew == "start":
            told: set[int] = set()
        elif not check.knew:
            told = above
        else:
            named = [n for n, other in enumerate(log, 1) if other.id == check.knew]
            told = set(range(1, named[0] + 1)) if named and named[0] < mine else above
        token, _, count = check.id.rpartition("-")
        own = {
            n
            for n, other in enumerate(log, 1)
            if token
            and other.id.rpartition("-")[0] == token
            and int(other.id.rpartition("-")[2]) < int(count)
        }
        known[mine] = (told | own) - {mine}
    return known


@st.composite
def logs(draw: st.DrawFn) -> list[Check]:
    """Two or three writers who read the file now and then, some entries by hand."""
    writers = [Writer(token) for token in ("a", "b", "c")]
    read: dict[str, int] = {}
    log: list[Check] = []
    for minute in range(draw(st.integers(1, 14))):
        who = draw(st.sampled_from([*writers, None]))
        if who is None:
            log.append(entry(minute))
            continue
        if draw(st.booleans()):
            read[who.token] = len(log)
        seen = [check for check in log[: read.get(who.token, 0)] if check.id]
        log.append(who.stamp(entry(minute), seen))
    return log


@settings(max_examples=150, deadline=None)
@given(logs(), st.randoms())
def test_who_knew_what_is_as_the_definition_says(log: list[Check], random: object) -> None:
    """However many writers, and with the lines of the file in any order."""
    if random.random() < 0.5:  # type: ignore[attr-defined]
        random.shuffle(log)  # type: ignore[attr-defined]
    known = by_definition(log)
    entries = Logbook.read(log).entries
    found = {one.number: {other.number for other in entries if one.knew(other)} for one in entries}
    assert found == known


@settings(max_examples=100, deadline=None)
@given(logs())
def test_what_the_program_writes_is_never_taken_for_edited(log: list[Check]) -> None:
    """Writers only append, so nothing is out of order, whoever read when."""
    assert not any(one.edited for one in Logbook.read(log).entries)


@settings(max_examples=60, deadline=None)
@given(st.integers(2, 8), st.data())
def test_two_lines_that_changed_places_are_seen(count: int, data: st.DataObject) -> None:
    """Whichever two."""
    log = chain(count)
    one, other = sorted(data.draw(st.sets(st.integers(0, count - 1), min_size=2, max_size=2)))
    log[one], log[other] = log[other], log[one]
    assert any(each.edited for each in Logbook.read(log).entries)


def test_a_line_taken_out_is_seen_at_the_next() -> None:
    """Its writer says he knew what is not there."""
    log = chain(3)
    assert KnewNone(2, "k-2") in Logbook.read([log[0], log[2]]).remarks


def test_a_line_of_an_older_version_taken_out_is_seen() -> None:
    """Entries without id are known by what they say."""
    log = [entry(0), entry(1)]
    log.append(Writer("k").stamp(entry(2), log))
    assert not any(one.edited for one in Logbook.read(log).entries)
    assert [one.edited for one in Logbook.read([log[0], log[2]]).entries] == [False, True]


def test_entries_logged_at_once_without_reading_are_concurrent() -> None:
    """Neither knew the other; both knew what stood before."""
    first = chain(1)
    a, b = Writer("a").stamp(entry(5), first), Writer("b").stamp(entry(5), first)
    one, two, three = Logbook.read([*first, a, b]).entries
    assert (three.knew(two), two.knew(three)) == (False, False)
    assert (two.knew(one), three.knew(one)) == (True, True)


def test_own_unsaved_entries_are_known() -> None:
    """A screen that is not saved yet knows what it logged itself."""
    writer = Writer("a")
    log = [writer.stamp(entry(0), []), writer.stamp(entry(1), [])]
    one, two = Logbook.read([log[0], Writer("b").stamp(entry(1), []), log[1]]).entries[::2]
    assert two.knew(one)


def test_entries_without_knew_are_told_once_and_know_all_above() -> None:
    """As older versions wrote them."""
    book = Logbook.read([entry(0), entry(1), entry(2)])
    assert book.remarks == (NoKnew((2, 3)),)
    assert book.entries[2].knew(book.entries[0])


def test_knew_that_stands_below_is_edited() -> None:
    """Nobody knew what came later."""
    log = chain(2)
    book = Logbook.read(log[::-1])
    assert KnewBelow(1, 2) in book.remarks
    assert book.entries[0].edited


def test_an_entry_that_stands_twice_counts_once() -> None:
    """As after a save that was tried again."""
    log = chain(2)
    book = Logbook.read([*log, log[1]])
    assert len(book.entries) == 2
    assert TwiceThere(3, 2, is_same=True) in book.remarks


def test_an_id_taken_for_another_entry_is_edited() -> None:
    """Copied by hand and changed."""
    log = chain(2)
    book = Logbook.read([*log, log[1].model_copy(update={"grade": "P1500"})])
    assert book.entries[2].edited


def test_a_writers_own_order_is_kept_even_where_he_read_nothing_between() -> None:
    """A screen logs several entries at once: they all knew the same."""
    writer = Writer("a")
    log = [writer.stamp(entry(0), []), writer.stamp(entry(1), [])]
    assert OutOfTurn(2, 1) in Logbook.read(log[::-1]).remarks


@pytest.mark.parametrize(("minutes", "ahead"), [(9.9, False), (10.1, True)])
def test_ten_minutes_ahead_of_the_readers_clock_do_not_count(minutes: float, ahead: bool) -> None:
    """Two clocks of a shop may differ; a year may not."""
    book = Logbook.read([entry(minutes)], START)
    assert book.entries[0].ahead is ahead
    assert book.remarks == ((Ahead(1, START + dt.timedelta(minutes=minutes)),) if ahead else ())


def test_time_that_runs_backwards_is_told() -> None:
    """The order of entry stands."""
    log = chain(2)
    log.append(Writer("b").stamp(entry(-60), log))
    assert TimeBack(3, 2) in Logbook.read(log).remarks


def test_a_name_does_not_depend_on_how_a_time_is_written() -> None:
    """The same moment in another zone is the same entry."""
    one = entry(0)
    zone = dt.timezone(dt.timedelta(hours=1))
    assert name_of(one) == name_of(one.model_copy(update={"at": one.at.astimezone(zone)}))
