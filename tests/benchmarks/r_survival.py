"""R's survival package, if there is an R: one process that does every round and times itself, start-up left out."""

from __future__ import annotations

import csv
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from measure import ROUNDS
from peers import Fitted, Points
from simulated import Rows

SCRIPT = Path(__file__).with_name("r_survival.R")


@dataclass(frozen=True)
class FromR:
    """Answers per stratum (None where R raised) and median seconds for all of them.

    seconds: `curves` and `weibull` stratum by stratum, `curves_together` in one call.
    """

    name: str
    seconds: dict[str, float]
    curves: list[Points | None]
    fits: list[Fitted | None]


def from_r(rows: Rows) -> FromR | None:
    """What R says of the rows; None where R or its survival package is missing."""
    program = shutil.which("Rscript")
    if program is None:
        return None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        _write(rows, place / "rows.csv")
        done = subprocess.run(
            [program, "--vanilla", str(SCRIPT), folder, str(ROUNDS)],
            capture_output=True,
            text=True,
            check=False,
        )
        if "there is no package called" in done.stderr:
            return None
        if done.returncode:
            raise SystemExit(f"R stopped: {done.stderr}")
        return _read(rows.n_strata, place)


def _write(rows: Rows, path: Path) -> None:
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["stratum", "entry", "exit", "event"])
        columns = (rows.stratum, rows.entry, rows.exit_, rows.event.astype(int))
        writer.writerows(zip(*(column.tolist() for column in columns), strict=True))


def _read(n_strata: int, folder: Path) -> FromR:
    def table(name: str) -> list[dict[str, str]]:
        with (folder / f"{name}.csv").open(newline="", encoding="utf-8") as file:
            return list(csv.DictReader(file))

    curves: list[Points | None] = [None] * n_strata
    points = table("curves")
    names = ("stratum", "t", "survival", "lower", "upper", "hazard")
    columns = {name: np.array([_number(row[name]) for row in points]) for name in names}
    for code in np.unique(columns["stratum"]).astype(int):
        of = columns["stratum"] == code
        curves[code] = Points(*(columns[name][of] for name in names[1:]))
    fits: list[Fitted | None] = [None] * n_strata
    for row in table("fits"):
        fits[int(row["stratum"])] = Fitted(*(_number(row[name]) for name in ("shape", "scale", "se")))
    version = table("versions")[0]
    seconds = {row["act"]: float(row["seconds"]) for row in table("seconds")}
    return FromR(f"R {version['r']} survival {version['survival']}", seconds, curves, fits)


def _number(text: str) -> float:
    """R writes a missing number as NA."""
    return float("nan") if text == "NA" else float(text)
