"""The labelled lines and a coder trained on those that are not held out, made once."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from longmile.pipelines.coding.coder import Coder


@pytest.fixture(scope="session")
def lines_module() -> ModuleType:
    """`written_lines.py` beside this file."""
    spec = importlib.util.spec_from_file_location("written_lines", Path(__file__).parent / "written_lines.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def coder(lines_module: ModuleType) -> Coder:
    """A coder that learned from the two thirds of the lines that are not held out."""
    return lines_module.trained_on(lines_module.written(is_held_out=False))
