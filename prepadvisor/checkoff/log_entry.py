"""Makes entries for the log, and refuses what makes no sense, every fault at once."""

import datetime as dt
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, Literal, get_args

from pydantic import ValidationError

from prepadvisor.checkoff.basis import ShopFloor, bases, number_part
from prepadvisor.checkoff.spoken import BOOTH_STEPS, PANEL_STEPS, WORK_STEPS
from prepadvisor.logbook import is_reason, person
from prepadvisor.records import (
    AREA_KINDS,
    DA_TOOLS,
    HAND_TOOLS,
    STEP_OF,
    TOOLS,
    Advice,
    Check,
    Job,
    Look,
    NamedTuple,
    NotAGradeError,
    Place,
    Step,
    Task,
    admits,
    card_numbers,
    grade,
    own_words,
    place_named,
)
from prepadvisor.records import log_refusals as f

if TYPE_CHECKING:
    from prepadvisor.records import Grade

STEPS: Final[tuple[str, ...]] = get_args(Step)
LOOKS: Final[tuple[str, ...]] = get_args(Look)
_OPEN_TO_STRANGERS: Final = frozenset({"accepted", "struck"})
"""Steps that may name a place which left the job."""


class EntryRefusedError(ValueError):
    """An entry makes no sense; `faults` has each reason, as kind and facts."""

    def __init__(self, faults: tuple[f.LogRefusal, ...]) -> None:
        """Keep the reasons."""
        self.faults = faults
        super().__init__(", ".join(fault.kind for fault in faults))


class Wanted(NamedTuple):
    """An entry as a person asks for it. Empty words were not given.

    `where` is "panel/feature" or the place's number on the card, such as "A4"; "panel/lines" stands for
    every line of the panel that asks for the step with this grade. `pad` is the shop's own name of a pad,
    whose coarse end then stands as the grade. `of` is the entry that is struck or accepted; `again` renews
    the looks of a whole panel.
    """

    where: str
    step: str
    by: str = ""
    tool: str = ""
    grade: str = ""
    pad: str = ""
    result: str = ""
    note: str = ""
    at: dt.datetime | None = None
    of: str = ""
    again: bool = False


class _Site(NamedTuple):
    """The place of an entry: its panel and feature, and its record where it is one place of the advice."""

    panel: str
    feature: str
    place: Place | None = None
    tasks: tuple[Task, ...] = ()

    @property
    def steps(self) -> frozenset[str]:
        """The steps that its tasks are logged as."""
        return frozenset(STEP_OF[task.do] for task in self.tasks)


def log_entries(
    job: Job, advice: Advice, wanted: Wanted, now: dt.datetime, floor: ShopFloor
) -> tuple[Check, ...]:
    """Return the entries to append, one for each place, with the basis that each rests on.

    Args:
        job: the job they are for.
        advice: the advice for exactly this job, with its plan of work.
        wanted: the entry asked for.
        now: the present time, with an offset; the entry's time where none is asked for.
        floor: the shop, for its pads and outlines.

    Raises:
        EntryRefusedError: with every reason why this entry makes no sense.
    """
    floor = floor.on(job)
    faults: list[f.LogRefusal] = []
    step = _word(wanted.step, STEPS, "step", faults)
    of_grade: list[f.LogRefusal] = []
    stated = _grade(wanted, floor.shop.pads, of_grade)
    sites = _sites(job, advice, wanted, step=step, stated=stated, faults=faults)
    at = _time(wanted.at, now, faults)
    faults.extend(of_grade)
    tool = _word(wanted.tool, TOOLS, "tool", faults) if wanted.tool else None
    result = _word(wanted.result, LOOKS, "result", faults) if wanted.result else None
    if not person(wanted.by):
        faults.append(f.EntryLacks("initials"))
    for site in sites:
        faults.extend(_senseless(wanted, step, tool, result, site))
    faults.extend(_needs(job, wanted, step, result))
    if faults:
        raise EntryRefusedError(tuple(dict.fromkeys(faults)))
    based = bases(job, advice, floor, {site.panel for site in sites if site.place})
    note = " ".join(word for word in (wanted.note, wanted.pad and f"(pad {wanted.pad})") if word)
    try:
        return tuple(
            Check.model_validate(
                {
                    "at": at, "by": wanted.by, "panel": site.panel, "feature": site.feature, "step": step,
                    "tool": tool, "grade": stated, "result": result, "note": note, "of": wanted.of,
                    "basis": based[site.place.id] if site.place else number_part(job),
                }
            )
            for site in sites
        )  # fmt: skip
    except ValidationError as error:
        raise EntryRefusedError(
            tuple(
                f.NotRead(f"{'.'.join(map(str, each['loc']))}: {own_words(each)}") for each in error.errors()
            )
        ) from None


