"""What a struck entry takes back, and who may."""

import pytest

from prepadvisor.logbook import Logbook, Writer, primed
from prepadvisor.records import Check, NotStruck, StruckEntry
from tests.logbook.test_order import entry

LEADS = ("L. D.", "M. O.")


def struck(what: Check, by: str, leads: tuple[str, ...] = (), worked_by: str = "KM") -> bool:
    """Say whether a strike of an entry counts, after work by somebody."""
    writer = Writer("k")
    log = [writer.stamp(entry(0, "sanded", by=worked_by), [])]
    log.append(writer.stamp(what, log))
    log.append(writer.stamp(entry(9, "struck", of="k-2", note="a slip of the key", by=by), log))
    return bool(Logbook.read(log, leads=leads).entries[1].struck)


WORK = entry(1, "scuffed", by="KM")
CLEAR = entry(1, "inspected", result="clear", by="KM")
LINES = entry(1, "inspected", result="lines", by="KM")


@pytest.mark.parametrize(
    ("what", "by", "leads", "stands"),
    [
        (WORK, "KM", (), True),
        (WORK, "k. m.", (), True),
        (WORK, "JB", (), False),
        (WORK, "L. D.", LEADS, False),
        (CLEAR, "KM", (), True),
        (CLEAR, "JB", (), False),
        (LINES, "KM", (), False),
        (LINES, "JB", (), True),
        (LINES, "KM", LEADS, False),
        (LINES, "JB", LEADS, False),
        (LINES, "LD", LEADS, True),
        (LINES, "KM", ("KM",), True),
        (LINES, "JB", ("KM",), False),
        (WORK, "", (), False),
        (WORK, "\u200b", (), False),
    ],
)
def test_who_may_strike_what(what: Check, by: str, leads: tuple[str, ...], stands: bool) -> None:
    """Work and clear looks by their writer; what a look found by a lead, or the one man of a shop."""
    assert struck(what, by, leads) is stands


def test_a_lead_does_not_strike_what_was_found_on_his_own_work() -> None:
    """Where there are several leads, another of them must."""
    assert not struck(LINES, "LD", LEADS, worked_by="LD")


def test_the_one_man_of_a_shop_is_told_to_have_struck_his_own() -> None:
    """He is not locked up, but it is said."""
    writer = Writer("k")
    log = [writer.stamp(LINES, [])]
    log.append(writer.stamp(entry(2, "struck", of="k-1", note="a slip", by="KM"), log))
    assert StruckEntry(1, 2, by_himself=True) in Logbook.read(log, leads=["KM"]).remarks


def test_a_strike_that_did_not_know_its_entry_does_not_count() -> None:
    """Nobody takes back what he had not read."""
    log = [Writer("a").stamp(WORK, [])]
    log.append(Writer("b").stamp(entry(2, "struck", of="a-1", by="KM"), []))
    assert NotStruck(2, "a-1", "not-known") in Logbook.read(log).remarks


def test_a_strike_of_nothing_is_told() -> None:
    """An id mistyped."""
    assert NotStruck(1, "a-9", "no-such-entry") in Logbook.read([entry(2, "struck", of="a-9")]).remarks


def test_a_strike_cannot_be_struck() -> None:
    """What was taken back is logged again."""
    writer, log = Writer("k"), list[Check]()
    for check in (WORK, entry(2, "struck", of="k-1"), entry(3, "struck", of="k-2")):
        log.append(writer.stamp(check, log))
    book = Logbook.read(log)
    assert book.entries[0].struck == 2
    assert not book.entries[1].struck


def test_primed_is_taken_from_entries_that_stand() -> None:
    """The last of each patch; struck and unsigned ones count nowhere."""
    writer, log = Writer("k"), list[Check]()
    for check in (
        entry(0, "primed", feature="R1"),
        entry(1, "primed", feature="R2"),
        entry(2, "primed", feature="R3", by=""),
        entry(3, "struck", of="k-2"),
        entry(4, "primed", feature="R1"),
        entry(5, "primed", feature="face"),
    ):
        log.append(writer.stamp(check, log))
    assert [(each.feature, each.name) for each in primed(log)] == [("R1", "k-5"), ("panel", "k-6")]
