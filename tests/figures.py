"""Figures that a test reaches: shown at the end of the run, also when it passes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

NAME = "figure"


@pytest.fixture
def figures(request: pytest.FixtureRequest) -> Callable[[str], None]:
    """Tell a figure; it travels with the test's report, from another process too."""

    def tell(text: str) -> None:
        request.node.user_properties.append((NAME, text))

    return tell


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    told = [
        text
        for outcome in ("passed", "failed")
        for report in terminalreporter.stats.get(outcome, ())
        for name, text in report.user_properties
        if name == NAME
    ]
    if told:
        terminalreporter.section("figures reached")
        for text in sorted(told):
            terminalreporter.write_line(text)
