"""Confidence of the vocabulary's readings before a shop's own lines are known; from 1,207 invented lines.

Written by tests/pipelines/coding/fit_prior.py from the lines of tests/pipelines/coding/lines that are not held out, on
which the rules of this package were worked out too.
It is therefore too sure of lines that are new (tests/pipelines/coding/RESULTS.md says by how much). Once a shop has
lines of its own, the curve is fitted to those.
"""

from __future__ import annotations

import numpy as np

from longmile.pipelines.coding.calibration import Curve

PRIOR_THRESHOLD = 0.9395
"""Confidence from which on 97 of 100 of the invented lines were right."""

_SIGNS = (
    ("has_of", 0.07705, 0.26667, -0.29791),
    ("is_bare", 0.09611, 0.29474, -0.12111),
    ("is_context", 0.05717, 0.23216, -0.16447),
    ("is_done", 0.58989, 0.49185, -0.09924),
    ("is_empty", 0.00083, 0.02877, -0.16364),
    ("is_fee", 0.00994, 0.09921, 0.21882),
    ("is_implied", 0.0058, 0.07593, -0.0175),
    ("is_joined", 0.08782, 0.28303, -0.12601),
    ("is_long", 0.00166, 0.04067, -0.07294),
    ("is_negative", 0.10439, 0.30577, 0.0321),
    ("is_part", 0.10439, 0.30577, 0.03336),
    ("is_placed", 0.03894, 0.19345, -0.14338),
    ("is_slip", 0.19056, 0.39274, -0.17582),
    ("is_sublet", 0.01077, 0.10322, 0.29144),
    ("is_told_by_verb", 0.55427, 0.49705, 0.27275),
    ("is_usual", 0.04971, 0.21735, -0.28173),
    ("is_weak_status", 0.01491, 0.1212, -0.1142),
    ("length", 8.19304, 4.56601, -0.03807),
    ("n_charges", 0.11599, 0.34512, 0.18899),
    ("n_dropped", 0.09114, 0.31264, -0.62759),
    ("n_inspected", 0.07539, 0.2909, -0.1413),
    ("n_kept", 1.04143, 0.59404, -0.86298),
    ("n_later", 0.04888, 0.25764, -0.08931),
    ("n_loose_heads", 0.37117, 0.70371, -0.28639),
    ("n_named", 1.3662, 0.92204, 0.58469),
    ("n_open", 0.18061, 0.48731, -0.25585),
    ("n_others", 0.13587, 0.38587, -0.24934),
    ("n_unknown", 0.12013, 0.37923, -0.00263),
    ("n_untold", 0.84258, 1.13471, -0.18957),
    ("n_verbs", 1.1251, 0.83528, -0.16222),
    ("share_unknown", 0.01625, 0.05539, -0.18036),
    ("is_open", 0.06711, 0.25021, -0.79999),
    ("is_nothing", 0.06131, 0.2399, -0.39803),
)
"""Name of a sign, with its middle, its spread and its weight."""

_NUMBERS = np.array([[float(number) for number in numbers] for _, *numbers in _SIGNS])

PRIOR_CURVE = Curve(
    names=tuple(str(name) for name, *_ in _SIGNS),
    middle=_NUMBERS[:, 0],
    spread=_NUMBERS[:, 1],
    weights=_NUMBERS[:, 2],
    base=2.67885,
)