def _word(
    word: str, known: tuple[str, ...], what: Literal["step", "tool", "result"], faults: list[f.LogRefusal]
) -> str:
    plain = word.strip().lower().replace("_", "-")
    if plain not in known:
        faults.append(f.UnknownWord(what, plain, known))
    return plain


def _sites(
    job: Job, advice: Advice, wanted: Wanted, step: str, stated: "Grade | None", faults: list[f.LogRefusal]
) -> tuple[_Site, ...]:
    where = wanted.where
    panels = tuple(each.id for each in job.panel)
    if where not in panels:
        where = place_named(where, card_numbers(panels, advice.places))
    panel, slash, feature = where.partition("/")
    if slash and panel not in panels:  # such as A/lines
        panel = place_named(panel, card_numbers(panels, advice.places)).partition("/")[0]
    if step in PANEL_STEPS and feature == "face" and where != wanted.where:
        feature = "panel"  # "A" on the card is both: the panel, and its face
    places = _places(advice, panel)
    known = {f"{check.panel}/{check.feature}" for check in job.check}
    if step in _OPEN_TO_STRANGERS and where in known and (panel not in panels or feature not in places):
        return (_Site(panel, feature),)
    if panel not in panels:
        faults.append(_not_there(panel, panels, card_numbers(panels, advice.places)))
        return ()
    if step in PANEL_STEPS:
        if slash and feature not in {"panel", "all"}:
            faults.append(f.WholePanelOnly(step, panel))
        return (_Site(panel, "panel"),)
    if (step in BOOTH_STEPS or step in {"primed", "struck"}) and feature in {"", "panel", "all"}:
        return (_Site(panel, "panel"),)
    if feature == "lines" and "lines" not in places:
        return _lines(panel, places, wanted.where, step=step, stated=stated, faults=faults)
    if feature == "all":
        return _all(job, panel, places, wanted=wanted, step=step, faults=faults)
    if not feature or feature == "panel":
        faults.append(f.OnePlaceOnly(step, panel, tuple(places)))
        return ()
    if feature not in places:
        faults.append(f.UnknownWord("place", feature, tuple(places), panel))
        return ()
    return (places[feature],)


def _not_there(word: str, panels: tuple[str, ...], numbers: dict[str, str]) -> f.UnknownWord:
    """Return a word that is no panel: a number like those of the card has its panel's letter."""
    owner = place_named(word.rstrip("0123456789"), numbers).partition("/")[0]
    if owner in panels and word[-1:].isdigit():
        there = tuple(number for place, number in numbers.items() if place.startswith(f"{owner}/"))
        return f.UnknownWord("place", word, there, owner)
    return f.UnknownWord("panel", word, panels)


def _places(advice: Advice, panel: str) -> dict[str, _Site]:
    tasks: dict[str, list[Task]] = {}
    for task in advice.work.tasks:
        if task.do in STEP_OF and task.place.startswith(panel):
            tasks.setdefault(task.place, []).append(task)
    found = {
        each.feature: _Site(panel, each.feature, each, tuple(tasks.get(each.id, ())))
        for each in advice.places
        if each.panel == panel
    }
    for name, own in tasks.items():
        owner, slash, feature = name.partition("/")
        if slash and owner == panel and feature not in found:
            found[feature] = _Site(panel, feature, None, tuple(own))
    return found


def _lines(
    panel: str,
    places: Mapping[str, _Site],
    where: str,
    step: str,
    stated: "Grade | None",
    faults: list[f.LogRefusal],
) -> tuple[_Site, ...]:
    if step not in WORK_STEPS:
        faults.append(f.OwnLook(step, lines=True))
        return ()
    lines = [site for site in places.values() if site.place and site.place.kind not in AREA_KINDS]
    found = tuple(site for site in lines if step in site.steps)
    if not found:
        faults.append(f.NoLineOwes(panel, step, where))
    return tuple(site for site in found if _takes(site, stated, step)) or found


