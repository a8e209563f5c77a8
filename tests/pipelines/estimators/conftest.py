"""Published life data and their answers; `tests/reference/life_data.json` names the source of each."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from longmile.pipelines.estimators.lives import Lives, lives

REFERENCE = Path(__file__).parents[2] / "reference"


def read_rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="session")
def expected() -> dict[str, Any]:
    return json.loads((REFERENCE / "life_data.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def life_data() -> Any:
    """Function name, failed(row), only(row) -> lives of a file with entry, exit, event."""

    def load(name: str, failed: Any = None, only: Any = None) -> Lives:
        rows = [row for row in read_rows(name) if only is None or only(row)]
        event = [failed(row) if failed else row["event"] == "1" for row in rows]
        return lives([float(row["entry"]) for row in rows], [float(row["exit"]) for row in rows], event)

    return load


@pytest.fixture(scope="session")
def wheels() -> Lives:
    """Turbine wheels: left 0 and a right end is a failure before the look; no right end is a sound wheel."""
    rows = read_rows("turbine_wheels")
    sound = np.array([row["right"] == "NA" for row in rows])
    left = np.array([float(row["left"]) for row in rows])
    right = np.array([0.0 if row["right"] == "NA" else float(row["right"]) for row in rows])
    return lives(
        np.zeros(len(rows)),
        np.where(sound, left, right),
        ~sound,
        weight=[float(row["count"]) for row in rows],
        left=np.where(sound, np.nan, left),
    )
