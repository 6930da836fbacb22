"""What became of finished work, as text."""

from typing import Final

from prepadvisor.cards.outcomes.gathered import Gathered
from prepadvisor.checkoff.redo import Rate

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
    hidden, failed = found.hidden, found.failed
    reported = (found.rates[0].places if found.rates else 0) + len(hidden)
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
    if found.silent:
        lines += [
            "",
            f"NOT KNOWN: {found.silent} job(s) have no report: nobody came back, or nobody wrote it down.",
            "  They count nowhere above; a customer who says nothing is not a place without lines.",
        ]
    if found.never:
        seen = sum(place.seen for place in found.never)
        many = f"MARKED: {len(found.never)} of these places are of jobs"
        marked = f"{many} that by their log never were clear to mask,"
        lines += ["", marked, f"  lines seen at {seen} of them"]
    if hidden:
        seen = sum(place.seen for place in hidden)
        lines += ["", f"OUT OF SIGHT, NOT COUNTED ABOVE: lines seen at {seen} of {len(hidden)} place(s)"]
    if failed:
        lines += ["", "WHERE LINES WERE SEEN, AND WHAT HAD BEEN DECIDED"]
        for place in failed:
            ahead = f"{place.hand}, then " if place.hand else ""
            how = f"{place.flake}, {place.reach}, {ahead}{place.tool} {place.grade}, {place.coats} coats"
            lines.append(f"  {place.job} {place.place}: {how}{f'; {place.note}' if place.note else ''}")
            lines.append(f"    decided by {', '.join(place.rules) or 'no rule'}")
    if found.unreadable:
        lines += [
            "",
            f"NOT READ: {len(found.unreadable)} file(s)",
            *(f"  {why}" for _, why in found.unreadable),
        ]
    return lines


def outcomes_blocks(found: Gathered) -> list[tuple[str, list[str]]]:
    """Return the rates as titles with a sentence each, for a page of any width, and all else that is told."""
    blocks: list[tuple[str, list[str]]] = []
    for each in found.rates:
        title = _TITLES.get(each.factor, "LINES SEEN")
        if not blocks or blocks[-1][0] != title:
            blocks.append((title, []))
        blocks[-1][1].append(rate_says(each))
    whole = outcomes_lines(found._replace(rates=()))[1:]
    return [*blocks, *_told(whole)]


def rate_says(each: Rate) -> str:
    """Return one rate in a sentence."""
    jobs = f"{each.jobs} job{'' if each.jobs == 1 else 's'}"
    predicted = "" if each.predicted is None else f"; predicted {each.predicted:.0%}"
    share = f"{each.share:.0%}, 95 % interval {each.low:.0%} to {each.high:.0%}"
    return f"{each.value}: {each.seen} of {each.places} places in {jobs} ({share}){predicted}"


def _told(lines: list[str]) -> list[tuple[str, list[str]]]:
    blocks: list[tuple[str, list[str]]] = []
    for line in lines:
        if line and not line.startswith(" "):
            blocks.append((line, []))
        elif line.strip() and blocks:
            blocks[-1][1].append(line.strip())
    return blocks


def _predicted(each: Rate) -> str:
    """Return the mean risk the line model has for the places it has something to say of."""
    if each.predicted is None:
        return "        -"
    of = "" if each.judged == each.places else f" of {each.judged}"
    return f"{each.predicted:>9.0%}{of}"
