"""The parameters of one station's generator, and their plain form for a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from dooryard.problem import InputError, Problem
from dooryard.weather.invented.amounts import Amounts
from dooryard.weather.invented.occurrence import CLASS_STARTS, Occurrence
from dooryard.weather.invented.residuals import ABOUT, Element, Residuals
from dooryard.weather.invented.slow import Slow
from dooryard.weather.record import ELEMENTS, Floats

GENERATED = tuple(name for name in ELEMENTS if name in ("t_max_c", "t_min_c", "dew_point_c", "solar_mj_m2"))
FORM = "dooryard-generator-1"


@dataclass(frozen=True, slots=True, eq=False)
class Parameters:
    """Everything `make` needs.

    least_mm : rain of a day from which it counts as wet [mm].
    least_range_c : least difference of highest and lowest temperature of a day [degC].
    occurrence, amounts, residuals, slow : see their modules. `residuals` may hold no element (rain only).
    """

    least_mm: float
    least_range_c: float
    occurrence: Occurrence
    amounts: Amounts
    residuals: Residuals
    slow: Slow

    def plain(self) -> dict[str, Any]:
        """The parameters as numbers, lists and names: what a JSON or TOML file can hold."""
        return {
            "form": FORM,
            "least_mm": self.least_mm,
            "least_range_c": self.least_range_c,
            "occurrence": _plain(self.occurrence),
            "amounts": _plain(self.amounts),
            "slow": _plain(self.slow),
            "residuals": {
                "elements": [_plain(element) for element in self.residuals.elements],
                **{name: getattr(self.residuals, name).tolist() for name in _MATRICES},
            },
        }


def from_plain(given: Mapping[str, Any]) -> Parameters:
    """Parameters from their plain form. InputError lists everything that is wrong with it."""
    problems: list[Problem] = []
    if given.get("form") != FORM:
        problems.append(
            Problem("These are not the generator's parameters.", f'Give form = "{FORM}".', field="form")
        )
        raise InputError(problems)
    occurrence = _read(given, "occurrence", _OCCURRENCE, problems)
    amounts = _read(given, "amounts", _AMOUNTS, problems)
    slow = _read(given, "slow", _SLOW, problems)
    joined = given.get("residuals", {})
    matrices = _read({"residuals": joined}, "residuals", _MATRICES, problems)
    elements = tuple(
        _element(row, f"residuals.elements[{at}]", problems)
        for at, row in enumerate(joined.get("elements", ()))
    )
    top = _read({"": given}, "", {"least_mm": (), "least_range_c": ()}, problems)
    if problems:
        raise InputError(problems)
    whole = Parameters(
        least_mm=float(top["least_mm"]),
        least_range_c=float(top["least_range_c"]),
        occurrence=Occurrence(*(occurrence[name] for name in _OCCURRENCE)),
        amounts=Amounts(
            amounts["log_mean"], float(amounts["after_wet"]), amounts["share"], amounts["lesser"]
        ),
        residuals=Residuals(
            tuple(element for element in elements if element is not None),
            *(
                matrices[name].reshape(*((12,) if shape == (3,) else ()), len(elements), len(elements))
                for name, shape in _MATRICES.items()
            ),
        ),
        slow=Slow(*(float(slow[name]) for name in _SLOW)),
    )
    problems = faults(whole)
    if problems:
        raise InputError(problems)
    return whole


def faults(parameters: Parameters) -> list[Problem]:
    """What in these parameters can make no weather; empty if all is well."""
    found = []

    def unless(sound: bool, what: str, instead: str, field: str) -> None:
        if not sound:
            found.append(Problem(what, instead, field=field))

    amounts, joined = parameters.amounts, parameters.residuals
    unless(parameters.least_mm > 0, "The least rain of a wet day must be above 0.", "", "least_mm")
    unless(
        bool(np.all((amounts.share > 0) & (amounts.share < 1))),
        "A chance lies between 0 and 1.",
        "Write 0.3 for 30 %.",
        "amounts.share",
    )
    unless(
        bool(np.all((amounts.lesser > 0) & (amounts.lesser <= 1))),
        "The lesser mean is a part of the whole: above 0, at most 1.",
        "",
        "amounts.lesser",
    )
    names = [element.name for element in joined.elements]
    unless(
        all(name in GENERATED for name in names) and len(set(names)) == len(names),
        "An element is unknown or stands twice.",
        f"Use each of these once at most: {', '.join(GENERATED)}.",
        "residuals.elements",
    )
    unless(
        "t_max_c" in names or not names,
        "Without the highest temperature only rain can be generated.",
        "Give t_max_c and t_min_c, or no element.",
        "residuals.elements",
    )
    slow = parameters.slow
    unless(
        min(slow.wet_month, slow.wet_year, slow.amount_month, slow.amount_year) >= 0,
        "A standard deviation is not below 0.",
        "",
        "slow",
    )
    if names and not found:
        try:
            a, _ = joined.matrices()
            stable = bool(np.abs(np.linalg.eigvals(a)).max() < 1)
        except np.linalg.LinAlgError:
            stable = False
        unless(
            stable,
            "These correlations belong to no weather: the residuals would grow without end.",
            "Check m0 and m1, and that monthly and yearly are parts of them.",
            "residuals",
        )
    return found


# Names in the order of the classes' fields, with the shape each must have: () a number, (0,) a list of odd
# length, (12,) one per month, (-1,) up to five steps, (-5,) a curve for each day about a day, (2,) a square
# table of the elements' number, (3,) twelve of them.
_OCCURRENCE = {"after_dry": (0,), "after_wet": (0,), "dry_steps": (-1,), "wet_steps": (-1,)}
_AMOUNTS = {"log_mean": (0,), "after_wet": (), "share": (12,), "lesser": (12,)}
_SLOW = {"wet_month": (), "wet_year": (), "amount_month": (), "amount_year": ()}
_MATRICES = {"m0": (3,), "m1": (3,), "monthly": (3,), "yearly": (2,)}
_ELEMENT = {
    "dry": (0,),
    "wet_change": (-5,),
    "log_variance": (0,),
    "wet_log_variance": (),
}


def _element(row: Mapping[str, Any], place: str, problems: list[Problem]) -> Element | None:
    before = len(problems)
    name = row.get("name")
    numbers = _read({place: row}, place, _ELEMENT, problems)
    most = (
        _read({place: row}, place, {"most": (0,)}, problems)["most"] if row.get("most") is not None else None
    )
    if not isinstance(name, str):
        problems.append(Problem("The element has no name.", "Give its name.", field=f"{place}.name"))
    if len(problems) > before:
        return None
    return Element(
        str(name),
        numbers["dry"],
        numbers["wet_change"],
        numbers["log_variance"],
        float(numbers["wet_log_variance"]),
        most,
    )


def _read(
    given: Mapping[str, Any], part: str, shapes: Mapping[str, tuple[int, ...]], problems: list[Problem]
) -> dict[str, Floats]:
    """The numbers of one part, each held to its shape; every fault goes to `problems`."""
    rows = given.get(part)
    read: dict[str, Floats] = {}
    for name, shape in shapes.items():
        field = f"{part}.{name}".lstrip(".")
        try:
            numbers = np.asarray(rows[name] if rows is not None else None, dtype=np.float64)
        except (KeyError, TypeError, ValueError):
            numbers = np.array(np.nan)
        square = part == "residuals"
        size = len(rows.get("elements", ())) if square and rows is not None else 0
        fits = {
            (): numbers.ndim == 0,
            (0,): numbers.ndim == 1 and numbers.size % 2 == 1,
            (-1,): numbers.ndim == 1 and numbers.size < len(CLASS_STARTS),
            (-5,): numbers.ndim == 2 and len(numbers) == ABOUT and numbers.shape[1] % 2 == 1,
            (12,): numbers.shape == (12,),
            (2,): numbers.shape == (size, size) or (size == 0 and numbers.size == 0),
            (3,): numbers.shape == (12, size, size) or (size == 0 and numbers.size == 0),
        }[shape]
        if not fits or not np.isfinite(numbers).all():
            wanted = {
                (): "one number",
                (0,): "an odd count of numbers: level, then cosine and sine of each harmonic",
                (-1,): f"at most {len(CLASS_STARTS) - 1} numbers",
                (
                    -5,
                ): f"{ABOUT} curves, for the days from two before to two after, each an odd count of numbers",
                (12,): "twelve numbers, January first",
                (2,): f"{size} rows of {size} numbers",
                (3,): f"twelve tables of {size} rows of {size} numbers, January first",
            }[shape]
            problems.append(Problem("This is missing or has the wrong form.", f"Give {wanted}.", field=field))
        read[name] = numbers
    return read


def _plain(part: Occurrence | Amounts | Slow | Element) -> dict[str, Any]:
    values = {field.name: getattr(part, field.name) for field in fields(part)}
    return {
        name: held.tolist() if isinstance(held, np.ndarray) else held
        for name, held in values.items()
        if held is not None
    }
