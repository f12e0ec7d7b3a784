"""`dooryard demo`: the invented county written out, and one of its yards planned in every form."""

from __future__ import annotations

from pathlib import Path

import click

from dooryard.cli.output import FINE, say, told_plainly


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
    from dooryard.cli.output import write_all
    from dooryard.cli.plan import forms
    from dooryard.demo import county
    from dooryard.letter import screen
    from dooryard.plan.files import plan_from_files

    inputs = county.files()
    for folder in sorted({str(Path(name).parent) for name in inputs}):
        write_all(
            out / folder,
            {
                Path(name).name: content
                for name, content in inputs.items()
                if str(Path(name).parent) == folder
            },
        )
    yard = out / county.SHOWN_YARD
    plan = plan_from_files(yard, weather=None, forecast=out / county.FORECAST, on=county.MADE_ON)
    document = plan.document()
    written = write_all(out, forms(document, yard.stem))
    say(screen.render(document).rstrip("\n"))
    say("")
    say("The demo county is written. Open these:")
    for path in written:
        say(f"  {path}")
    say("Then try:")
    for line in (
        f"dooryard plan {yard} --on {county.MADE_ON} --why",
        f"dooryard weather {out / 'stations' / 'creek-bottom.csv'}",
        f"dooryard check {out / county.FAULTY_YARD}",
    ):
        say(f"  {line}")
    return FINE
