"""The shop file as a form: shelf, tools, pads, rates and times as fields, and its text with one changed."""

from collections.abc import Mapping
from typing import Any, Final

from prepadvisor.records import DA_TOOLS, GRADES, HAND_TOOLS, RANK, Rates, Shop, WetBed, grade
from prepadvisor.tui.model.fields import Field, choice, number
from prepadvisor.tui.model.house_files.form import HouseForm, marked, with_value
from prepadvisor.wording import KIND, SURFACE, TOOL

HEAD: Final = "# This shop. It holds only what differs from the shipped shop file.\n"
"""How a shop file begins that is made for a first change."""

_NUMBERS: Final[Mapping[str, tuple[str, str]]] = {
    "fade_least_mm": ("Least fade", "mm"),
    "mist_mm": ("Mist past the fade", "mm"),
    "lap_mm": ("Primer lap", "mm"),
    "ring_mm": ("Ring past the lap", "mm"),
    "edge_strip_mm": ("Strip along a line", "mm"),
    "wet_bed.overlap_mm": ("Bed past the fade", "mm"),
    "wet_bed.volume_solids": ("Bed: solids by volume", ""),
    "wet_bed.set_solids": ("Bed: solids when set", ""),
    "wet_bed.dry_um_per_coat": ("Bed: dry film, a coat", "um"),
    "wet_bed.transfer_efficiency": ("Bed: share that lands", ""),
    "rates.labour_per_hour": ("Cost: labour, an hour", ""),
    "rates.wet_bed_per_litre": ("Cost: wet bed, a litre", ""),
    "rates.per_disc": ("Cost: a disc", ""),
    "pass_m2_per_minute": ("One DA pass", "m2 a minute"),
    "clearing_minutes_per_dm2_max": ("Most DA time on lines", "min a dm2"),
    "disc_minutes": ("To change a disc", "min"),
    "disc_dm2": ("A disc lasts for", "dm2"),
    "guide_coat_minutes": ("Guide coat", "min"),
    "hand_minutes_least": ("By hand, at least", "min"),
    "clean_minutes": ("Clean a panel", "min"),
    "clean_minutes_per_m2": ("Clean, and for each m2", "min"),
    "look_minutes": ("Look at a place", "min"),
    "wipe_minutes": ("Wipe a panel", "min"),
    "mask_minutes": ("Mask a panel", "min"),
    "gate_hours": ("A wipe counts", "h"),
    "look_hours": ("A look counts", "h"),
}  # fmt: skip
"""Numbers of the shop file by their keys: what each is called, and its unit."""
_TABLES: Final = frozenset({"hand_minutes_per_metre", "cut_faster"})
_ASK_PAD: Final = "Name or colour of the pad, as the shop calls it"
_YES_NO: Final = {"yes": "yes", "no": "no"}


def shop_fields(shop: Shop, own: str) -> list[Field]:
    """Return the fields of a shop; what its own file states is marked ■.

    Args:
        shop: the shop as the house has it.
        own: the text of the house's own shop file, empty where there is none.
    """
    shelf = " ".join(shop.shelf)
    fields = [
        Field("name", "Shop", shop.name or "no name", "text", shop.name, ask="What the shop is called"),
        Field("shelf", "Grades on the shelf", _shelf_says(shop), "text", shelf, ask="Grades on the shelf"),
        choice("finishing_tool", "Last sander", shop.finishing_tool, _tools(DA_TOOLS)),
        choice("interface_pad", "Soft interface pad", "yes" if shop.interface_pad else "no", _YES_NO),
        choice("hand_tool", "Edges by hand with", shop.hand_tool, _tools(HAND_TOOLS)),
        choice("ring_grade", "Ring round primer with", shop.ring_grade, _grades(shop)),
        *(
            choice(f"first_grade.{name}", f"First cut: {SURFACE[name]}", value, _grades(shop))
            for name, value in shop.first_grade.items()
        ),
        Field(
            "leads", "Leads", " ".join(shop.leads) or "anybody", "text", " ".join(shop.leads),
            ask="Initials of who may accept work outside its limits, blanks between; empty: anybody",
        ),
        *(_number(shop, key, label, unit) for key, (label, unit) in _NUMBERS.items()),
        Field(
            "rates.currency", "Cost: money", shop.rates.currency if shop.rates else "", "text",
            shop.rates.currency if shop.rates else "", ask="What money counts in, such as EUR",
        ),
        *(
            _entry(f"hand_minutes_per_metre.{name}", f"By hand: {KIND[name]}", value, "min a m")
            for name, value in shop.hand_minutes_per_metre.items()
        ),
        *(
            _entry(f"cut_faster.{name}", f"Cut faster: {SURFACE[name]}", value, "x old clear")
            for name, value in shop.cut_faster.items()
        ),
        *(
            choice(f"pads.{name}", f"Pad: {name}", value, {each: each for each in GRADES})
            for name, value in shop.pads.items()
        ),
        Field("pads", "Pads known by name", "+ one more", "text", "", ask=_ASK_PAD),
    ]  # fmt: skip
    return marked(fields, own, _path)


