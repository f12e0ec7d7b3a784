"""`dooryard demo`: the invented county written out, and one of its yards planned in every form."""

from __future__ import annotations

from pathlib import Path

import click

from dooryard.cli.output import FINE, cannot_write, say, told_plainly, write_all


@click.command("demo", short_help="The invented demo county and one plan.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("dooryard-demo"),
    show_default=True,
    help="Folder to write the demo into.",
)
@told_plainly
def command(out: Path) -> int:
    """Write the invented demo county and one yard's plan in every form, and print the plan.

    Quillfeather County, its stations, its weather and its households do not exist. The weather comes from
    the program's own generator with a fixed seed.
    """
    from dooryard.cli.shared import forms
    from dooryard.demo import county, households
    from dooryard.letter import screen
    from dooryard.plan.files import plan_from_files

    try:
        county.write(out)
        households.write(out)
    except OSError as error:
        raise cannot_write(out, error) from error
    yard = out / households.SHOWN_YARD
    plan = plan_from_files(yard, weather=None, forecast=out / households.FORECAST, on=households.MADE_ON)
    document = plan.document()
    written = write_all(out, forms(document, yard.stem))
    say(screen.render(document).rstrip("\n"))
    say("")
    say("The demo county is written. Open these:")
    for path in written:
        say(f"  {path}")
    say("Then try:")
    for line in (
        f"dooryard plan {yard} --on {households.MADE_ON} --why",
        f"dooryard weather {out / 'stations' / 'creek-bottom.csv'}",
        f"dooryard check {out / households.FAULTY_YARD}",
    ):
        say(f"  {line}")
    return FINE
