"""The command group: what `dooryard` can do, one line each."""

from __future__ import annotations

import click

from dooryard import __version__
from dooryard.cli.lazy import LazyGroup

COMMANDS = {
    "plan": "One yard's dated plan: what to look at, do, wait for and ask.",
    "water": "All of a yard's water as one report, from roof to root.",
    "storm": "What to let out of the barrels before a forecast storm.",
    "build": "How to build the barrels: drawing, hole template, parts, steps.",
    "kit": "What a workshop of so many barrels buys, brings and does.",
    "frost": "Cold nights: tonight's odds, first and last ones, and the soil.",
    "check": "Check a yard file and list everything that needs mending.",
    "season": "What time of year it really is, for any pest or plant.",
    "look": "What may be wrong with a plant, and what to look at next.",
    "letter": "The answer to a household's question, and a review of it.",
    "work": "Sums of plant care: mulch, plugs, wounds, mixtures, days to treat.",
    "knowledge": "The tables of facts, who says so, and your own county's.",
    "weather": "What a station's weather record holds, and what is wrong with it.",
    "demo": "Write the invented demo county and one yard's plan in every form.",
}


@click.group(
    cls=LazyGroup,
    table=COMMANDS,
    package="dooryard.cli",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
)
@click.version_option(__version__, prog_name="dooryard")
def dooryard() -> None:
    """Turn a yard, its weather record and sourced knowledge into one dated, safe plan.

    Start with "dooryard demo". Exit codes: 0 all well, 1 done but something needs a person, 2 the input
    cannot be used.
    """
