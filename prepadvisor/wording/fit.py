"""What a fit found, in sentences: numbers, what the data fix, what is told of them, panels to spray next."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records import BookColour
from prepadvisor.records import fit as facts
from prepadvisor.wording import names as trade

if TYPE_CHECKING:
    from prepadvisor.records import Grade

_NAMES: Final = {
    "threshold_arcsec": ("thinnest line seen", "arcsec"),
    "bed_set_solids": ("set solids of the wet bed", ""),
    "scatter": ("scatter of one panel", "in ln A"),
}
_KINDS: Final = {
    "panel": ("test panel", "test panels"),
    "outcome": ("outcome of a job", "outcomes of jobs"),
    "wet-look": ("wet look", "wet looks"),
}
_LINES_SHOWN: Final = 12
_NARROWER_TOLD: Final = 1.2
"""So many times narrower a combination must be known than the threshold alone to be worth a formula."""


def number_name(name: str) -> str:
    """Return what a fitted number is called, with its unit."""
    if name in _NAMES:
        says, unit = _NAMES[name]
        return f"{says} ({unit})" if unit else says
    sort, _, word = name.partition(".")
    if sort == "depth_per_grain":
        return f"depth per grain, {trade.TOOL.get(word, word)}"
    return f"flake size, {word} (um)"


def rows_says(fit: facts.Fit) -> str:
    """Return how many rows of which kind, panels and judges the fit rests on."""
    kinds = ", ".join(_counted(count, *_KINDS[kind]) for kind, count in fit.by_kind if count)
    judges = f", {fit.judges} judges named" if fit.judges > 1 else ""
    return f"{_counted(fit.rows, 'row', 'rows')}: {kinds}{judges}" if fit.rows else "no rows"


def fixed_says(fixed: facts.FixedTogether) -> str:
    """Return what the data fix of threshold and depth together, in a shop's terms first."""
    tool = trade.TOOL.get(fixed.tool, fixed.tool)
    flake = trade.FLAKE.get(fixed.flake, fixed.flake)
    together = (
        f"; that is T / k^{fixed.exponent:.2f} = {fixed.value:.3g} ({fixed.low:.3g} to {fixed.high:.3g}), "
        f"known {fixed.narrower:.1f} times as narrowly as T alone"
        if fixed.narrower >= _NARROWER_TOLD
        else "; its rows tell threshold and depth apart no better than either alone"
    )
    return (
        f"{tool}: half of the lines show at a grain of {fixed.grain_um:.3g} um "
        f"({fixed.grain_low_um:.3g} to {fixed.grain_high_um:.3g}), {flake}, fade, no wet bed"
        f"{together}"
    )


def told_says(told: facts.ToldOfFit) -> str:
    """Return what is told about the data, one sentence."""
    match told:
        case facts.NoRows():
            return "No rows: the numbers stay as they were; spray test panels first (--next says which)."
        case facts.OneAnswerOnly(shows=shows):
            side = "above" if shows == "no" else "below"
            return (
                f'Every row says "{shows}": that only tells on which side the threshold lies ({side} these '
                f"lines). How far is a guess that rests on what was believed before: add panels that "
                f"{'show' if shows == 'no' else 'do not show'}."
            )
        case facts.Separable():
            return (
                "Every line that shows is stronger than every one that does not: nothing tells how sharp "
                "the border is, so the scatter rests on what was believed before. Panels near it help most."
            )
        case facts.Contradictory(settings=settings, too_often=too_often):
            says = f"{_counted(settings, 'way', 'ways')} of preparing got both yes and no ({_at(told.lines)})"
            why = (
                "more than scatter explains: look at light, distance, labels"
                if too_often
                else "as scatter lets one expect"
            )
            return f"{says}, {why}."
        case facts.WrongWayRound():
            where = _at(told.lines)
            return f"Finer grades show where coarser ones do not ({where}): were strips or answers swapped?"
        case facts.Alike():
            return f"Rows that say the same word for word ({_at(told.lines)}): counted each; take copies out."
        case facts.ClassNotSaid(colour=colour):
            return f'"{colour}" has neither class nor size: its flake could be any, so its rows say little.'
        case facts.ClassesDiffer(colour=colour, classes=classes):
            return f'"{colour}" is given as {" and ".join(classes)}: the finest is its start.'
        case facts.NotBlind(known=known, not_said=not_said):
            parts = [f"{known} were read knowing how they were prepared"] if known else []
            parts += [f"{not_said} do not say whether they were read blind"] if not_said else []
            return f"Of the panels {' and '.join(parts)}: who knows, sees what he expects."
        case facts.KeptUnused(light=light, film=film, photo=photo):
            counts = (("light", light), ("film", film), ("photo", photo))
            said = ", ".join(f"{what} ({_counted(count, 'row', 'rows')})" for what, count in counts if count)
            return (
                f"Kept with the rows, and not used by the model: {said}. It has one threshold for the light "
                f"you read in, and counts coats, not um of film."
            )
        case facts.DimLight(rows=rows, least_lux=least):
            return (
                f"{_counted(rows, 'row was', 'rows were')} read by less than 500 lux (down to {least:g}): "
                f"thin lines hide in dim light, so that these make the numbers too hopeful."
            )
        case facts.FarFromBefore(name=name, deviations=deviations):
            way = "above" if deviations > 0 else "below"
            return (
                f"{number_name(name)} ended {abs(deviations):.1f} standard deviations {way} what was "
                f"believed before: check these panels before you trust it."
            )
        case facts.PadAsGrade(pad=pad, like=like, said=said):
            return f'Pad "{pad}", taken as {said}, scratches like {like}: put that under [pads] in shop.toml.'
        case facts.StartedAfresh(numbers=numbers):
            return (
                f"{_counted(numbers, 'number', 'numbers')} in force were measured before; the fit starts "
                f"from the shipped ones, so give it all panels, old and new."
            )
        case facts.NotSettled():
            return "The search did not come to rest: take the numbers with care."
        case _:
            assert_never(told)


