"""The one way in: writes an invented two-location shop's export files into a folder, and says the truth."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.dirt import Dirt, make_dirty
from longmile.pipelines.demo.files import BROKEN_FILE, write_files
from longmile.pipelines.demo.simulation import Simulation, simulate
from longmile.pipelines.demo.tables import make_tables
from longmile.pipelines.demo.truth import DemoTruth, not_fitted, true_batch, true_laws, true_sublet

_PAPER_STREAM, _DIRT_STREAM = 101, 102


def write_demo_shop(folder: Path, seed: int = 7) -> DemoTruth:
    """What is true of the shop whose export files, in the neutral layout, are written into the folder.

    The same seed gives the same files, to the byte. The folder is made where there is none; files of the same
    names in it are overwritten, others left alone. Nothing else is written: the caller keeps the truth.
    """
    sim = simulate(seed)
    clean = make_tables(np.random.default_rng([seed, _PAPER_STREAM]), sim)
    dirt = make_dirty(np.random.default_rng([seed, _DIRT_STREAM]), clean)
    return _truth(seed, sim, dirt, write_files(folder, dirt))


def _truth(seed: int, sim: Simulation, dirt: Dirt, files: dict[str, tuple[str, int]]) -> DemoTruth:
    """The truth, gathered from the simulation and from what was done to its records."""
    laws = true_laws(sim)
    by_stratum = {(law.component_code, law.engine_family): law for law in laws}
    return DemoTruth(
        seed=seed,
        first_on=sc.FIRST_DAY,
        last_on=sc.LAST_DAY,
        n_vehicles=sc.N_VEHICLES,
        n_orders=len(dirt.tables.order),
        n_lines=len(dirt.tables.line),
        n_failures=int(sim.ends["is_failure"].sum()),
        n_walk_in_vehicles=int(sim.vehicles.is_walk_in.sum()),
        n_earlier_repairs=sim.n_earlier,
        n_repairs_elsewhere=sim.n_elsewhere,
        planted_valve=by_stratum["exhaust_valve", sc.VALVE_FAMILY],
        controls=tuple(by_stratum[code, sc.CONTROL_FAMILY] for code in sc.CONTROLS),
        batch=true_batch(sim),
        sublet=true_sublet(sim),
        laws=laws,
        not_fitted=not_fitted(),
        dirt=dict(dirt.counts),
        files=files,
        set_aside_files=(BROKEN_FILE,),
    )
