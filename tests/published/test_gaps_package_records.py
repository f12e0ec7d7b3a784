"""Gaps cut into real counties' records that a registry package ships, filled from the county beside them.

What is held is only what must be so of any sound estimate: nearer than a guess, about as wrong as foretold, rain
totals not moved, and nothing at all from far away.
"""

import numpy as np
import pytest

from dooryard import weather
from dooryard.weather import fill
from dooryard.weather.neighbours import relate
from dooryard.weather.record import CORE
from tests.published.test_weather_package_records import climate_as_plain_csv


@pytest.fixture(scope="module")
def counties(tmp_path_factory):
    folder = tmp_path_factory.mktemp("counties")
    names = ("norfolk", "suffolk", "hyderabad")
    return {name: weather.read(climate_as_plain_csv(name, folder)) for name in names}


@pytest.mark.parametrize("element", CORE)
def test_county_beside_tells_better_than_a_guess_and_keeps_the_total(counties, element):
    relation = relate(counties["norfolk"], counties["suffolk"], element, 0.05)
    known = ~np.isnan(relation.error)
    assert relation.lag_d == 0
    assert known.sum() > 11_000
    error, guess = relation.error[known], relation.guess_error[known]
    assert np.abs(error).mean() < 0.5 * np.abs(guess).mean()
    truth = counties["norfolk"].element(element)[known]
    assert (truth + error).sum() == pytest.approx(truth.sum(), rel=0.03)


def test_gaps_cut_into_a_county_are_filled_about_as_wrongly_as_foretold(counties, tmp_path):
    """Ten days out of every hundred, cut from the file itself, so that nothing of them can be known."""
    header, *days = climate_as_plain_csv("norfolk", tmp_path).read_text().splitlines()
    kept = [header, *(line for row, line in enumerate(days) if row % 100 < 90)]
    path = tmp_path / "cut.csv"
    path.write_text("\n".join(kept) + "\n")
    truth = counties["norfolk"]
    for element, stretches in _filled(fill.plan(weather.read(path), [counties["suffolk"]])).items():
        errors, foretold, totals = [], [], []
        for stretch in stretches:
            at = truth.position(stretch.first)
            error = np.array(stretch.values) - truth.element(element)[at : at + stretch.days]
            errors.append(np.abs(error).mean())
            foretold.append(stretch.daily_error)
            totals.append((abs(error.sum()), stretch.sum_error))
        assert len(errors) >= 80
        assert np.mean(errors) == pytest.approx(np.mean(foretold), rel=0.25)
        found, told = np.mean(totals, axis=0)
        assert found == pytest.approx(told, rel=0.35)


def test_county_of_another_continent_is_used_for_nothing(counties, tmp_path):
    lines = climate_as_plain_csv("norfolk", tmp_path).read_text().splitlines()
    path = tmp_path / "cut.csv"
    path.write_text("\n".join(lines[:4000] + lines[4010:]) + "\n")
    plan = fill.plan(weather.read(path), [counties["hyderabad"]])
    assert plan.filled == ()
    assert len(plan.left) == 3


def _filled(plan):
    return {element: [s for s in plan.filled if s.element == element] for element in CORE}