def colour_says(entry: BookColour) -> str:
    """Return a colour of the book in a line: its word, name, code, flake, and who sealed it."""
    flake = "" if entry.flake == "unknown" else trade.FLAKE[entry.flake]
    sealed = f"sealed {entry.sealed_by}" if entry.is_sealed else "not sealed"
    name = "" if entry.name == entry.book else entry.name
    return "  ".join(part for part in (entry.book, name, entry.code, flake, sealed) if part)


def code_says(entry: BookColour, others: Sequence[BookColour]) -> str:
    """Return that other colours have an entry's code, empty where none has."""
    if not others:
        return ""
    names = trade.listed([other.book for other in others])
    return f"code {entry.code} is also that of {names}: variants of one colour? a job names the book word"


def record_says(record: facts.ColourRecord) -> str:
    """Return what the shop's own record has of a colour."""
    parts = []
    if record.panels:
        barely = f", {record.barely} barely" if record.barely else ""
        parts.append(f"{_counted(record.panels, 'test panel', 'test panels')}: {record.show} show{barely}")
    if record.reports:
        places = _counted(record.reports, "place", "places")
        parts.append(f"{places} reported on: lines seen at {record.came_back}")
    if record.wet_looks:
        looks = _counted(record.wet_looks, "wet look", "wet looks")
        parts.append(f"{looks}: lines in {record.wet_lines}")
    return "; ".join(parts) or "no test panel and no outcome of it yet"


def agreement_says(one: facts.Agreement) -> str:
    """Return how many lines were expected and seen among rows that share a word."""
    who = one.word if one.by == "all" else f"{one.by} {trade.factor_says(one.by, one.word)}"
    says = f"{who}: {one.showed:g} of {one.rows} show, {one.expected:.1f} expected"
    return says if one.agrees else f"{says} (chance of that: {one.chance:.2g})"


def next_panel_says(one: facts.NextPanel) -> str:
    """Return a panel to spray next with its reason."""
    because = one.because
    many = "1 decision" if because.decisions == 1 else f"{because.decisions} decisions"
    own = (one.flake, one.tool, one.grade, one.coats)
    other = (because.flake, because.tool, because.grade, because.coats)
    about = "that very line" if own == other else case_says(*other)
    again = (
        f". Again (strip {because.alike + 1} of its kind): one strip scatters, and two alike tell how well "
        f"you read"
        if because.alike
        else ""
    )
    return (
        f"{case_says(one.flake, one.tool, one.grade, one.coats)}: "
        f"shows with a chance of {because.chance:.0%}; bears on {many} of yours, "
        f"most on {about} in the {trade.ZONE_SHORT[because.zone]}, "
        f"judged rightly with {because.sure:.0%} now: takes {because.settles:.0%} of the doubt there away"
        f"{again}"
    )


def case_says(flake: str, tool: str, grade: "Grade", coats: int) -> str:
    """Return flake, grade, tool and coats of a line in words."""
    bed = "no wet bed" if coats == 0 else f"{coats} coat{'s' if coats > 1 else ''} of wet bed"
    return f"{trade.FLAKE.get(flake, flake)}, {grade} by {trade.TOOL.get(tool, tool)}, {bed}"


def row_says(each: facts.RowFitted) -> str:
    """Return a row that disagrees: what it was, what it said, what was to be expected."""
    row = each.row
    where = f"{row.file}:{row.line}" if row.line else row.file
    flake = row.colour or row.flake or f"{row.flake_um:g} um"
    how = case_says(flake, row.pad or row.tool, row.grade, row.coats)
    kept = [f"light {row.light}{'' if row.lux is None else ' lux'}"] if row.light else []
    kept += [f"{row.film_um:g} um film"] if row.film_um is not None else []
    kept += [f"{row.distance_mm:g} mm away"] if row.distance_mm is not None else []
    kept += [f"photo {row.photo}"] if row.photo else []
    how = ", ".join((how, *kept))
    return f'{where}: {how}: "{row.shows}", expected to show with {each.left_out:.0%}'


def _at(lines: tuple[tuple[str, int], ...]) -> str:
    shown = ", ".join(str(line) for _, line in lines[:_LINES_SHOWN])
    more = f" and {len(lines) - _LINES_SHOWN} more" if len(lines) > _LINES_SHOWN else ""
    return f"lines {shown}{more}"


def _counted(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