def shop_form() -> HouseForm:
    """Return how the shop file is edited."""
    return HouseForm(
        file="shop.toml",
        title="The shop file in the draft: shelf, tools, pads, times, costs",
        fields=lambda house, own: shop_fields(house.shop, own),
        path_of=_path,
        about=lambda house, ident: _about(house.shop, ident),
        with_changed=lambda _house, text, ident, answer, _known: with_shop_changed(text, ident, answer),
        with_dropped=with_shop_dropped,
    )


def _about(shop: Shop, ident: str) -> list[str]:
    """Return what a line of the shop file means, and how its number is known."""
    lines = [about(ident)]
    if ident == "shelf":
        lines.insert(0, ", ".join(shop.shelf))
    passport = shop.passport.get(ident)
    if passport is not None:
        lines.append(f"Known as: {passport.known}. {passport.note}".strip())
    return lines


def about(field_id: str) -> str:
    """Return what a field of the shop file means, in a sentence."""
    from prepadvisor.wording import attributes  # only who asks pays for loading it

    table, _, key = field_id.partition(".")
    record = {"wet_bed": WetBed, "rates": Rates}.get(table, Shop)
    said = attributes(record).get(key if record is not Shop else table, "")
    return f"{said[:1].upper()}{said[1:]}"


def with_shop_changed(text: str, field_id: str, answer: str) -> str:
    """Return a shop file's text with one field set; its comments stay.

    Raises:
        RefusedError: the answer is no number.
        NotAGradeError: it is no grade.
    """
    return _put(text, field_id, _value(field_id, answer))


def with_shop_dropped(text: str, field_id: str) -> str:
    """Return a shop file's text without one field, which is then as in the layer below."""
    return _put(text, field_id, None)


def _put(text: str, field_id: str, value: object) -> str:
    return with_value(text, HEAD, _path(field_id), value, lambda data: _without_passport(data, field_id))


def _path(field_id: str) -> tuple[str, ...]:
    """Return the keys that lead to a line: a table's name, then all that follows it."""
    table, _, key = field_id.partition(".")
    return (table, key) if key else (table,)


def _without_passport(data: dict[str, Any], field_id: str) -> None:
    """Take away how a number was known: one that is typed is the shop's own word."""
    passports = data.get("passport")
    if isinstance(passports, dict) and passports.pop(field_id, None) is not None and not passports:
        del data["passport"]


def _value(field_id: str, answer: str) -> object:
    """Return an answer as the file has it."""
    if field_id == "interface_pad":
        return answer == "yes"
    if field_id == "leads":
        return answer.split()
    if field_id == "shelf":
        return [grade(each) for each in answer.split()]
    if field_id == "ring_grade" or field_id.partition(".")[0] in {"first_grade", "pads"}:
        return grade(answer)
    if field_id in _NUMBERS or field_id.partition(".")[0] in _TABLES:
        value = number(answer)
        return int(value) if value.is_integer() else value
    return answer


def _shelf_says(shop: Shop) -> str:
    by_grain = sorted(shop.shelf, key=RANK.__getitem__)
    return f"{len(by_grain)} of them, {by_grain[0]} to {by_grain[-1]}"


def _number(shop: Shop, key: str, label: str, unit: str) -> Field:
    table, _, name = key.rpartition(".")
    value = getattr(getattr(shop, table) if table else shop, name, None)
    if value is None:
        return Field(key, label, "not stated", "number", "", ask=label)
    return _entry(key, label, value, unit)


def _entry(key: str, label: str, value: float, unit: str) -> Field:
    ask = f"{label}{f', {unit}' if unit else ''}"
    return Field(key, label, f"{value:g} {unit}".strip(), "number", f"{value:g}", ask=ask)


def _tools(tools: tuple[str, ...]) -> dict[str, str]:
    return {tool: TOOL[tool] for tool in tools}


def _grades(shop: Shop) -> dict[str, str]:
    return {each: each for each in shop.shelf}
