"""Work in words: steps of the plan, turns in the booth, a scuff as recorded and its mend, cheaper ways."""

from collections.abc import Sequence
from typing import Final, assert_never

from prepadvisor.records import (
    AREA_KINDS,
    HAND_TOOLS,
    Advice,
    BedWay,
    BoothDo,
    BoothEntry,
    DoneAdvice,
    GradeUnknown,
    LadderStep,
    NoWayOut,
    Offer,
    Place,
    RunsOn,
    Task,
    TooCoarse,
    TooFine,
    Tool,
    TrimOff,
    WetBedNeed,
    WorkStep,
)
from prepadvisor.wording import names as trade
from prepadvisor.wording.drills import wet_drill_says
from prepadvisor.wording.names import Words, coats, is_hand_only, listed, stretches
from prepadvisor.wording.units import minutes

# One step of the plan of work in words.
#
# Which places a step is about is said by what they are, such as "lines"; only where it is about some of
# them by their numbers, because the rows of a card name them all.

EVERY: Final = "every place"
HAND_ONLY: Final = "hand-only places"


def whole_step_says(step: WorkStep, words: Words) -> str:
    """Return what a step asks for on all its panels, as JSON carries it."""
    work = words.advice.work
    tasks = [task for task in work.tasks if task.id in set(step.tasks)]
    worked = {task.place for task in work.tasks if task.stage == step.stage}
    return (
        step_says(tasks, [place for place in words.advice.places if place.id in worked], words)
        if tasks
        else ""
    )


def step_says(tasks: Sequence[Task], places: Sequence[Place], words: Words) -> str:
    """Return what the tasks of one step ask for.

    Args:
        tasks: tasks that are done together, one at least.
        places: the places that are worked, of one panel or of all: what all of them need not name.
        words: names of places.
    """
    by_do = {do: [task for task in tasks if task.do == do] for do in ("powder", "scuff", "sand", "look")}
    if any(task.do == "clean" for task in tasks):
        return "wash, degrease twice"
    if any(task.do == "wipe" for task in tasks):
        return "wipe twice, white cloth stays clean"
    if any(task.do == "mask" for task in tasks):
        return "mask"
    if by_do["look"]:
        who = _who(words, places, by_do["look"])
        return "LOOK everywhere" if who == EVERY else f"LOOK at {who}"
    says = []
    if by_do["powder"] and len({task.place for task in tasks}) == 1:
        names = ", ".join(task.grade or "powder" for task in tasks)
        return f"{_who(words, places, tasks)} {names}"
    if by_do["powder"]:
        same = {task.place for task in by_do["powder"]} == {task.place for task in by_do["sand"]}
        says.append("powder" if same else "powder where boxed")
    for task_do, joint in (("scuff", "by hand "), ("sand", "")):
        for (grade, tool), group in _alike(by_do[task_do]).items():
            who = _who(words, places, group)
            joint = "" if who == HAND_ONLY else joint
            by = " block" if task_do == "sand" and tool == "block" else ""
            says.append(f"{who} {joint}{grade}{by}")
    return ", then ".join(says)


def _alike(tasks: Sequence[Task]) -> dict[tuple[str | None, Tool | None], list[Task]]:
    groups: dict[tuple[str | None, Tool | None], list[Task]] = {}
    for task in tasks:
        groups.setdefault((task.grade, task.tool), []).append(task)
    return groups


def tool_short(tool: Tool) -> str:
    """Return what a tool is called beside a box."""
    return "block" if tool == "block" else "DA" if tool.startswith("da") else "by hand"


def _who(words: Words, places: Sequence[Place], tasks: Sequence[Task]) -> str:
    """Return which places are meant: by what they are where it is all of them, else by their numbers."""
    meant = {task.place for task in tasks}
    if meant >= {place.id for place in places}:
        return EVERY
    kinds = (
        (HAND_ONLY, [place for place in places if is_hand_only(place)]),
        ("lines", [place for place in places if _is_line(place)]),
        ("face", [place for place in places if place.kind == "face"]),
    )
    named: list[str] = []
    left = set(meant)
    for word, group in kinds:
        ids = {place.id for place in group}
        if ids and ids <= left:
            named.append(words.number(group[0]) if len(group) == 1 and word != "face" else word)
            left -= ids
    rest = [place for place in places if place.id in left]
    rest_words = words.numbers(rest)
    beyond = sorted(left - {place.id for place in rest})
    named = ["face and lines"] if named == ["lines", "face"] else named
    return trade.listed([*named, *([rest_words] if rest_words else []), *map(words.where, beyond)])


