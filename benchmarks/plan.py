"""How long the whole line takes: a plan, an edit, the packet, and the command line's help.

Prints each figure beside its target on two cores and their ratio, and names the machine.
"""

from __future__ import annotations

import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from leafwright import load_job, plan
from leafwright.packet import write_packet

EXAMPLE = Path(__file__).parents[1] / "examples" / "boathouse.toml"


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Return the median time of some work [ms]."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


def _row(name: str, took: float, target: float) -> None:
    print(f"{name:46} {took:8.1f} ms   target {target:6.0f} ms   ratio {took / target:5.2f}")


def main() -> None:
    """Time the demo job and print the table."""
    job = load_job(EXAMPLE).job
    made = plan(job)
    edited = job.model_copy(update={"stock": job.stock.model_copy(update={"kerf": None})})
    print(f"{platform.machine()}, {platform.python_implementation()} {platform.python_version()}")
    _row("plan of the demo, all stages, warm", milliseconds(lambda: plan(job), 15), 100)
    _row(
        "the same after an edit of the kerf, reused",
        milliseconds(lambda: plan(edited, previous=made), 15),
        100,
    )
    with tempfile.TemporaryDirectory() as folder:
        _row(
            "the whole packet, PDF, SVG, DXF and JSON",
            milliseconds(lambda: write_packet(made, Path(folder)), 5),
            2000,
        )
    help_command = [sys.executable, "-m", "leafwright.cli", "--help"]
    bare = [sys.executable, "-c", "pass"]
    took = milliseconds(lambda: subprocess.run(help_command, check=True, capture_output=True), 9)
    python = milliseconds(lambda: subprocess.run(bare, check=True, capture_output=True), 9)
    _row("leafwright --help", took, 60)
    print(f"{'  of which Python itself':46} {python:8.1f} ms")


if __name__ == "__main__":
    main()
