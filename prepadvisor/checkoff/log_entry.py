"""Makes one entry for the log, and refuses what makes no sense, every fault at once."""

import datetime as dt
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Final, NamedTuple, get_args

from pydantic import ValidationError

from prepadvisor.checkoff.basis import bases
from prepadvisor.checkoff.entries import PANEL_STEPS, WORK_STEPS
from prepadvisor.records.advice import Advice, Place
from prepadvisor.records.card_number import card_numbers, place_named
from prepadvisor.records.job import Check, Job
from prepadvisor.records.words import DA_TOOLS, HAND_TOOLS, TOOLS, Look, Step
from prepadvisor.surface.grades import NotAGradeError, grade

STEPS: Final[tuple[str, ...]] = get_args(Step)
LOOKS: Final[tuple[str, ...]] = get_args(Look)


class EntryRefusedError(ValueError):
    """An entry makes no sense; `faults` has a sentence for each reason."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        """Keep the reasons."""
        self.faults = faults
        super().__init__("; ".join(faults))


class Wanted(NamedTuple):
    """An entry as a person asks for it. Empty words were not given.

    `where` is "panel/feature" or the place's number on the card, such as "A4".

    `pad` is the shop's own name of a pad, whose coarse end then stands as the grade.
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


def log_entry(
    job: Job, advice: Advice, wanted: Wanted, now: dt.datetime, pads: Mapping[str, str] | None = None
) -> Check:
    """Return the entry to append, with the basis that it rests on.

    Args:
        job: the job it is for.
        advice: the advice for exactly this job.
        wanted: the entry asked for.
        now: the present time, with an offset; the entry's time where none is asked for.
        pads: grades of the shop's own pads by their names.

    Raises:
        EntryRefusedError: with every reason why this entry makes no sense.
    """
    faults: list[str] = []
    step = _word(wanted.step, STEPS, "step", faults)
    panel, feature, place = _where(job, advice, wanted.where, step, faults)
    at = _time(wanted.at, now, faults)
    stated = _grade(wanted, pads or {}, faults)
    tool = _word(wanted.tool, TOOLS, "tool", faults) if wanted.tool else None
    result = _word(wanted.result, LOOKS, "result", faults) if wanted.result else None
    faults.extend(_senseless(wanted, step, tool, result, place))
    if faults:
        raise EntryRefusedError(tuple(faults))
    try:
        return Check.model_validate(
            {
                "at": at,
                "by": wanted.by,
                "panel": panel,
                "feature": feature,
                "step": step,
                "tool": tool,
                "grade": stated,
                "result": result,
                "note": " ".join(
                    word for word in (wanted.note, wanted.pad and f"(pad {wanted.pad})") if word
                ),
                "basis": bases(job, advice)[place.id] if place else "",
            }
        )
    except ValidationError as error:
        raise EntryRefusedError(
            tuple(f"{'.'.join(map(str, each['loc']))}: {each['msg']}" for each in error.errors())
        ) from None


def _word(word: str, known: tuple[str, ...], what: str, faults: list[str]) -> str:
    plain = word.strip().lower().replace("_", "-")
    if plain not in known:
        faults.append(f'there is no {what} "{word}"{_near(plain, known)}')
    return plain


def _near(word: str, known: tuple[str, ...]) -> str:
    by_plain = {each.lower(): each for each in known}
    near = [by_plain[each] for each in get_close_matches(word.lower(), by_plain, n=1)]
    shown = ", ".join(known[:16]) + (" …" if len(known) > 16 else "")
    return f'; did you mean "{near[0]}"?' if near else f"; there are: {shown}"


def _where(
    job: Job, advice: Advice, stated: str, step: str, faults: list[str]
) -> tuple[str, str, Place | None]:
    where = stated
    panels = tuple(each.id for each in job.panel)
    if where not in panels:
        where = place_named(where, card_numbers(panels, advice.places))
    panel, slash, feature = where.partition("/")
    if step in PANEL_STEPS and feature == "face" and where != stated:
        feature = "panel"  # "A" on the card is both: the panel, and its face
    if panel not in panels:
        faults.append(f'this job has no panel "{panel}"{_near(panel, panels)}')
        return panel, feature, None
    if step in PANEL_STEPS:
        if slash and feature != "panel":
            faults.append(f'"{step}" is for the whole panel: write {panel}/panel')
        return panel, "panel", None
    places = {each.feature: each for each in advice.places if each.panel == panel}
    if feature == "all" and step in WORK_STEPS:
        return panel, feature, None
    if feature == "all":
        faults.append(f'every place needs its own look: "{step}" cannot be logged for all')
    elif not feature or feature == "panel":
        faults.append(f'"{step}" is for a place: write {panel}/ and one of {", ".join(places)}')
    elif feature not in places:
        faults.append(f'{panel} has no place "{feature}"{_near(feature, tuple(places))}')
    return panel, feature, places.get(feature)


def _time(at: dt.datetime | None, now: dt.datetime, faults: list[str]) -> dt.datetime:
    if at is None:
        return now.replace(microsecond=0)
    if at.tzinfo is None:
        faults.append("the time has no offset: write it like 2026-03-02T09:40:00Z")
    elif at > now:
        faults.append(f"the time {at.isoformat()} lies ahead of now ({now.isoformat(timespec='seconds')})")
    return at


def _grade(wanted: Wanted, pads: Mapping[str, str], faults: list[str]) -> str | None:
    if wanted.pad:
        if wanted.grade:
            faults.append("give the grade or the pad's name, not both")
        elif not pads:
            faults.append(
                "the shop file names no pads; give the grade with its P, "
                f'or have the lead add "{wanted.pad}" under [pads]'
            )
        elif wanted.pad not in pads:
            faults.append(f'the shop file has no pad "{wanted.pad}"{_near(wanted.pad, tuple(pads))}')
        return pads.get(wanted.pad)
    if not wanted.grade:
        return None
    try:
        return grade(wanted.grade)
    except NotAGradeError as error:
        faults.append(str(error))
        return None


def _senseless(
    wanted: Wanted, step: str, tool: str | None, result: str | None, place: Place | None
) -> list[str]:
    faults = []
    if step == "inspected" and not result:
        faults.append(f"a look needs its result: --result {' | '.join(LOOKS)}")
    if step != "inspected" and result:
        faults.append(f'"{step}" has no result; a result belongs to inspected')
    if step not in {"scuffed", "sanded"} and (tool or wanted.grade or wanted.pad):
        faults.append(f'"{step}" has no tool and no grade; they belong to scuffed and sanded')
    if step == "accepted" and not (wanted.by.strip() and wanted.note.strip()):
        faults.append("an acceptance needs the lead's initials (--by) and a reason (--note)")
    if step == "scuffed" and tool in DA_TOOLS:
        faults.append(f"scuffing is by hand, and {tool} is a machine: log it as sanded")
    is_face = place is None or place.kind in {"face", "patch"}
    by_hand = place is not None and place.reach == "hand"
    if step == "sanded" and tool in HAND_TOOLS and not (is_face and (by_hand or tool == "block")):
        faults.append(f"sanding a place is by machine, and {tool} is a hand tool: log it as scuffed")
    if by_hand and step == "guide-coated":
        faults.append(f"{wanted.where} is worked by hand only: powder stays in it as specks")
    if by_hand and step == "sanded" and (not is_face or tool in DA_TOOLS):
        faults.append(f"{wanted.where} is worked by hand only: no machine is used on it")
    return faults
