"""What an entry is refused for, whole: for a thousand entries drawn from words that could be meant."""

import random
from collections.abc import Iterator
from typing import Any, Final

from prepadvisor.checkoff import EntryRefusedError, Wanted, log_entries
from prepadvisor.records import Check
from prepadvisor.records import log_refusals as f
from tests.checkoff.plain_gate import STEP, WORK
from tests.checkoff.shopfloor import DOOR, Shopfloor

WING: Final = "left-front-wing"
STEPS: Final = (
    "cleaned", "scuffed", "guide-coated", "sanded", "inspected", "wiped", "accepted", "primed", "sealed",
    "bedded", "coloured", "cleared", "seen-wet", "struck",
)  # fmt: skip
BOOTH: Final = ("sealed", "bedded", "coloured", "cleared", "seen-wet")
LOOKS: Final = ("clear", "lines", "gloss", "cut-through", "low", "pinhole")
WHERE: Final = (
    f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/H1", f"{DOOR}/face", f"{WING}/R1", f"{DOOR}/panel", DOOR,
    f"{DOOR}/all", f"{DOOR}/lines", f"{WING}/lines", f"{DOOR}/E99", f"{WING}/",
)  # fmt: skip
REASON: Final = "hidden under the trim"


class Plain:
    """A job as the bench knows it: which places there are, what they owe, which were looked at."""

    def __init__(self, floor: Shopfloor) -> None:
        """Read the advice and the log."""
        self.floor = floor
        self.places: dict[str, dict[str, Any]] = {DOOR: {}, WING: {}}
        for place in floor.advice.places:
            self.places[place.panel][place.feature] = place
        self.owed: dict[str, set[str]] = {}
        for task in floor.advice.work.tasks:
            if task.do in STEP:
                self.owed.setdefault(task.place, set()).add(STEP[task.do])
        self.ids = {check.id for check in floor.log}
        self.named = {f"{check.panel}/{check.feature}" for check in floor.log}
        self.looked = {(check.panel, check.feature) for check in floor.log if check.step == "inspected"}

    def refusals(self, asked: dict[str, Any]) -> Iterator[f.LogRefusal]:
        """Say what is wrong with an entry, one thing after the other."""
        where, step = asked["where"], asked["step"]
        panel, _, feature = where.partition("/")
        own = self.places[panel]
        site: Any = own.get(feature)
        sites = [site]
        if step in ("accepted", "struck") and where in self.named and feature not in own:
            pass
        elif step in ("cleaned", "wiped"):
            sites = [None]
            if "/" in where and feature not in ("panel", "all"):
                yield f.WholePanelOnly(step, panel)
        elif step in (*BOOTH, "primed", "struck") and feature in ("", "panel", "all"):
            pass
        elif feature == "lines":
            lines = [each for each in own.values() if each.kind not in ("face", "patch")]
            sites = [each for each in lines if step in self.owed[each.id]] if step in WORK else []
            if step not in WORK:
                yield f.OwnLook(step, lines=True)
            elif not sites:
                yield f.NoLineOwes(panel, step, where)
        elif feature == "all":
            if step not in WORK and not (step == "inspected" and asked["again"]):
                yield f.OwnLook(step, lines=False, renews=step == "inspected")
                sites = []
            elif step == "inspected":
                never = tuple(each for each in own if (panel, each) not in self.looked)
                if never:
                    yield f.NeverLooked(never)
                if asked["result"] not in ("", "clear"):
                    yield f.OnlyClearOfAll()
        elif feature in ("", "panel"):
            sites = []
            yield f.OnePlaceOnly(step, panel, tuple(own))
        elif site is None:
            sites = []
            yield f.UnknownWord("place", feature, tuple(own), panel)
        for each in sites:
            yield from self.at(each, asked)
        yield from self.stated(asked)

    def at(self, place: Any, asked: dict[str, Any]) -> Iterator[f.LogRefusal]:
        """Say what cannot be done there."""
        step, tool, where = asked["step"], asked["tool"], asked["where"]
        is_line = place is not None and place.kind not in ("face", "patch")
        by_hand = place is not None and place.reach == "hand"
        if step == "scuffed" and tool.startswith("da"):
            yield f.WrongHand("scuffed", tool)
        if step == "sanded" and tool.startswith("hand") and (is_line or not by_hand):
            yield f.WrongHand("sanded", tool)
        if by_hand and step == "guide-coated":
            yield f.HandPlace(where, "guide-coated")
        if by_hand and step == "sanded" and (is_line or tool.startswith("da")):
            yield f.HandPlace(where, "sanded")
        if is_line and asked["result"] in ("low", "pinhole"):
            yield f.OnFillOnly(asked["result"], where)

    def stated(self, asked: dict[str, Any]) -> Iterator[f.LogRefusal]:
        """Say what is stated too much or too little."""
        step, note, of = asked["step"], asked["note"], asked["of"]
        is_look = step in ("inspected", "seen-wet")
        if is_look and not asked["result"]:
            yield f.EntryLacks("result", LOOKS)
        if not is_look and asked["result"]:
            yield f.OutOfPlace("result", step)
        if step not in ("scuffed", "sanded") and (asked["tool"] or asked["grade"]):
            yield f.OutOfPlace("cut", step)
        if step == "accepted" and note != REASON:
            yield f.EntryLacks("reason")
        if step == "struck" and not of:
            yield f.EntryLacks("which-entry")
        if step == "struck" and not note:
            yield f.EntryLacks("why-struck")
        if of and step not in ("struck", "accepted"):
            yield f.OutOfPlace("which-entry", step)
        if of and of not in self.ids:
            yield f.NoSuchEntry(of)
        if asked["again"] and step != "inspected":
            yield f.OutOfPlace("again", step)


