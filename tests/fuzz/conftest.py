"""The parts of this folder, loaded from it: with importlib mode no test folder is on the path."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def fuzz() -> dict[str, ModuleType]:
    """Modules of this folder by name, which import each other by bare name; the path is put back as it was."""
    sys.path.insert(0, str(Path(__file__).parent))
    try:
        return {name: importlib.import_module(name) for name in ("sound_files", "mutations", "judged", "mutated_files")}
    finally:
        sys.path.pop(0)
