"""A shop to fit: the shipped numbers, panels drawn at random, and judges who answer by a known truth."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import pytest

from prepadvisor.files import load_house
from prepadvisor.measured.force import InForce
from prepadvisor.measured.likelihood import LAPSE, SCATTER, Unknowns, layout_of
from prepadvisor.measured.model import Model, ModelFlake, Settings
from prepadvisor.records import Constants, Grade, PanelRow
from prepadvisor.surface import Array

CLASSES = ("coarse", "medium", "fine", "very-fine", "vapour")
TOOLS = ("hand-pad", "da", "da-soft")
GRADES = tuple(map(Grade, ("P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000")))
SOLIDS = 0.40


class Bench(NamedTuple):
    """A simulated shop: its constants and unknowns, and a source of chance."""

    constants: Constants
    layout: Unknowns
    chance: np.random.Generator

    def flake(self, name: str) -> ModelFlake:
        """Return the flake of a class; its size is a colour's, and so unknown, where the layout has it."""
        own = self.constants.flake[name]  # type: ignore[index]
        colour = name if f"flake_um.{name}" in self.layout.place else ""
        return ModelFlake(colour, own.d50_um.value, own.log_sd.value, own.tilt_deg.value)

    def panels(self, count: int) -> list[PanelRow]:
        """Return panels prepared at random, not read yet."""
        pick = self.chance.choice
        return [
            PanelRow(
                tool=str(pick(TOOLS)),  # type: ignore[arg-type]
                grade=Grade(str(pick(GRADES))),
                shows="no",
                flake=(name := str(pick(CLASSES))),
                colour=name if f"flake_um.{name}" in self.layout.place else "",
                coats=int(pick(3)),
                zone="fade" if pick(2) else "colour",
            )
            for _ in range(count)
        ]

    def model(self, rows: Sequence[PanelRow], lapse: float = LAPSE) -> Model:
        """Return the model of rows."""
        flakes = [self.flake(row.flake or "fine") for row in rows]
        return Model(rows, flakes, Settings(self.layout, self.constants), lapse)

    def truth(self) -> Array:
        """Return unknowns drawn from the priors."""
        draws = self.chance.normal(size=len(self.layout.mean))
        return self.layout.mean + self.layout.sd * draws

    def read(self, rows: Sequence[PanelRow], truth: Array) -> list[PanelRow]:
        """Return the rows as a judge answers them by the truth, with scatter and lapse."""
        model = self.model(rows)
        margin = model.margins(truth).value[model.cell_of]
        scatter = math.exp(truth[self.layout.place[SCATTER]])
        seen = margin + scatter * self.chance.normal(size=len(rows)) > 0
        at_random = self.chance.random(len(rows)) < LAPSE
        answers = np.where(at_random, self.chance.random(len(rows)) < 0.5, seen)
        return [
            row._replace(shows="yes" if shows else "no") for row, shows in zip(rows, answers, strict=True)
        ]


@pytest.fixture(scope="session")
def constants() -> Constants:
    """The shipped constants."""
    return load_house(None).constants


@pytest.fixture
def bench(constants: Constants) -> Bench:
    """A simulated shop with the flake size of two colours unknown."""
    colours = {name: (constants.flake[name].d50_um.value, 0.2) for name in ("fine", "very-fine")}
    layout = layout_of(constants, SOLIDS, {}, colours, ["panel"])
    return Bench(constants, layout, np.random.default_rng(20261127))


@pytest.fixture
def plain(constants: Constants) -> Bench:
    """A simulated shop whose flake sizes are those of the classes."""
    return Bench(constants, layout_of(constants, SOLIDS, {}, {}, ["panel"]), np.random.default_rng(20261128))


@pytest.fixture
def in_force(constants: Constants) -> InForce:
    """The shipped numbers in force, no colour in the book."""
    return InForce(constants, constants, SOLIDS, SOLIDS, {})
