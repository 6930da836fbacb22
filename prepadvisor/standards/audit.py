"""The exact audit of standards: every possible case is covered, none is sampled.

Rules are boxes, so the outputs over all cases are decision diagrams of moderate size; each kind of flaw is
then a region of cases, empty when the standards are sound.
"""

from prepadvisor.standards.audit_beds import beds_too_thin, forbidden_beds
from prepadvisor.standards.audit_book import colours_not_in_book
from prepadvisor.standards.audit_collisions import collisions
from prepadvisor.standards.audit_dead import dead_rules
from prepadvisor.standards.audit_examples import failing_examples
from prepadvisor.standards.audit_gaps import gaps
from prepadvisor.standards.audit_holds import holds_not_let_go, holds_over_most
from prepadvisor.standards.audit_promises import broken_promises
from prepadvisor.standards.audit_says import saying_otherwise
from prepadvisor.standards.audit_shelf import shelf_lacks
from prepadvisor.standards.audit_shop import shop_slips
from prepadvisor.standards.audit_units import wrong_units
from prepadvisor.standards.audit_unreachable import unreachable
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.findings import Audit
from prepadvisor.standards.house import House
from prepadvisor.standards.pasteable import with_lines_to_paste


def audit_house(house: House, audited: Audited | None = None) -> Audit:
    """Return every flaw of a house: of its standards, and of its shelf, tools, pads, numbers and outlines.

    Args:
        house: the house.
        audited: its standards as an audit sees them, where they are at hand already.
    """
    audited = audited or Audited(house.engine)
    more = [*shelf_lacks(audited, house.shop), *shop_slips(house), *colours_not_in_book(house)]
    return _audit(audited).with_more(more)


def audit(engine: Engine) -> Audit:
    """Return every flaw of compiled standards, gravest first, and the number of possible cases.

    The cases are those of all categories, with each number cut into the ranges that some rule tells apart,
    and "not known" as one more.
    """
    return _audit(Audited(engine))


def _audit(audited: Audited) -> Audit:
    engine = audited.engine
    findings = [
        *holds_not_let_go(audited),
        *gaps(audited),
        *holds_over_most(audited),
        *collisions(audited),
        *forbidden_beds(audited),
        *beds_too_thin(audited),
        *broken_promises(audited),
        *failing_examples(audited),
        *unreachable(audited),
        *wrong_units(engine),
        *saying_otherwise(audited),
        *dead_rules(audited),
    ]
    count = audited.diagrams.count
    findings = with_lines_to_paste(engine, findings)
    possible, living = count(audited.space.possible), count(audited.world.living)
    return Audit(tuple(findings), possible, living, audited.world.is_whole)
