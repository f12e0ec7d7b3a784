"""The README's commands are found, run in one shell, and held to their exit codes."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from tools import readme

PAGE = """
```sh
X=kept            # a note
make test
```
1. in a list
   <!-- exit: 2 -->
   ```sh
   echo "$X" \\
     again
   # a comment
   (exit 2)
   ```
```toml
not = "run"
```
"""


def run(page: str) -> subprocess.CompletedProcess[str]:
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("no bash on this machine")
    script = readme.script(list(readme.blocks(page)))
    return subprocess.run([bash, "-c", script], capture_output=True, text=True, check=False)


def test_readme_blocks_are_found_with_their_exit_codes() -> None:
    found = list(readme.blocks(PAGE))
    assert [block.exit_code for block in found] == [0, 2]
    assert "make test" not in found[0].commands


def test_readme_blocks_share_one_shell_and_may_end_as_the_page_says() -> None:
    ran = run(PAGE)
    assert ran.returncode == 0, ran.stderr
    assert "kept again" in ran.stdout


@pytest.mark.parametrize("body", ["false", "false\ntrue", "exit_code_of_nothing_known"])
def test_readme_block_that_fails_stops_the_run(body: str) -> None:
    ran = run(f"```sh\n{body}\n```\n```sh\necho not reached\n```\n")
    assert ran.returncode == 1
    assert "not reached" not in ran.stdout
    assert "README: exit code" in ran.stderr


def test_readme_block_meant_to_fail_that_succeeds_is_told() -> None:
    assert run("<!-- exit: 2 -->\n```sh\ntrue\n```\n").returncode == 1
