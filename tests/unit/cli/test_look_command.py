"""`dooryard look` on the command line: answers, questions one by one, and what is said to nonsense."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard


def _run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(dooryard, ["look", *words, "--on", "2031-07-12"], input=typed)


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["--plant", "magnolia", "--yes", "sticky", "--yes", "big bumps"], 0, "magnolia scale"),
        (["--plant", "Magnolias", "--yes", "sticky", "--yes", "big-bumps"], 0, "magnolia scale"),
        (["--plant", "pin oak", "--yes", "yellow-veins", "--evidence", "photo"], 0, "iron held back"),
        (["--plant", "tomato"], 1, "Nobody has looked yet"),
        (["--plant", "tomato", "--yes", "sudden"], 1, "cannot tell"),
        (["--plant", "tomatto"], 2, 'Did you mean "tomato"'),
        (["--plant", "spaceship"], 2, "We do not know this plant"),
        (["--plant", "tomato", "--yes", "rinks", "--no", "sligme"], 2, "rinks"),
        (["--plant", "tomato", "--yes", "honeydew"], 2, "Did you mean the sign sticky"),
        (["--plant", "tomato", "--yes", "rings", "--no", "rings"], 2, "seen and not seen"),
        (["--plant", "tomato", "--lab", "late-bligt"], 2, "late-blight"),
        (["--plant", "tomato", "--lab", "late-blight"], 0, "Confirmed by the laboratory"),
        (["--plant", "tomato", "--yes", "greasy", "--yes", "sudden"], 0, "It may be late blight"),
        (["--plant", "tomato", "--signs"], 0, "gray-specks"),
    ],
)  # fmt: skip
def test_look_command_answers_or_says_what_to_write(words: list[str], code: int, says: str) -> None:
    result = _run(*words)
    assert result.exit_code == code, result.output
    assert says in result.output
    assert "Traceback" not in result.output


def test_look_command_asks_until_it_knows_or_is_stopped() -> None:
    asked = _run(
        "--plant", "tomato", "--yes", "lower-first", "--ask", "--evidence", "photo", typed="y\nn\ns\n"
    )
    assert asked.exit_code == 0, asked.output
    assert "early blight" in asked.output
    stopped = _run("--plant", "tomato", "--ask", typed="s\n")
    assert stopped.exit_code == 1
    odd = _run("--plant", "tomato", "--ask", typed="perhaps\nb\ny\nb\ns\n")
    assert "Answer with one letter" in odd.output
    assert odd.exit_code == 1
    ended = _run("--plant", "tomato", "--ask", typed="")
    assert ended.exit_code == 1
    assert "Traceback" not in ended.output


def test_look_command_gives_json() -> None:
    document = json.loads(_run("--plant", "peach", "--yes", "gum-frass", "--no", "gum-high", "--json").stdout)
    assert document["report"] == "look"
    assert document["figures"]["look.peachtree-borer"]["low"] is None
    assert document["walk"][1]["table"]["rows"][0][0] == "peachtree borer"
