"""Facts about how far the data can be trusted: vehicles and miles watched, rows kept, readings used."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from longmile.reports.frames import ResultFrames

USED_AS_END = ("failure", "removal", "same_job")


@dataclass(frozen=True)
class TrustFacts:
    """Counts that say what the estimates rest on."""

    n_vehicles: int
    n_from_new: int
    n_walk_once: int
    miles_watched: float
    n_files: int
    n_files_set_aside: int
    n_landed: int
    n_kept: int
    n_set_aside: int
    n_repeats: int
    share_set_aside: float | None
    n_lines: int
    n_lines_ending: int
    n_readings: int
    n_readings_left_out: int
    n_visits: int
    n_visits_by_date: int
    n_visits_unplaced: int
    n_rules: int
    n_rules_failed: int
    n_walk_ins: int
    n_walk_in_orders: int


def trust_facts(frames: ResultFrames) -> TrustFacts:
    """The counts, summed from the frames; 0 where a frame has no rows."""
    window, odometer = frames.vehicle_window_summary, frames.odometer_summary
    visits, part = frames.visit_basis_count, frames.source_part
    landed, set_aside = total(part, "n_landed"), total(part, "n_quarantined")
    rules = frames.check_result.group_by("rule").agg((pl.col("outcome") == "failed").any().alias("failed"))
    return TrustFacts(
        n_vehicles=total(window, "n_vehicles"),
        n_from_new=total(window, "n_from_new"),
        n_walk_once=total(window, "n_walk_once"),
        miles_watched=float(window["miles_watched"].sum() or 0),
        n_files=frames.source_file.height,
        n_files_set_aside=frames.source_file.filter(pl.col("status") == "set_aside").height,
        n_landed=landed,
        n_kept=total(part, "n_kept"),
        n_set_aside=set_aside,
        n_repeats=total(part, "n_repeats"),
        share_set_aside=set_aside / landed if landed else None,
        n_lines=total(frames.line_use_count, "n_lines"),
        n_lines_ending=total(frames.line_use_count.filter(pl.col("use").is_in(USED_AS_END)), "n_lines"),
        n_readings=total(odometer, "n_readings"),
        n_readings_left_out=total(odometer, "n_readings") - total(odometer, "n_used"),
        n_visits=total(visits, "n_visits"),
        n_visits_by_date=total(visits.filter(pl.col("basis") == "by_date"), "n_visits"),
        n_visits_unplaced=total(visits.filter(pl.col("basis") == "unplaced"), "n_visits"),
        n_rules=rules.height,
        n_rules_failed=rules.filter(pl.col("failed")).height,
        n_walk_ins=total(frames.walk_in_count, "n_walk_ins"),
        n_walk_in_orders=total(frames.walk_in_count, "n_orders"),
    )


def total(frame: pl.DataFrame, column: str) -> int:
    """Sum of a column of counts; 0 without rows."""
    return int(frame[column].sum() or 0)
