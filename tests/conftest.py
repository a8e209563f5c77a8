"""Fixtures that several folders share: a real browser."""

from __future__ import annotations

import importlib.util
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest


def _module(name: str, path: Path) -> ModuleType:
    """A test helper loaded from its file: with importlib mode no test folder is on the path."""
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        if spec is None or spec.loader is None:
            raise ImportError(f"{path} cannot be loaded")
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """A running Chromium with the network off; skips where there is none, and fails where CI is true."""
    chromium = _module("longmile_tests_chromium", Path(__file__).parent / "reports" / "chromium.py")
    path = chromium.find_chromium()
    if path is None:
        names = ", ".join(chromium.NAMES)
        reason = f"no browser found: none of {names} on the PATH, nor what LONGMILE_CHROMIUM names"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    with chromium.Chromium(path) as running:
        yield running


@pytest.fixture(scope="session")
def invented_shop() -> ModuleType:
    """The invented shop's result frames (module with `frames()` and `empty_frames()`)."""
    return _module("longmile_tests_invented_shop", Path(__file__).parent / "reports" / "invented_shop.py")