def _is_line(place: Place) -> bool:
    return place.kind not in AREA_KINDS and not is_hand_only(place)


# What is sprayed after the last gate, in words: one sentence for each turn of the booth.

DRY = "once more, lamp, before the first coat"


def turns(booth: Sequence[BoothEntry]) -> list[list[BoothEntry]]:
    """Return what is sprayed together, in order: entries of one number and doing."""
    groups: dict[tuple[int, BoothDo], list[BoothEntry]] = {}
    for entry in booth:
        groups.setdefault((entry.n, entry.do), []).append(entry)
    return list(groups.values())


def entry_says(entry: BoothEntry, words: Words, advice: Advice) -> str:
    """Return what one entry alone asks for, as JSON carries it."""
    return turn_says([entry], words, advice)


def turn_says(turn: Sequence[BoothEntry], words: Words, advice: Advice) -> str:
    """Return what one turn asks for on all its panels and patches.

    Args:
        turn: entries that are sprayed together, one at least.
        words: names and units.
        advice: the advice, for its colour.
    """
    do = turn[0].do
    over = _over(turn, words)
    solid, stages = advice.job.flake == "solid", advice.job.stages
    drop = "" if solid else ", then drop coat"
    match do:
        case "seal":
            return f"sealer over {over}: under full colour only; colour inside its window"
        case "ground":
            return f"ground coat by the maker's sheet over {over}; flash"
        case "colour":
            return f"colour over {over} until it hides; flash"
        case "bed":
            by_coats = {entry.coats: [each for each in turn if each.coats == entry.coats] for entry in turn}
            over = listed([f"{coats(most)} over {_over(some, words)}" for most, some in by_coats.items()])
            most = max(by_coats)
            flash = "flash between, " if most > 1 else ""
            return f"wet bed, uncoloured base, never sealer: {over}; {flash}LEAVE IT WET"
        case "look":
            wet = any(entry.do == "bed" and entry.n < turn[0].n for entry in advice.work.booth)
            names = listed(stretches([_name(entry, words) for entry in turn]))
            return f"LOOK at {names} {f'in the wet gloss: {wet_drill_says(None)}' if wet else DRY}"
        case "blend":
            stage = "translucent coats" if stages == 3 else "colour"
            return f"blend the {stage} out: {over}{_mist(turn, words)}, each coat a hand further{drop}"
        case "clear":
            return f"clear {over} edge to edge, past all mist and wet bed{_ends(turn, words)}"
        case _:
            assert_never(do)


def _mist(turn: Sequence[BoothEntry], words: Words) -> str:
    past = {entry.past_mm for entry in turn if entry.past_mm}
    return f" (mist {listed([words.units.length(mm) for mm in sorted(past)])} past it)" if past else ""


def _ends(turn: Sequence[BoothEntry], words: Words) -> str:
    """Return where the clear ends, where that is not at all edges of the panel."""
    ends: list[str] = []
    edges: dict[str, set[str]] = {}
    for place in words.places.values():
        if place.kind == "edge":
            edges.setdefault(place.panel, set()).add(place.id)
    for entry in turn:
        ends += entry.ends_at if set(entry.ends_at) != edges.get(entry.panel, set()) else ()
    return f"; it ends at {words.numbers_of(ends)}" if ends else ""


def _name(entry: BoothEntry, words: Words) -> str:
    place = words.places.get(f"{entry.panel}/{entry.patch}") if entry.patch else None
    return words.number(place) if place else words.letter_of.get(entry.panel, entry.panel)


def _over(entries: Sequence[BoothEntry], words: Words) -> str:
    """Return where entries are sprayed: whole panels and patches, then those of one stretch."""
    by_stretch: dict[str, list[str]] = {}
    for entry in entries:
        by_stretch.setdefault(_stretch(entry, words), []).append(_name(entry, words))
    whole = stretches(by_stretch.pop("", []))
    parts = [f"{listed(stretches(names))}{to}" for to, names in by_stretch.items()]
    if all(len(names) == 1 for names in by_stretch.values()):
        return listed([*whole, *parts])
    return "; ".join([listed(whole), *parts] if whole else parts)  # a stretch is that of its own group alone


