"""What became of finished work, as text."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.cards.outcomes.gathered import Gathered
from prepadvisor.checkoff.redo import Finished, Rate

_TITLES: Final = {
    "flake": "BY FLAKE",
    "colour": "BY COLOUR",
    "zone": "BY STRICTEST ZONE",
    "tool": "BY LAST TOOL",
    "grade": "BY LAST GRADE",
    "coats": "BY COATS OF WET BED SPRAYED",
    "reach": "BY REACH",
}


def outcomes_lines(found: Gathered) -> list[str]:
    """Return the lines of the whole text."""
    reported = (found.rates[0].places if found.rates else 0) + len(found.hidden)
    lines = [f"{found.files} job file(s), {reported} place(s) reported on"]
    last = ""
    for each in found.rates:
        if each.factor != last:
            heads = "seen of places  jobs   share   95 % interval  predicted"
            lines += ["", f"{_TITLES.get(each.factor, 'LINES SEEN'):<30} {heads}"]
            last = each.factor
        lines.append(
            f"  {each.value:<28} {each.seen:>4} of {each.places:<6} {each.jobs:>5}  {each.share:>6.0%}   "
            f"{each.low:>4.0%} to {each.high:>4.0%}  {_predicted(each)}"
        )
    for title, texts in _told(found):
        lines += ["", title, *(f"  {text}" for text in texts)]
    return lines


def outcomes_blocks(found: Gathered) -> list[tuple[str, list[str]]]:
    """Return the rates as titles with a sentence each, for a page of any width, and all else that is told."""
    blocks: list[tuple[str, list[str]]] = []
    for each in found.rates:
        title = _TITLES.get(each.factor, "LINES SEEN")
        if not blocks or blocks[-1][0] != title:
            blocks.append((title, []))
        blocks[-1][1].append(rate_says(each))
    return [*blocks, *_told(found)]


def rate_says(each: Rate) -> str:
    """Return one rate in a sentence."""
    jobs = f"{each.jobs} job{'' if each.jobs == 1 else 's'}"
    predicted = "" if each.predicted is None else f"; predicted {each.predicted:.0%}"
    share = f"{each.share:.0%}, 95 % interval {each.low:.0%} to {each.high:.0%}"
    return f"{each.value}: {each.seen} of {each.places} places in {jobs} ({share}){predicted}"


def _told(found: Gathered) -> Iterator[tuple[str, list[str]]]:
    """Yield what is told beside the rates: what is not known, marked, hidden, seen, and not read."""
    if found.silent:
        title = f"NOT KNOWN: {found.silent} job(s) have no report: nobody came back, or nobody wrote it down."
        yield title, ["They count nowhere above; a customer who says nothing is not a place without lines."]
    if found.never:
        seen = sum(place.seen for place in found.never)
        many = f"MARKED: {len(found.never)} of these places are of jobs"
        title = f"{many} that by their log never were clear to mask,"
        yield title, [f"lines seen at {seen} of them"]
    if found.hidden:
        seen = sum(place.seen for place in found.hidden)
        yield f"OUT OF SIGHT, NOT COUNTED ABOVE: lines seen at {seen} of {len(found.hidden)} place(s)", []
    if found.failed:
        texts = [text for place in found.failed for text in _failed(place)]
        yield "WHERE LINES WERE SEEN, AND WHAT HAD BEEN DECIDED", texts
    if found.unreadable:
        yield f"NOT READ: {len(found.unreadable)} file(s)", [why for _, why in found.unreadable]


def _failed(place: Finished) -> tuple[str, str]:
    ahead = f"{place.hand}, then " if place.hand else ""
    how = f"{place.flake}, {place.reach}, {ahead}{place.tool} {place.grade}, {place.coats} coats"
    said = f"{place.job} {place.place}: {how}{f'; {place.note}' if place.note else ''}"
    return said, f"  decided by {', '.join(place.rules) or 'no rule'}"


def _predicted(each: Rate) -> str:
    """Return the mean risk the line model has for the places it has something to say of."""
    if each.predicted is None:
        return "        -"
    of = "" if each.judged == each.places else f" of {each.judged}"
    return f"{each.predicted:>9.0%}{of}"
