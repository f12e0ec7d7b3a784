"""`dooryard work …`: single sums of plant care, one module each. They need no yard file."""

from __future__ import annotations

import click

from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "mulch": "Mulch for a tree or a bed: area, volume, bags.",
    "plugs": "Dividing a ground cover: plugs, spacing, last day.",
    "wound": "Torn bark: how much is lost, what to do.",
    "treat": "What may be done about a pest today, mildest first.",
    "prune": "When and how to cut a plant.",
    "divide": "When a perennial is divided, and how.",
    "no-bloom": "Why a shrub does not bloom, and when to cut it.",
    "tree-water": "Water for a young tree.",
    "soil": "What a soil report's lime and fertilizer come to.",
    "mix": "An amount from the label in hand, checked backwards.",
    "days": "Which coming days a treatment may fall on.",
    "drench": "Whether a tree may get a soil drench at all.",
}


@click.group(
    "work",
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli.work",
    short_help="Sums of plant care: mulch, plugs, wounds, mixtures.",
)
def command() -> None:
    """Work out one thing: how much, how far apart, which day, or why not.

    Exit code 1 means that something was refused; the answer says what is missing. Amounts of a pesticide come only
    from a label card, typed from the label in hand.
    """
