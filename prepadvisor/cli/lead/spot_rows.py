"""The spots of jobs as rows: job and place, every fact of the case, and the rules behind its answers."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import FACTS
from prepadvisor.standards import OUTPUTS

if TYPE_CHECKING:
    from prepadvisor.standards import CellValue, House


COLUMNS: Final = ("job", "spot", *FACTS, *(f"{output}_because" for output in OUTPUTS))
"""The columns: a number nobody measured is empty."""


def spot_rows(names: list[str], house: "House") -> "Iterator[dict[str, CellValue]]":
    """Yield a row for each spot of each job.

    Raises:
        BadInputError: for a job that cannot be read.
    """
    from prepadvisor.files import job_files, load_job
    from prepadvisor.planning import spot_plans
    from prepadvisor.standards import Axes

    axes = Axes(rule.when for rule in house.engine.rules)
    for name in job_files(names):
        for plan in spot_plans(load_job(name, house), house):
            row: dict[str, CellValue] = {"job": name, "spot": plan.spot.id}
            for fact, value in zip(FACTS, axes.told(plan.case), strict=True):
                row[fact] = str(value).lower() if isinstance(value, bool) else value
            for output in OUTPUTS:
                rules = {reason.rule for reason in plan.decision.because if reason.output == output}
                row[f"{output}_because"] = "|".join(sorted(rules)) or None
            yield row
