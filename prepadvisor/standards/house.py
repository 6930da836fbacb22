"""All that one shop works by: rule engine, shop file, constants, outlines, and the files they came from."""

from dataclasses import dataclass, field

from prepadvisor.records.advice import StandardsUsed
from prepadvisor.records.constants import Constants, Source
from prepadvisor.records.outline import Outline
from prepadvisor.records.shop import Shop
from prepadvisor.standards.engine import Engine


@dataclass(frozen=True)
class House:
    """The shipped standards with a shop's own laid over them.

    `folder` is the house folder's name as given, empty for the shipped standards alone; `sources` maps a
    source id to its register entry; `used` is what a card prints of the files it rests on.
    """

    engine: Engine
    shop: Shop
    constants: Constants
    outlines: dict[str, Outline]
    sources: dict[str, Source]
    used: StandardsUsed
    folder: str = ""
    digest: str = field(default="", compare=False)
