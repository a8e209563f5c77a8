"""Facts of the data-quality page."""

from __future__ import annotations

import polars as pl
import pytest

from longmile.reports.quality import examples_text, quality


def test_broken_rules_come_first_with_where_and_examples(invented_shop):
    (table,) = quality(invented_shop.frames()).tables
    assert (table.table_name, table.n_checks, table.n_failed) == ("repair_order", 3, 1)
    first = table.checks[0]
    assert (first.rule, first.n_failed, first.failed_in) == (
        "repair_order.odometer_in.between",
        7,
        ("repair_order.csv",),
    )
    assert "odometer_in: (empty)" in first.examples


def test_a_rule_checked_on_two_files_is_one_row_with_both_counts(invented_shop):
    checks = invented_shop.frames().check_result
    again = checks.with_columns(pl.when(pl.col("file_id") == "f1").then(pl.lit("f9")).alias("file_id"))
    (table,) = quality(invented_shop.frames(check_result=pl.concat([checks, again]))).tables
    first = table.checks[0]
    assert (first.n_files, first.n_checked, first.n_failed) == (2, 1000, 14)
    assert first.failed_in == ("repair_order.csv", "f9")


def test_every_file_adds_up_and_one_that_does_not_is_counted(invented_shop):
    frames = invented_shop.frames()
    told = quality(frames)
    # 507 = 490 + 7 + 10
    assert (told.parts[0].difference, told.n_unreconciled) == (0, 0)
    off = frames.source_part.with_columns(n_kept=pl.lit(489, dtype=pl.Int64))
    told = quality(invented_shop.frames(source_part=off))
    assert (told.parts[0].difference, told.n_unreconciled) == (1, 1)


def test_quarantined_rows_are_shown_under_their_rule(invented_shop):
    (row,) = quality(invented_shop.frames()).quarantined
    ((where, why, raw),) = row.examples
    assert (row.n_rows, where) == (7, "repair_order.csv, row 18")
    assert "found -4" in why
    assert raw.endswith("[cut]")


@pytest.mark.parametrize(
    ("stored", "text"),
    [
        (None, ""),
        ('[{"a": 1}, {"a": null}]', "a: 1; a: (empty)"),
        ('[[148, "brakepad"], [406, null]]', "row 148: brakepad; row 406: (empty)"),
        ("[NaN]", "(empty)"),
        ("{broken", "{broken"),
        ('"word"', "word"),
    ],
)
def test_stored_examples_become_text(stored, text):
    assert examples_text(stored) == text
