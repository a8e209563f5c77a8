"""What happens when the same orders come again, and what was known when."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from longmile.pipelines.errors import CheckStoppedError

ORDER = "repair_order_id,vehicle_id,opened_on,odometer_in"
LINE = "repair_order_id,line_no,kind,component_code,action,reason"


def base(shop):
    shop.write("a1_engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("a2_vehicle.csv", "vehicle_id,engine_family", [("1", "Elm"), ("2", "Elm")])
    orders = [("A", "1", "2020-01-01", 10_000), ("B", "1", "2021-01-01", 20_000), ("C", "1", "2022-01-01", 30_000)]
    shop.write("a3_repair_order.csv", ORDER, orders)
    lines = [
        ("B", 1, "labor", "water_pump", "replaced", "failed"),
        ("B", 2, "labor", "alternator", "replaced", "failed"),
    ]
    shop.write("a4_repair_line.csv", LINE, lines)


def part(shop, name: str) -> tuple:
    return shop.query(
        "SELECT n_landed, n_kept, n_quarantined, n_repeats, n_replaced, n_withdrawn FROM source_part JOIN source_file "
        "USING (file_id) WHERE file_name = ?",
        name,
    )[0]


def test_a_changed_export_replaces_and_withdraws_and_keeps_the_earlier_version(shop):
    base(shop)
    shop.run()
    # Order B again: line 1 changed, line 2 gone, line 3 new.
    shop.write(
        "b_repair_line.csv",
        LINE,
        [("B", 1, "labor", "water_pump", "replaced", "preventive"), ("B", 3, "labor", "starter", "replaced", "failed")],
    )
    shop.run()
    assert part(shop, "b_repair_line.csv") == (2, 2, 0, 0, 1, 1)
    standing = shop.query("SELECT line_no, reason FROM repair_line WHERE superseded_at IS NULL ORDER BY 1")
    assert standing == [(1, "preventive"), (3, "failed")]
    earlier = shop.query("SELECT line_no, reason FROM repair_line WHERE superseded_at IS NOT NULL ORDER BY 1")
    assert earlier == [(1, "failed"), (2, "failed")]


def test_lines_that_only_add_to_an_order_withdraw_nothing(shop):
    base(shop)
    shop.run()
    shop.write("b_repair_line.csv", LINE, [("B", 3, "labor", "starter", "replaced", "failed")])
    shop.run()
    assert part(shop, "b_repair_line.csv") == (1, 1, 0, 0, 0, 0)
    assert shop.query("SELECT count(*) FROM repair_line WHERE superseded_at IS NULL") == [(3,)]


def test_the_same_rows_in_another_file_are_repeats(shop):
    base(shop)
    lines = [
        ("B", 2, "labor", "alternator", "replaced", "failed"),
        ("B", 1, "labor", "water_pump", "replaced", "failed"),
    ]
    shop.write("b_repair_line.csv", LINE, lines)
    shop.run()
    assert part(shop, "b_repair_line.csv") == (2, 0, 0, 2, 0, 0)


def test_a_quarantined_row_of_a_re_export_leaves_the_earlier_version_standing(shop):
    base(shop)
    shop.run()
    lines = [
        ("B", 1, "labor", "water_pump", "replaced", "failed"),
        ("B", 2, "wages", "alternator", "replaced", "failed"),
    ]
    shop.write("b_repair_line.csv", LINE, lines)
    shop.run()
    assert part(shop, "b_repair_line.csv") == (2, 0, 1, 1, 0, 0)
    assert shop.query("SELECT count(*) FROM repair_line WHERE superseded_at IS NULL") == [(2,)]


def test_what_was_known_can_be_asked_for(shop):
    base(shop)
    shop.run()
    before_correction = shop.now
    first = shop.query("SELECT * FROM estimate ORDER BY ALL")
    shop.write("b_repair_line.csv", LINE, [("B", 1, "labor", "water_pump", "replaced", "preventive")])
    shop.run()
    assert shop.query("SELECT * FROM estimate ORDER BY ALL") != first
    shop.run(known_at=before_correction)
    assert shop.query("SELECT * FROM estimate ORDER BY ALL") == first


def test_a_second_run_with_nothing_new_changes_no_table_and_says_so(shop):
    base(shop)
    shop.run()
    before, file_time = shop.tables(), shop.workspace.store.stat().st_mtime_ns
    job = shop.run()
    assert job.is_up_to_date
    assert shop.tables() == before
    assert shop.workspace.store.stat().st_mtime_ns == file_time
    assert [s for s in shop.said if "seen before" in s]


def test_one_order_in_two_exports_counts_once(shop):
    base(shop)
    shop.write("b_repair_order.csv", ORDER, [("B", "1", "2021-01-01", 20_000)])
    shop.run()
    assert shop.query(
        "SELECT n_failures, miles_at_risk FROM estimate WHERE component_code = 'water_pump' AND "
        "engine_family = 'Elm' AND unit = 'socket'"
    ) == [(1, 20_000)]


def test_a_void_order_is_kept_and_used_for_nothing(shop):
    base(shop)
    shop.write("b_repair_order.csv", ORDER + ",status", [("D", "1", "2023-01-01", 40_000, "VOID")])
    shop.write("b_repair_line.csv", LINE, [("D", 1, "labor", "water_pump", "replaced", "failed")])
    shop.run()
    assert shop.query("SELECT use FROM line_use WHERE repair_order_id = 'D'") == [("void_order",)]
    assert shop.query("SELECT last_miles FROM vehicle_window WHERE vehicle_id = '1'") == [(30_000,)]


def test_as_of_and_known_are_two_different_things(shop):
    base(shop)
    shop.run(as_of=date(2020, 6, 1))
    assert shop.query("SELECT sum(last_miles - first_miles) FROM vehicle_window") == [(0,)]
    # Clock: one look a minute, the first at 0:01 for the start; so the four files landed at 0:02 to 0:05.
    shop.run(as_of=date(2022, 1, 1), known_at=datetime(2025, 6, 1, 0, 4))
    assert shop.query("SELECT count(*) FROM visit") == [(3,)]
    assert shop.query("SELECT count(*) FROM line_use") == [(0,)]


def test_where_no_order_was_known_the_run_stops_and_says_why(shop):
    base(shop)
    shop.run()
    with pytest.raises(CheckStoppedError, match="at least one repair order"):
        shop.run(known_at=datetime(2025, 6, 1, 0, 2))
