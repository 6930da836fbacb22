"""How fast the line model is, as ratios within one run: python tests/benchmarks/bench_line_model.py.

Compared with nested adaptive integration by scipy, the way it would be written straight from the equations,
and with a loop of additions in the bare interpreter, so that runs on other machines compare.
"""

import math
import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from statistics import median

from scipy.integrate import quad

from prepadvisor.cases import FlakeNumbers
from prepadvisor.planning import LineModel
from prepadvisor.records import GRADES, TOOLS, Constants, Grade

_CONSTANTS = Path(__file__).parents[2] / "rules/constants.toml"
_VERY_FINE = FlakeNumbers(8.0, 0.47, 7.0)


def seconds(work: Callable[[], object], rounds: int) -> float:
    """Return the median time of one call in seconds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return median(times)


def nested_integration() -> float:
    """Return line strength in µm of P1000 by DA with interface pad, by scipy from the equations."""
    depth, spread, left = 0.039 * 18.3, math.radians(7.0), 0.925
    width = 6 * depth

    def groove(x: float) -> float:
        return depth * math.cos(math.pi * x / width) ** 2 if abs(x) <= width / 2 else 0.0

    def loss(x: float, flake: float) -> float:
        tilt = math.atan(abs(groove(x + flake / 2) - groove(x - flake / 2)) / flake * left)
        return -math.expm1(-((tilt / spread) ** 2) / 2)

    def weighted(log_flake: float) -> float:
        flake = math.exp(log_flake)
        z = (log_flake - math.log(8.0)) / 0.47
        ends = (abs(flake - width) / 2, (flake + width) / 2)
        both = quad(loss, 0, ends[0], (flake,), epsrel=1e-4)[0] + quad(loss, *ends, (flake,), epsrel=1e-4)[0]
        return float(2 * both * math.exp(-z * z / 2) / (0.47 * math.sqrt(2 * math.pi)))

    return float(quad(weighted, math.log(8.0) - 4, math.log(8.0) + 4, epsrel=1e-4)[0])


def main() -> None:
    """Print the ratios."""
    constants = Constants.model_validate(tomllib.loads(_CONSTANTS.read_text(encoding="utf-8")))
    model = LineModel(constants)
    fresh = iter(range(10**6))

    def new_table() -> object:
        flake = _VERY_FINE._replace(d50_um=8.0 + next(fresh) * 1e-6)  # never seen before, so never cached
        return model.estimate(flake, "da", Grade("P800"), "fade", 0, 0.4)

    def known_estimate() -> object:
        return model.estimate(_VERY_FINE, "da", Grade("P800"), "fade", 0, 0.4)

    loop = seconds(lambda: sum(range(10_000)), 200)
    table = seconds(new_table, 200)
    known = seconds(lambda: [known_estimate() for _ in range(100)], 200) / 100
    nested = seconds(nested_integration, 7)
    built = seconds(lambda: LineModel(constants), 200)
    rows = len(TOOLS) * len(GRADES)
    print(f"sum(range(10_000)), the yardstick       {loop * 1e6:9.0f} µs      1.0")
    print(f"a new table, {rows} tools × grades        {table * 1e6:9.0f} µs {table / loop:8.1f}")
    print(
        f"the same estimates by nested quad       {nested * rows * 1e6:9.0f} µs {nested * rows / loop:8.1f}"
    )
    print(f"a known estimate                        {known * 1e6:9.2f} µs {known / loop:8.4f}")
    print(f"a model from constants                  {built * 1e6:9.0f} µs {built / loop:8.2f}")
    print(f"a table is {nested * rows / table:.0f} times as fast as nested integration, ", end="")
    print(f"a known estimate {table / known:.0f} times as fast as a new table")


if __name__ == "__main__":
    main()
