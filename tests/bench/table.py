"""Timing by medians over repeats, and the table they are printed in."""

from __future__ import annotations

import os
import platform
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from math import log
from pathlib import Path


@dataclass(frozen=True)
class Row:
    """One line: what was timed, ours and what it is held against (in ``unit``), and the aim for their ratio."""

    what: str
    ours: float
    against: float | None = None
    unit: str = "ms"
    aim: str = ""

    def __str__(self) -> str:
        base = "" if self.against is None else f"{self.against:,.2f}"
        ratio = "" if not self.against else f"{self.ours / self.against:.2f}"
        return f"{self.what:<80} {self.ours:>10,.2f} {base:>10} {self.unit:<3} {ratio:>7}  {self.aim}"


def head() -> str:
    """Return the heads of the columns."""
    return f"{'what':<80} {'ours':>10} {'against':>10} {'':<3} {'ratio':>7}  aim"


def median_ms(act: Callable[[], object], repeats: int) -> float:
    """Return the median time of ``act`` over ``repeats`` runs, in milliseconds, after one that is not counted."""
    act()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        act()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


def medians_by_turns(acts: dict[str, Callable[[], object]], repeats: int) -> dict[str, float]:
    """Return the median of each of several acts that are run in turns, so that a busy moment strikes them all alike."""
    times: dict[str, list[float]] = {name: [] for name in acts}
    for act in acts.values():
        act()
    for _ in range(repeats):
        for name, act in acts.items():
            start = time.perf_counter()
            act()
            times[name].append(1000 * (time.perf_counter() - start))
    return {name: statistics.median(found) for name, found in times.items()}


def exponent(sizes: list[float], costs: list[float]) -> float:
    """Return the exponent b of cost = a * size ** b by least squares on the logarithms."""
    x, y = [log(size) for size in sizes], [log(max(cost, 1e-9)) for cost in costs]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    return sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sum((a - mean_x) ** 2 for a in x)


def machine() -> str:
    """Return what this runs on: processor, cores, memory, system, Python and how busy it is."""
    model, memory_gb = platform.processor() or platform.machine(), 0.0
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
        model = next((line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")), model)
        memory_gb = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
        load = f", load {os.getloadavg()[0]:.1f}"
    except (OSError, ValueError, AttributeError):
        load = ""
    return (
        f"{model}, {os.cpu_count()} cores, {memory_gb:.0f} GB; {platform.system()} {platform.release()}, "
        f"Python {platform.python_version()}{load}"
    )
