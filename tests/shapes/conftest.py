"""The modules beside the tests: with importlib mode no test folder is on the path."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

HERE = Path(__file__).parent


def _module(stem: str) -> ModuleType:
    name = f"longmile_tests_{stem}"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, HERE / f"{stem}.py")
        if spec is None or spec.loader is None:
            raise ImportError(f"{stem}.py cannot be loaded")
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


@pytest.fixture(scope="session")
def shapes() -> ModuleType:
    """The loader of the shapes."""
    return _module("shapes")


@pytest.fixture(scope="session")
def plain() -> ModuleType:
    """The plain reading."""
    return _module("plain_reading")
