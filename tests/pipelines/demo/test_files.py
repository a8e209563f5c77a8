"""What lies in the inbox of the demo shop is what its truth says, to the row."""

from __future__ import annotations

import hashlib
import re
import zipfile
from pathlib import Path

import polars as pl
import pytest

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.shop import write_demo_shop
from longmile.pipelines.demo.truth import DemoTruth
from longmile.schemas.shop import TRADE_TABLES
from longmile.schemas.units import KM_PER_MILE
from longmile.schemas.vocabulary import BY_CODE, POSITION_SYNONYMS, socket_positions

Written = tuple[Path, DemoTruth]
Frames = dict[str, pl.DataFrame]
CONTRACTS = {table.name: table for table in TRADE_TABLES}


def _digests(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


def test_same_seed_gives_the_same_bytes_and_another_seed_other_ones(written: Written, tmp_path: Path) -> None:
    folder, truth = written
    again = write_demo_shop(tmp_path / "again")
    assert _digests(tmp_path / "again") == _digests(folder)
    assert again == truth
    other = write_demo_shop(tmp_path / "other", seed=8)
    assert other.n_lines != truth.n_lines
    assert _digests(tmp_path / "other") != _digests(folder)


def test_the_shop_is_of_the_stated_size(written: Written, tables: Frames) -> None:
    folder, truth = written
    assert tables["vehicle"].height == truth.n_vehicles == 4_000
    assert tables["engine_family"].height == 12
    assert tables["repair_line"].unique(["repair_order_id", "line_no"]).height == truth.n_lines >= 60_000
    assert tables["repair_order"].unique("repair_order_id").height == truth.n_orders
    assert sum(path.stat().st_size for path in folder.iterdir()) < 25_000_000
    opened = tables["repair_order"]["opened_on"].drop_nulls()
    assert (opened.min(), opened.max()) >= ("2018-01-01", "2025-12-01")
    assert str(opened.max()) <= "2025-12-31"


def test_every_file_is_accounted_for_with_its_table_and_rows(written: Written, tables: Frames) -> None:
    folder, truth = written
    assert {path.name for path in folder.iterdir()} == {*truth.files, *truth.set_aside_files}
    counted = pl.concat(frame.group_by("file").len() for frame in tables.values())
    assert dict(counted.iter_rows()) == {name: rows for name, (_, rows) in truth.files.items()}
    assert {name.rsplit(".", 1)[1] for name in truth.files} == {"csv", "xlsx", "jsonl", "parquet"}


@pytest.mark.parametrize("table", sorted(CONTRACTS))
def test_headers_are_those_of_the_neutral_layout(tables: Frames, table: str) -> None:
    headers = set(tables[table].columns) - {"file"}
    # The invented shop names the component on every line and says the rest in cause and correction.
    unused = {"description"} if table == "repair_line" else set()
    assert headers == {column.incoming for column in CONTRACTS[table].columns} - unused


def test_the_file_to_be_set_aside_cannot_be_opened(written: Written) -> None:
    folder, truth = written
    for name in truth.set_aside_files:
        assert (folder / name).stat().st_size > 0
        with pytest.raises(zipfile.BadZipFile):
            zipfile.ZipFile(folder / name)


def test_closed_lists_hold_but_for_the_counted_cells(written: Written, tables: Frames) -> None:
    _, truth = written
    for table, contract in CONTRACTS.items():
        for column in contract.columns:
            if column.allowed and column.name != "component_code":
                values = set(tables[table][column.incoming].drop_nulls()) - set(column.allowed)
                assert values <= ({"goodwill"} if (table, column.name) == ("repair_line", "kind") else set())
    kinds = tables["repair_line"]["kind"]
    assert (kinds == "goodwill").sum() == truth.dirt["bad_line_kind_not_listed"]
    assert kinds.is_null().sum() == truth.dirt["bad_line_kind_empty"]


def test_positions_exist_on_the_family_they_stand_for(tables: Frames) -> None:
    families = {
        name: tuple(int(n) for n in counts)
        for name, *counts in tables["engine_family"]
        .select("engine_family", "cylinders", "exhaust_valves_per_cylinder", "intake_valves_per_cylinder")
        .iter_rows()
    }
    owner = tables["repair_order"].select("repair_order_id", "vehicle_id").unique()
    rows = (
        tables["repair_line"].filter(pl.col("position").is_not_null())
        .join(owner, on="repair_order_id").join(tables["vehicle"], on="vehicle_id")
        .select("engine_family", "component_code", "position").drop_nulls().unique()
    )  # fmt: skip
    known = rows.filter(pl.col("component_code").is_in(list(BY_CODE)))
    assert known.height > 300
    for family, code, position in known.iter_rows():
        scheme = BY_CODE[code].sockets
        places = {*socket_positions(scheme, *families[family]), "all", *POSITION_SYNONYMS[scheme]}
        assert position in places, (family, code, position)


def test_unknown_codes_and_lost_lines_are_as_many_as_counted(written: Written, tables: Frames) -> None:
    _, truth = written
    lines = tables["repair_line"].unique(["repair_order_id", "line_no"])
    voids = tables["repair_order"].filter(pl.col("status") == "void")["repair_order_id"].unique()
    unknown = lines.filter(~pl.col("component_code").is_in(list(BY_CODE)))
    # Lines copied into void orders, and those that lost their order, repeat unknown codes of their originals.
    own = unknown.filter(
        ~pl.col("repair_order_id").is_in(voids.to_list()) & ~pl.col("repair_order_id").str.starts_with("X-")
    )
    assert own.height == truth.dirt["unknown_component_lines"]
    assert 0.01 < own.height / lines.height < 0.02
    lost = lines.join(tables["repair_order"], on="repair_order_id", how="anti")
    assert lost.height == truth.dirt["lines_without_order"] == 90


def test_bad_cells_are_as_many_as_counted(written: Written, tables: Frames) -> None:
    _, truth = written
    orders, lines = tables["repair_order"], tables["repair_line"]
    number = r"^-?\d+(\.\d+)?$"
    assert (~orders["odometer_in"].str.contains(number)).sum() == truth.dirt["bad_order_odometer_in_letters"] == 22
    assert orders["opened_on"].is_null().sum() == truth.dirt["bad_order_opened_on_empty"] == 14
    assert orders["opened_on"].str.ends_with("-02-30").sum() == truth.dirt["bad_order_opened_on_impossible_date"] == 16
    for column in ("quantity", "price"):
        bad = (~lines[column].drop_nulls().str.contains(number)).sum()
        assert bad == truth.dirt[f"bad_line_{column}_letters"] > 10
    assert tables["vehicle"]["engine_family"].is_null().sum() == truth.dirt["vehicles_without_family"]


def test_orders_exported_twice_voided_and_corrected_are_as_many_as_counted(written: Written, tables: Frames) -> None:
    _, truth = written
    orders = tables["repair_order"]
    void = orders.filter(pl.col("status") == "void")
    assert void.height == truth.dirt["void_orders"] == 180
    again = orders.filter(pl.col("file").str.contains("again"))
    assert again.height == truth.dirt["orders_in_reexport"]
    assert again["opened_on"].str.starts_with("2023-06").all()
    first = orders.filter(~pl.col("file").str.contains("again"))
    pairs = first.group_by("repair_order_id").agg(pl.len(), pl.col("file").n_unique().alias("files"))
    assert pairs.filter((pl.col("len") == 2) & (pl.col("files") == 2)).height == truth.dirt["orders_exported_twice"]
    assert pairs["len"].max() == 2
    # To the letter: without the file's name the two are one row.
    assert first.drop("file").unique().height == pairs.height
    joined = again.join(first, on="repair_order_id", suffix="_first")
    assert joined.filter(pl.col("total") != pl.col("total_first")).height == truth.dirt["orders_corrected"] == 12
    # The corrected month is read after the month it corrects: files are taken in order of name.
    assert sorted(set(joined["file_first"]) | set(joined["file"]))[-1] == joined["file"][0]


def test_odometers_run_forward_but_for_the_counted_slips(written: Written, tables: Frames) -> None:
    _, truth = written
    number = r"^\d+$"
    rows = (
        tables["repair_order"].filter(pl.col("status") != "void").unique("repair_order_id")
        .filter(pl.col("odometer_in").str.contains(number) & ~pl.col("opened_on").str.ends_with("-02-30"))
        .with_columns(miles=pl.col("odometer_in").cast(pl.Float64))
        .sort("vehicle_id", "opened_on", "miles")
        .with_columns(back=pl.col("miles") < pl.col("miles").shift(1).over("vehicle_id"))
    )  # fmt: skip
    # A digit too many makes the next reading run back; a rollback runs back itself.
    slips = truth.dirt["odometer_typos"] + truth.dirt["odometer_rollbacks"]
    assert slips == 135
    assert abs(int(rows["back"].sum()) - slips) <= 6  # two slips may fall on one pair; same-day visits may swap


def test_kilometres_are_written_where_the_vehicle_says_so(tables: Frames) -> None:
    units = tables["vehicle"]["odometer_unit"]
    assert 0.09 < (units == "km").mean() < 0.15
    said = tables["repair_order"].join(tables["vehicle"], on="vehicle_id", suffix="_vehicle")
    stated = said.filter(pl.col("odometer_unit").is_not_null())
    assert (stated["odometer_unit"] == stated["odometer_unit_vehicle"]).all()
    first = said.filter(pl.col("odometer_in").str.contains(r"^\d+$")).group_by("vehicle_id", "odometer_unit_vehicle")
    seen = first.agg(pl.col("odometer_in").cast(pl.Float64).min()).group_by("odometer_unit_vehicle")
    medians = dict(seen.agg(pl.col("odometer_in").median()).iter_rows())
    # Vehicles of both kinds are alike in miles: what is written differs by the conversion, give or take.
    assert abs(medians["km"] / medians["mi"] / KM_PER_MILE - 1) < 0.12


def test_text_holds_what_trips_careless_readers(tables: Frames) -> None:
    said = tables["repair_order"]["concern"].drop_nulls()
    assert said.str.contains("\n").any() and said.str.contains('"').any() and said.str.contains("é").any()
    assert (said == sc.HOSTILE_CONCERN).sum() == 1
    assert (said == sc.FORMULA_CONCERN).sum() == 1
    found = tables["repair_line"]["cause"].drop_nulls()
    windows = tables["repair_line"].filter(pl.col("file") == "repair_line_harbor_road_2020-2021.csv")["cause"]
    assert windows.str.contains("à surveiller").any()
    assert found.str.contains('"').any() and found.n_unique() > 500


def test_check_digits_of_vehicle_numbers_hold_and_no_maker_has_them(tables: Frames) -> None:
    # 49 CFR 565.15 (from memory): letter values A1 B2 ... H8, J1 ... N5, P7, R9, S2 ... Z9; weights as below.
    values = {str(n): n for n in range(10)} | dict(
        zip(
            "ABCDEFGHJKLMNPRSTUVWXYZ",
            (1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9),
            strict=True,
        )
    )
    weights = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
    vins = tables["vehicle"]["vin"]
    assert vins.n_unique() == vins.len() and vins.str.starts_with("A0D").all()
    for vin in vins.head(300):
        rest = sum(values[sign] * weight for sign, weight in zip(vin, weights, strict=True)) % 11
        assert vin[8] == ("X" if rest == 10 else str(rest))


def test_makes_models_and_suppliers_are_the_invented_ones(tables: Frames) -> None:
    assert set(tables["vehicle"]["make"]) == set(sc.MAKES)
    assert set(tables["vehicle"]["model"]) == set(sc.MODELS)
    assert set(tables["repair_line"]["supplier"].drop_nulls()) == {*sc.SUPPLIERS, *sc.SUBLET_SHOPS}
    technicians = set(tables["repair_line"]["technician"].drop_nulls())
    assert all(re.fullmatch(r"T\d", who) for who in technicians)
