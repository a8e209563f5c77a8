"""Expected replacements against the power series in many digits; the renewal equation."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from longmile.pipelines.errors import LivesError
from longmile.pipelines.estimators.renewal import expected_replacements

FILE = Path(__file__).parents[2] / "reference" / "held_shape_and_calculators.json"
ANSWERS = json.loads(FILE.read_text(encoding="utf-8"))["renewal"]


def test_published_values():
    rows = ANSWERS["rows"] + ANSWERS["far"]["rows"]
    found = expected_replacements([row["shape"] for row in rows], 1.0, [row["t_over_scale"] for row in rows])
    assert found == pytest.approx([row["M"] for row in rows], rel=1e-8)


# A constant rate renews nothing it had not before: one replacement per scale, however far out.
def test_a_constant_rate_gives_miles_over_scale():
    t = np.array([0.0, 1.0, 5e4, 3e5, 4e6])
    assert expected_replacements(1.0, 5e4, t) == pytest.approx(t / 5e4, rel=1e-9)


@pytest.mark.parametrize("shape", [0.4, 1.55, 3.3, 10.0])
def test_the_renewal_equation_holds_across_the_seams(shape):
    """M(t) = F(t) + integral of M(t - x) dF(x), stepping from the series over the grids, each t resting on the last."""
    # dF(x) = e^-y dy with y = x^shape, and y = z^4 to smooth both ends; Gauss-Legendre in z.
    points, weights = np.polynomial.legendre.leggauss(160)
    seam = min(12.0 ** (1 / shape), 3.0)
    for t in (0.5, seam * 1.001, *np.linspace(seam + 0.5, 10.2, 6)):
        top = min(t**shape, 40.0) ** 0.25
        z, w = (points + 1) * top / 2, weights * top / 2
        y = z**4
        before = expected_replacements(shape, 1.0, np.maximum(t - y ** (1 / shape), 0.0))
        right = -np.expm1(-(t**shape)) + np.sum(w * 4 * z**3 * np.exp(-y) * before)
        assert expected_replacements(shape, 1.0, t) == pytest.approx(right, rel=1e-6)


def test_it_lies_between_the_chance_of_a_failure_and_the_cumulative_hazard_of_a_wearing_part():
    # For a rising hazard (shape above 1) F <= M <= H: a renewed part is safer (Barlow & Proschan 1965, chapter 3).
    shape, t = np.meshgrid(np.linspace(1, 8, 15), np.linspace(0.05, 4, 20))
    found = expected_replacements(shape, 1.0, t)
    assert np.all(found >= -np.expm1(-(t**shape)) * (1 - 1e-9))
    assert np.all(found <= t**shape * (1 + 1e-9))


@settings(deadline=None, max_examples=30)
@given(shape=st.floats(0.3, 9.0), scale=st.floats(1e3, 1e6), share=st.floats(0.0, 3.0), turn=st.floats(0.1, 10.0))
def test_only_miles_over_scale_matter(shape, scale, share, turn):
    once = expected_replacements(shape, scale, share * scale)
    assert expected_replacements(shape, turn * scale, turn * share * scale) == pytest.approx(once, rel=1e-8, abs=1e-12)


def test_many_at_once_equal_one_by_one_and_keep_their_shape():
    shape, t = np.array([[0.6], [1.0], [2.2], [7.0]]), np.array([0.0, 0.4, 1.1, 6.0])
    found = expected_replacements(shape, 2.0, t)
    assert found.shape == (4, 4)
    singly = [[expected_replacements(k, 2.0, at).item() for at in t] for k in shape.ravel()]
    assert found == pytest.approx(np.array(singly), rel=1e-9)
    assert expected_replacements(np.zeros(0), 1.0, 1.0).size == 0


@pytest.mark.parametrize("asked", [(0.0, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, 1.0, -1.0), (np.nan, 1.0, 1.0)])
def test_what_cannot_be_is_refused(asked):
    with pytest.raises(LivesError):
        expected_replacements(*asked)
