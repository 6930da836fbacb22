"""What the shop's own record has of each colour: test panels, outcomes and wet looks, counted."""

from collections.abc import Iterable, Mapping

from prepadvisor.records import ColourRecord, PanelRow, key_of


def by_colour(rows: Iterable[PanelRow], names: Mapping[str, str]) -> dict[str, ColourRecord]:
    """Return the record of each colour that rows name.

    Args:
        rows: test panels and what jobs add to them.
        names: to each word a row may call a colour by (as compared) the colour it means.
    """
    found: dict[str, ColourRecord] = {}
    for row in rows:
        key = names.get(key_of(row.colour))
        if key is not None:
            found[key] = _with(found.get(key, ColourRecord()), row)
    return found


def _with(record: ColourRecord, row: PanelRow) -> ColourRecord:
    shows = row.shows == "yes"
    match row.kind:
        case "panel":
            barely = record.barely + (row.shows == "barely")
            return record._replace(panels=record.panels + 1, show=record.show + shows, barely=barely)
        case "outcome":
            return record._replace(reports=record.reports + 1, came_back=record.came_back + shows)
        case "wet-look":
            return record._replace(wet_looks=record.wet_looks + 1, wet_lines=record.wet_lines + shows)
