"""ruff and mypy, as part of the one test command."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("arguments", [("check",), ("format", "--check")])
def test_ruff(arguments: tuple[str, ...]):
    command = [
        sys.executable,
        "-m",
        "ruff",
        *arguments,
        "--no-cache",
        "schemas",
        "pipelines",
        "reports",
        "tests",
    ]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_mypy(tmp_path: Path):
    """On a copy laid out as in the wheel, since mypy cannot see the mapping of an editable install."""
    package = tmp_path / "longmile"
    for folder in ("schemas", "pipelines", "reports"):
        shutil.copytree(ROOT / folder, package / folder, ignore=shutil.ignore_patterns("__pycache__"))
    command = [
        sys.executable,
        "-m",
        "mypy",
        "--config-file",
        str(ROOT / "pyproject.toml"),
        "--namespace-packages",
        "--explicit-package-bases",
        "--cache-dir",
        str(tmp_path / "cache"),
        "longmile",
    ]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-5000:] + done.stderr
