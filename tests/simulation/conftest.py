"""The parts of the simulation, loaded from this folder: with importlib mode no test folder is on the path."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest


def _loaded(*names: str) -> list[ModuleType]:
    """Modules of this folder, which import each other by bare name; the path is put back as it was."""
    sys.path.insert(0, str(Path(__file__).parent))
    try:
        return [importlib.import_module(name) for name in names]
    finally:
        sys.path.pop(0)


@pytest.fixture(scope="session")
def simulation() -> SimpleNamespace:
    """`shops` (the generator), `cases`, `methods`, `coverage` and `odometers` (histories with slips)."""
    parts = _loaded("shop_generator", "coverage_cases", "coverage_methods", "shop_coverage", "odometer_slips")
    return SimpleNamespace(**dict(zip(("shops", "cases", "methods", "coverage", "odometers"), parts, strict=True)))
