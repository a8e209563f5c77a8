"""Proposals for shapes that nobody looked at who wrote the proposal: the share of columns right, unaided.

The shapes and their truth are in tests/shapes/fresh.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

HERE = Path(__file__).parent
MEASURED = 0.94
"""At first sight 408 of 433 were right, before anybody looked at what was wrong; the aim is 95 in 100."""


def _module(name: str, path: Path) -> ModuleType:
    """A module beside the tests, loaded once."""
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec is not None and spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


KNOWN = _module("longmile_tests_known", HERE / "test_propose_known.py")


@pytest.fixture(scope="module")
def whole():
    shapes = KNOWN.SHAPES.load_shapes(KNOWN.SHAPES.FRESH)
    return sum((KNOWN.agreed(shape) for shape in shapes), KNOWN.AGREEMENT.NOTHING)


def test_the_columns_never_looked_at_stay_as_right_as_measured(whole):
    assert whole.headers.n > 400
    assert whole.share >= MEASURED, f"{len(whole.headers.wrong)} of {whole.headers.n} wrong"


def test_no_personal_column_is_taken(whole):
    assert whole.personal == ()