def drawn(rng: random.Random, ids: list[str]) -> dict[str, Any]:
    """Return an entry that could be meant, or not."""
    step, tools = rng.choice(STEPS), ("hand-pad", "hand-paper", "block", "da", "da-soft", "")
    cut, look = step in ("scuffed", "sanded"), step in ("inspected", "seen-wet")
    return {
        "where": rng.choice(WHERE),
        "step": step,
        "tool": rng.choice(tools) if cut or rng.random() < 0.1 else "",
        "grade": rng.choice(("P1000", "")) if cut or rng.random() < 0.1 else "",
        "result": rng.choice((*LOOKS, "")) if look or rng.random() < 0.15 else "",
        "note": rng.choice(("", "ok", REASON)),
        "of": rng.choice((*ids, "nobody-9")) if rng.random() < (0.7 if step == "struck" else 0.15) else "",
        "again": rng.random() < (0.6 if step == "inspected" else 0.1),
    }


def tried(floor: Shopfloor, asked: dict[str, Any]) -> tuple[tuple[Check, ...], tuple[f.LogRefusal, ...]]:
    """Return the entries that are made, or why none is."""
    try:
        return log_entries(floor.job, floor.advice, Wanted(by="KM", **asked), floor.now, floor.house), ()
    except EntryRefusedError as error:
        return (), error.faults


def test_an_entry_is_refused_for_just_what_is_wrong_with_it(floor: Shopfloor, fresh: Shopfloor) -> None:
    """And made where nothing is: of work on a job that is done, and on one where nothing was looked at."""
    made = refused = 0
    by_hand = fresh.copy()
    places = tuple(
        place._replace(reach="hand") if place.feature in ("face", "R1") else place
        for place in by_hand.advice.places
    )
    by_hand._advice = by_hand.advice._replace(places=places)  # where rules keep every machine off
    for one, seed in ((floor, 1), (fresh, 2), (by_hand, 3)):
        plain, rng = Plain(one), random.Random(seed)
        ids = [check.id for check in one.log[:3]]
        for _ in range(500):
            asked = drawn(rng, ids)
            expected = set(plain.refusals(asked))
            entries, faults = tried(one, asked)
            assert set(faults) == expected, asked
            assert len(faults) == len(expected)
            if faults:
                refused += 1
                continue
            assert {entry.step for entry in entries} == {asked["step"]}
            assert [(e.tool or "", e.grade or "", e.result or "", e.note, e.of) for e in entries] == [
                tuple(asked[name] for name in ("tool", "grade", "result", "note", "of"))
            ] * len(entries)
            made += 1
    assert made > 150
    assert refused > 300
