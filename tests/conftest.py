"""The same random cases on every run, and at the end what each part of the tests cost."""

from collections import defaultdict
from pathlib import PurePosixPath

from hypothesis import settings
from pytest import TerminalReporter, TestReport

from tests.sizes import cases

# No deadline: a slow machine is no failure.
settings.register_profile(
    "leafwright", derandomize=True, deadline=None, max_examples=cases(25, 500)
)
settings.load_profile("leafwright")


def area(node: str) -> str:
    """Return the first folder or file under tests/ that a test's id names, in plain words."""
    first = PurePosixPath(node.partition("::")[0]).parts[1]
    return first.removesuffix(".py").removeprefix("test_")


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    seconds: dict[str, float] = defaultdict(float)
    for reports in terminalreporter.stats.values():
        for report in reports:
            if isinstance(report, TestReport):
                seconds[area(report.nodeid)] += report.duration
    if seconds:
        dearest_first = sorted(seconds.items(), key=lambda entry: (-entry[1], entry[0]))
        times = ", ".join(f"{name} {spent:.1f} s" for name, spent in dearest_first)
        terminalreporter.write_line(f"time per area: {times}")
