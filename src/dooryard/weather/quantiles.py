"""Percentile points of several values, all alike or weighted, by one definition."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from dooryard.weather.record import Floats


def quantiles(values: Floats, shares: Sequence[float]) -> Floats:
    """Points below which the given shares of the known values lie, over the first axis; shape (shares, ...).

    values : (M, ...); NaN is left out, and where nothing is known the points are NaN. The smallest value is the point
    for 0 and the largest for 1, with straight lines between neighbours (definition 7 of Hyndman and Fan 1996).
    """
    ranked = np.sort(values, axis=0)  # NaN last
    known = (~np.isnan(values)).sum(axis=0)
    points = []
    for share in shares:
        place = np.maximum(known - 1, 0) * share
        below = np.floor(place).astype(int)
        above = np.minimum(below + 1, np.maximum(known - 1, 0))
        low, high = (np.take_along_axis(ranked, row[None], axis=0)[0] for row in (below, above))
        points.append(low + (high - low) * (place - below))
    return np.array(points)


def weighted_quantiles(values: Floats, weights: Floats, shares: Sequence[float]) -> Floats:
    """As `quantiles`, but each member counts by its weight; with all weights alike the points are the same.

    values : (M, ...) without NaN; weights : (M,), above 0. Two neighbours lie as far apart in share as the mean of
    their weights says.
    """
    flat = values.reshape(len(values), -1)
    order = np.argsort(flat, axis=0, kind="stable")
    ranked, ranked_weights = np.take_along_axis(flat, order, axis=0), weights[order]
    steps = (ranked_weights[1:] + ranked_weights[:-1]) / 2
    place = np.concatenate([np.zeros((1, flat.shape[1])), np.cumsum(steps, axis=0)])
    if len(values) > 1:
        place /= place[-1]
    points = np.array(
        [np.interp(shares, place[:, column], ranked[:, column]) for column in range(flat.shape[1])]
    )
    return points.T.reshape(len(shares), *values.shape[1:])
