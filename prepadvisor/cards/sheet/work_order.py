"""The order of work on one panel, from the first abrasive to the last look."""

from prepadvisor.cards.sheet.papers import Papers, numbers
from prepadvisor.records.advice import PanelAdvice, Place
from prepadvisor.wording import trade as words


def work_order(papers: Papers, panel: PanelAdvice, places: list[Place]) -> tuple[str, ...]:
    """Return the steps of a panel in order, each a short phrase.

    Patches come first because their dust and powder get everywhere, hand-only places before the DA because
    the last DA pass blends their rims in, and the look last because only work before it counts.
    """
    patches = [place for place in places if place.kind == "patch" and place.ladder]
    hand_only = [
        place
        for place in places
        if papers.is_hand_only(place) and place.finish and place.done.verdict == "not-recorded"
    ]
    ahead = [place for place in places if place.hand_coarsest and not papers.is_hand_only(place)]
    scuff = [place for place in ahead if place.done.verdict == "not-recorded"]
    powder = [place for place in ahead if place.guide_coat != "no"]
    says = []
    if any(place.done.recut for place in places):
        recut = [place for place in places if place.done.recut]
        says.append(f"re-cut {numbers(papers, recut)}")
    if patches:
        says.append(f"{'patch' if len(patches) == 1 else 'patches'} {numbers(papers, patches)}")
    for grade, group in _by(hand_only, "finish"):
        says.append(f"{numbers(papers, group)} by hand {grade}, last touch")
    for grade, group in _by(scuff, "hand_coarsest"):
        says.append(f"scuff {numbers(papers, group)} by hand {grade}")
    if len(panel.ladder) > 1:
        says.append("face up to its last grade: " + ">".join(step.grade for step in panel.ladder[:-1]))
    if powder:
        says.append(f"powder on {numbers(papers, powder)}")
    if panel.face:
        tool = words.TOOL[panel.tool] if panel.tool else "DA"
        says.append(f"face and lines in one go: {panel.face}, {tool}")
    says.append("LOOK at every place, lamp and damp cloth")
    return tuple(says)


def _by(places: list[Place], field: str) -> list[tuple[str, list[Place]]]:
    groups: dict[str, list[Place]] = {}
    for place in places:
        groups.setdefault(getattr(place, field), []).append(place)
    return list(groups.items())
