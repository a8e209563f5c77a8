"""Weibull laws of the invented parts, one per component and engine family, and draws from them."""

from __future__ import annotations

from math import gamma, log

import numpy as np

from longmile.pipelines.demo.plans import PLANS
from longmile.pipelines.demo.scenario import (
    CONTROL_FAMILY,
    FAMILIES,
    FAMILY_NAMES,
    PROTECTED,
    VALVE_FAMILY,
    VALVE_SCALE,
)
from longmile.pipelines.demo.vehicles import Flags, Floats

HAZARD_SPREAD = 0.10
"""Spread (of the logarithm) of the hazard from family to family."""


def family_scales(rng: np.random.Generator) -> Floats:
    """Weibull scales in miles, shape (components, families); the planted exhaust valves among them."""
    shapes = np.array([plan.shape for plan in PLANS])
    means = np.array([plan.mean_k for plan in PLANS]) * 1_000
    hazard = np.exp(HAZARD_SPREAD * rng.standard_normal((len(PLANS), len(FAMILIES))))
    base = means / np.array([gamma(1 + 1 / shape) for shape in shapes])
    scales: Floats = base[:, None] * hazard ** (-1 / shapes[:, None])
    codes = [plan.code for plan in PLANS]
    scales[codes.index("exhaust_valve"), FAMILY_NAMES.index(VALVE_FAMILY)] = VALVE_SCALE
    return np.round(scales, -2)


def weibull_mean(shape: float, scale: float) -> float:
    """Mean of a Weibull law: scale x Gamma(1 + 1/shape)."""
    return scale * gamma(1 + 1 / shape)


def weibull_b10(shape: float, scale: float) -> float:
    """Age by which one in ten has failed: scale x (-ln 0.9)^(1/shape)."""
    return scale * float((-log(0.9)) ** (1 / shape))


def draw_age(rng: np.random.Generator, shape: float, scale: Floats, survived: Floats) -> Floats:
    """Ages at failure of parts that have already reached the age `survived`."""
    hazard = (survived / scale) ** shape + rng.standard_exponential(np.shape(survived))
    ages: Floats = scale * hazard ** (1 / shape)
    return ages


def protected_rows(code: str, family: np.ndarray) -> Flags:
    """Whether each vehicle's sockets of this component belong to a stratum in which the truth must be met."""
    names = np.array([(code, name) in PROTECTED for name in FAMILY_NAMES])
    return np.asarray(names[family], dtype=bool)


def is_control_family(family: np.ndarray) -> Flags:
    """Whether each vehicle is of the control family."""
    return np.asarray(family == FAMILY_NAMES.index(CONTROL_FAMILY))
