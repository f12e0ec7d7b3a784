"""What every test may use: the knowledge tables, the property-test profiles, a browser where there is one."""

from __future__ import annotations

import os
import shutil
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from tools.checks import STATUSES

IN_CI = bool(os.environ.get("CI"))

# No deadline anywhere: a shared machine is slow at times, and a test must not fail for that.
settings.register_profile("desk", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", settings.get_profile("desk"), derandomize=True, print_blob=True)
settings.load_profile("ci" if IN_CI else "desk")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a check mark that the list of checks could not print."""
    for item in items:
        for mark in item.iter_markers("check"):
            given = (*mark.args, mark.kwargs.get("source"), mark.kwargs.get("status"))
            if (
                len(given) != 3
                or not all(isinstance(value, str) and value for value in given)
                or given[2] not in STATUSES
                or set(mark.kwargs) != {"source", "status"}
            ):
                raise pytest.UsageError(
                    f'{item.nodeid}: write check("ID", source="…", status="…") with a status out of: '
                    f"{', '.join(STATUSES)}."
                )


@pytest.fixture(scope="session")
def knowledge() -> Any:
    """The knowledge tables that come with the program."""
    from dooryard import knowledge as tables

    return tables.load()


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """How the browser is started: the system's own Chromium, with no word to the outside."""
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if path is None:
        if IN_CI:
            pytest.fail("no Chromium on this machine, and CI must not skip the browser tests")
        pytest.skip("no Chromium on this machine; the page is not tried in a browser")
    quiet = ["background-networking", "component-update", "sync", "quic", "gpu"]
    return {
        "executable_path": path,
        "args": ["--no-sandbox", "--no-first-run", *(f"--disable-{what}" for what in quiet)],
    }
