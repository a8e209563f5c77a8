"""The readings of suspect vehicles settled: what is wrong with each, whether it is used, and as what.

The rule stands in `odometer_reading`; its parts in `odometer_chain`, `odometer_stretch`, `odometer_band` and
`odometer_slip`. Here they are put together; how what was found is named stands in `odometer_named`.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.steps.odometer_band import with_bands
from longmile.pipelines.steps.odometer_chain import Flags, agrees, histories, own_most
from longmile.pipelines.steps.odometer_named import CHANGED_COLUMNS, with_names
from longmile.pipelines.steps.odometer_slip import explained
from longmile.pipelines.steps.odometer_stretch import straightened
from longmile.schemas.units import KM_PER_MILE


def found_faults(readings: pl.DataFrame) -> pl.DataFrame:
    """The readings that are not used as written, with CHANGED_COLUMNS; those that a person fixed are left alone.

    readings: of suspect vehicles, those not left out from the start: vehicle_id, repair_order_id, which, read_on,
    odometer_written, written_unit, odometer_miles, is_fixed, usual (miles a day, empty where too little is known).
    """
    frame = _numbered(readings)
    frame = _with_corrections(_with_agreeing(_with_stretches(frame)))
    return with_names(frame).filter(~pl.col("is_fixed") & (pl.col("fault") != "none")).select(CHANGED_COLUMNS)


def _numbered(readings: pl.DataFrame) -> pl.DataFrame:
    """In order of vehicle and time, with numbers for vehicles, orders and days."""
    ordered = readings.sort("vehicle_id", "read_on", "odometer_miles", "repair_order_id", "which")
    return ordered.with_columns(
        vehicle_no=pl.col("vehicle_id").rle_id().cast(pl.Int64),
        order_no=pl.col("repair_order_id").rank("dense").cast(pl.Int64),
        day=pl.col("read_on").to_physical().cast(pl.Int64),
        is_out=pl.col("which") == "out",
        per_mile=pl.when(pl.col("written_unit") == "km").then(KM_PER_MILE).otherwise(1.0),
        usual=pl.col("usual").cast(pl.Float64).fill_null(np.nan),
    )


def _with_stretches(frame: pl.DataFrame) -> pl.DataFrame:
    """Whole stretches put right or left out; which readings are sure, and which may still be."""
    miles, factor, added = frame["odometer_miles"].to_numpy().copy(), np.ones(len(frame)), np.zeros(len(frame))
    is_sure, is_open = np.zeros(len(frame), dtype=bool), np.zeros(len(frame), dtype=bool)
    fault = np.full(len(frame), "none", dtype=object)
    for batch in histories(frame):
        found = straightened(batch)
        real, at = batch.is_real, batch.at[batch.is_real]
        miles[at], factor[at], added[at] = found.histories.miles[real], found.factor[real], found.added[real]
        is_sure[at], is_open[at] = found.chains.is_sure[real], found.histories.is_open[real]
        fault[at] = found.fault[real]
    stretch = pl.Series(fault, dtype=pl.String)
    return frame.with_columns(
        miles=miles, factor=factor, added=added, is_sure=is_sure, is_open=is_open, stretch=stretch
    )


def _with_agreeing(frame: pl.DataFrame) -> pl.DataFrame:
    """Of readings that could stand in each other's place, those that lie where they should are sure."""
    is_between = pl.col("miles").is_between("low", "high").fill_null(False)
    fits = with_bands(frame).select(~pl.col("is_sure") & pl.col("is_open") & is_between).to_series()
    return frame.with_columns(is_sure=frame["is_sure"] | pl.Series(_without_conflicts(frame, fits.to_numpy())))


def _with_corrections(frame: pl.DataFrame) -> pl.DataFrame:
    """Doubted readings corrected where one value explains them: is_corrected, and slip, what explains them."""
    bands = with_bands(frame)
    is_doubted = (~bands["is_sure"] & (bands["stretch"] != "cluster_replaced")).to_numpy()
    names = ("odometer_written", "per_mile", "factor", "added", "low", "high")
    found = explained(*(bands.filter(is_doubted)[name].fill_null(np.nan).to_numpy() for name in names))
    value, slip = np.full(len(frame), np.nan), np.full(len(frame), "none", dtype=object)
    value[is_doubted], slip[is_doubted] = found.miles, found.fault
    corrected = bands.with_columns(
        miles=np.where(np.isnan(value), frame["miles"].to_numpy(), value), slip=pl.Series(slip, dtype=pl.String)
    )
    return corrected.with_columns(is_corrected=pl.Series(_without_conflicts(corrected, ~np.isnan(value))))


def _without_conflicts(frame: pl.DataFrame, added: Flags) -> Flags:
    """Of the readings to be added to the sure ones, those that contradict no neighbour."""
    sure, added = frame["is_sure"].to_numpy(), added.copy()
    vehicle, day, miles, order, is_out = (
        frame[name].to_numpy() for name in ("vehicle_no", "day", "miles", "order_no", "is_out")
    )
    own = own_most(frame["usual"].to_numpy())
    while True:
        used = np.flatnonzero(sure | added)
        used = used[np.lexsort((miles[used], day[used], vehicle[used]))]
        a, b = used[:-1], used[1:]
        wrong = ~agrees(miles[b] - miles[a], day[b] - day[a], own[b], (order[a] == order[b]) & is_out[a])
        wrong &= (vehicle[a] == vehicle[b]) & (added[a] | added[b])
        if not wrong.any():
            return added
        added[a[wrong]] = added[b[wrong]] = False
