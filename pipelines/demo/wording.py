"""Concern, cause and correction for every order and line, put together from `phrases.py` by draws."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import polars as pl

from longmile.pipelines.demo import phrases
from longmile.pipelines.demo.plans import PLAN_CODES
from longmile.schemas.vocabulary import BY_CODE


def drawn(rng: np.random.Generator, choices: Sequence[str], n: int) -> pl.Series:
    """As many draws from the choices as asked for."""
    return pl.Series(np.array(choices, dtype=object)[rng.integers(0, len(choices), n)], dtype=pl.String)


def by_system(
    rng: np.random.Generator, codes: pl.Series, said: Mapping[str, tuple[str, ...]], general: tuple[str, ...]
) -> pl.Series:
    """For each component code one of what is said of it, or else of its system."""
    pools = [said.get(code, said.get(BY_CODE[code].system, general)) for code in PLAN_CODES]
    width = max(len(pool) for pool in pools)
    table = np.array([[pool[i % len(pool)] for i in range(width)] for pool in pools], dtype=object)
    row = codes.replace_strict({code: i for i, code in enumerate(PLAN_CODES)}, return_dtype=pl.Int64)
    return pl.Series(table[row.to_numpy(), rng.integers(0, width, len(codes))], dtype=pl.String)


def part_words(codes: pl.Series, positions: pl.Series) -> pl.Series:
    """Name of the component with its position, as a technician writes it."""
    names = codes.replace_strict({code: BY_CODE[code].name for code in PLAN_CODES}, return_dtype=pl.String)
    return names + (" " + positions).fill_null("")


def concerns(rng: np.random.Generator, codes: pl.Series) -> pl.Series:
    """What the customer said, given each order's main failed component; null codes are routine visits."""
    n = len(codes)
    known = codes.fill_null(PLAN_CODES[0])
    said = drawn(rng, phrases.OPENERS, n) + by_system(rng, known, phrases.SYMPTOMS, phrases.GENERAL_SYMPTOMS)
    said = said + drawn(rng, phrases.ENDINGS, n)
    return pl.select(pl.when(codes.is_null()).then(drawn(rng, phrases.ROUTINE, n)).otherwise(said)).to_series()


def causes(rng: np.random.Generator, codes: pl.Series, positions: pl.Series) -> pl.Series:
    """What the technician found."""
    found = by_system(rng, codes, phrases.FINDINGS, phrases.GENERAL_FINDINGS)
    return part_words(codes, positions) + " " + found + drawn(rng, phrases.FOUND_ENDINGS, len(codes))


def corrections(rng: np.random.Generator, codes: pl.Series, positions: pl.Series, is_repaired: pl.Series) -> pl.Series:
    """What the technician did."""
    n = len(codes)
    done = pl.select(
        pl.when(is_repaired).then(drawn(rng, phrases.REPAIRED, n)).otherwise(drawn(rng, phrases.REPLACED, n))
    ).to_series()
    return done + part_words(codes, positions) + drawn(rng, phrases.TAILS, n)