def _takes(site: _Site, stated: "Grade | None", step: str) -> bool:
    """Say whether a place asks for a step with this grade."""
    return stated is None or any(STEP_OF.get(task.do) == step and admits(task, stated) for task in site.tasks)


def _all(
    job: Job, panel: str, places: Mapping[str, _Site], wanted: Wanted, step: str, faults: list[f.LogRefusal]
) -> tuple[_Site, ...]:
    whole = (_Site(panel, "all"),)
    if step in WORK_STEPS:
        return whole
    if step != "inspected" or not wanted.again:
        faults.append(f.OwnLook(step, lines=False, renews=step == "inspected"))
        return ()
    looked = {check.feature for check in job.check if check.panel == panel and check.step == "inspected"}
    lacking = [
        site.feature for site in places.values() if "inspected" in site.steps and site.feature not in looked
    ]
    if lacking:
        faults.append(f.NeverLooked(tuple(lacking)))
    if wanted.result and wanted.result != "clear":
        faults.append(f.OnlyClearOfAll())
    return whole


def _time(at: dt.datetime | None, now: dt.datetime, faults: list[f.LogRefusal]) -> dt.datetime:
    if at is None:
        return now.replace(microsecond=0)
    if at.tzinfo is None:
        faults.append(f.EntryLacks("offset"))
    elif at > now:
        faults.append(f.AheadOfNow(at, now))
    return at


def _grade(wanted: Wanted, pads: Mapping[str, "Grade"], faults: list[f.LogRefusal]) -> "Grade | None":
    if wanted.pad:
        if wanted.grade:
            faults.append(f.GradeOrPad())
        elif not pads:
            faults.append(f.NoPadsNamed(wanted.pad))
        elif wanted.pad not in pads:
            faults.append(f.UnknownWord("pad", wanted.pad, tuple(pads)))
        return pads.get(wanted.pad)
    if not wanted.grade:
        return None
    try:
        return grade(wanted.grade)
    except NotAGradeError as error:
        faults.append(f.NotRead(str(error)))
        return None


def _needs(job: Job, wanted: Wanted, step: str, result: str | None) -> list[f.LogRefusal]:
    faults: list[f.LogRefusal] = []
    if step in {"inspected", "seen-wet"} and not result:
        faults.append(f.EntryLacks("result", LOOKS))
    if step not in {"inspected", "seen-wet"} and result:
        faults.append(f.OutOfPlace("result", step))
    if step not in {"scuffed", "sanded"} and (wanted.tool or wanted.grade or wanted.pad):
        faults.append(f.OutOfPlace("cut", step))
    if step == "accepted" and not is_reason(wanted.note):
        faults.append(f.EntryLacks("reason"))
    if step == "struck" and not wanted.of:
        faults.append(f.EntryLacks("which-entry"))
    if wanted.of and step not in {"struck", "accepted"}:
        faults.append(f.OutOfPlace("which-entry", step))
    if wanted.of and wanted.of not in {check.id for check in job.check}:
        faults.append(f.NoSuchEntry(wanted.of))
    if step == "struck" and not wanted.note.strip():
        faults.append(f.EntryLacks("why-struck"))
    if wanted.again and step != "inspected":
        faults.append(f.OutOfPlace("again", step))
    return faults


def _senseless(
    wanted: Wanted, step: str, tool: str | None, result: str | None, site: _Site
) -> list[f.LogRefusal]:
    faults: list[f.LogRefusal] = []
    place = site.place
    if step == "scuffed" and tool in DA_TOOLS:
        faults.append(f.WrongHand("scuffed", tool))
    is_area = place is None or place.kind in AREA_KINDS
    by_hand = place is not None and place.reach == "hand"
    if step == "sanded" and tool in HAND_TOOLS and tool != "block" and not (is_area and by_hand):
        faults.append(f.WrongHand("sanded", tool))
    if by_hand and step == "guide-coated":
        faults.append(f.HandPlace(wanted.where, "guide-coated"))
    if by_hand and step == "sanded" and (not is_area or tool in DA_TOOLS):
        faults.append(f.HandPlace(wanted.where, "sanded"))
    if result in {"low", "pinhole"} and place is not None and place.kind not in AREA_KINDS:
        faults.append(f.OnFillOnly(result, wanted.where))
    return faults
