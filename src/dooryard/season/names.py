"""What a person calls an organism or a plant, and which rows of the tables that is."""

from __future__ import annotations

from dataclasses import dataclass

from dooryard.knowledge import Knowledge
from dooryard.problem import InputError, Problem, nearest


@dataclass(frozen=True, slots=True)
class Named:
    """What a name stands for: organisms (keys), and the plant kind if it was a plant's name."""

    organisms: tuple[str, ...]
    plant: str | None


def find(words: str, knowledge: Knowledge) -> Named:
    """The organism of that name, or the organisms that live on the plant of that name.

    Raises InputError with near names if nothing goes by it.
    """
    said = _plain(words)
    by_name = _organisms(knowledge)
    if said in by_name:
        return Named((by_name[said],), None)
    plants = _plants(knowledge)
    if said in plants:
        return Named(tuple(knowledge.organisms_on(plants[said])), plants[said])
    close = nearest(said, [*by_name, *plants])
    within = sorted(name for name in (*by_name, *plants) if said and said in name)
    hint = f"Did you mean one of: {', '.join(within[:6])}?" if within else close
    raise InputError(
        Problem(
            "No organism or plant goes by this name.",
            hint or "dooryard season --list gives all names.",
            field="NAME",
            found=words,
        )
    )


def organism_names(knowledge: Knowledge) -> tuple[str, ...]:
    """Every organism's own name, in alphabetical order."""
    return tuple(sorted((one.name for one in knowledge.organisms.values()), key=str.casefold))


def plant_names(knowledge: Knowledge) -> tuple[str, ...]:
    """Every plant an organism lives on or whose bloom is in a table, in alphabetical order."""
    return tuple(sorted(set(_plants(knowledge).values()), key=str.casefold))


def _organisms(knowledge: Knowledge) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in knowledge.organisms.values():
        outside, _, inside = one.name.partition("(")
        for name in (one.name, outside, inside.rstrip(")"), one.key, one.scientific):
            if name.strip():
                found.setdefault(_plain(name), one.key)
    return found


def _plants(knowledge: Knowledge) -> dict[str, str]:
    kinds = [host.plant_kind for host in knowledge.hosts] + [bloom.plant for bloom in knowledge.blooms]
    return {_plain(kind): kind for kind in reversed(kinds)}


def _plain(words: str) -> str:
    return " ".join(words.casefold().replace("-", " ").replace("(", "").replace(")", "").split())