def _stretch(entry: BoothEntry, words: Words) -> str:
    if entry.from_mm is None or entry.to_mm is None or entry.do == "clear":
        return ""
    return f" {words.units.span(entry.from_mm, entry.to_mm)}"


def done_says(done: DoneAdvice) -> str:
    """Return what a recorded scuff needs, all ways in one sentence; empty where it needs nothing."""
    return "; ".join(done_ways(done))


def done_ways(done: DoneAdvice) -> tuple[str, ...]:
    """Return the ways to mend a recorded scuff, the best first; none where it needs nothing."""
    fact = done.fact
    match fact:
        case None:
            return ()
        case GradeUnknown():
            return ("grade not known: scuff it again",)
        case NoWayOut():
            return (
                f"{fact.used} is too coarse and cannot be cut out within film and shelf: the lead decides",
            )
        case TooFine():
            return (f"{fact.used} does not key here: scuff again with {fact.grade}",)
        case TooCoarse():
            steps = done.recut or ()
            took = minutes(max(1.0, sum(step.minutes for step in steps)))
            again = f"{fact.used} is too coarse: re-cut with {steps_by_tool(steps)}, look again ({took})"
            bed = bed_says(fact.bed)
            return (again, bed) if bed else (again,)
        case _:
            assert_never(fact)


def bed_says(way: BedWay) -> str:
    """Return what a wet bed does for a scuff that is too coarse; empty where there is no word of one."""
    match way:
        case "none":
            return ""
        case "never":
            return "a wet bed does not save it"
        case "lead":
            return "only with the lead's initials: leave it to the wet bed"
        case _:
            assert_never(way)


def steps_by_tool(steps: tuple[LadderStep, ...]) -> str:
    """Return grit steps with what they are done by: "P800 by DA, guide coat, P1000 by DA"."""
    return ", ".join(
        f"{'guide coat, ' if step.guide_coat else ''}{step.grade} {_by(step.tool)}" for step in steps
    )


def _by(tool: Tool) -> str:
    return "by hand" if tool in HAND_TOOLS else "by DA"


def steps_words(steps: tuple[LadderStep, ...]) -> str:
    """Return grit steps in the order of work with the powder between: "P800, powder, P1000"."""
    return ", ".join(f"powder, {step.grade}" if step.guide_coat else step.grade for step in steps)


def offer_says(offer: Offer, words: Words) -> str:
    """Return what an offer asks for and what it changes."""
    fact = offer.fact
    match fact:
        case TrimOff():
            names = listed(
                [words.name(words.places[place]) for place in fact.places if place in words.places]
            )
            return f"Trim off at {names}: {_gain(fact)}."
        case RunsOn():
            where = words.numbers_of(fact.places)
            return (
                f"{where}: end the clear at the nearest seam, take the next panel in as clear only, "
                "or the lead signs for it in the log."
            )
        case _:
            assert_never(fact)


def offer_as_it_is(offer: Offer) -> str:
    """Return the other way: what stays so if an offer is not taken."""
    fact = offer.fact
    match fact:
        case TrimOff():
            if fact.stops:
                return "trim left on: it stays on hold"
            if (fact.becomes, fact.becomes_coats) != (fact.was, fact.was_coats):
                return f"trim left on: wet bed {_need(fact.was, fact.was_coats)}"
            return f"trim left on: {fact.by_hand or 'a grade of its own'} by hand, no DA after it"
        case RunsOn():
            return "as it is: clear has no edge or seam to stop at"
        case _:
            assert_never(fact)


def _gain(fact: TrimOff) -> str:
    """Return what trim off brings: a stop lifted, a weaker bed, a grade less."""
    says = ["a DA reaches it"]
    if fact.stops:
        says.append("it removes the STOP" if fact.stops == 1 else f"it removes {fact.stops} STOPs")
    if (fact.becomes, fact.becomes_coats) != (fact.was, fact.was_coats):
        says.append(f"wet bed {_need(fact.becomes, fact.becomes_coats)}")
    elif not fact.stops and fact.by_hand and fact.by_da:
        says.append(f"{fact.by_da} with the rest instead of {fact.by_hand} by hand")
    return ", ".join(says)


def _need(need: WetBedNeed, count: int) -> str:
    match need:
        case "no":
            return "not needed"
        case "advised":
            return f"only advised ({coats(count)})"
        case "required":
            return f"needed ({coats(count)})"
        case _:
            assert_never(need)
