import polars as pl
import pytest

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.neutral import match_table, to_contract_rows
from longmile.pipelines.sources.shape import RawTable, bad_lines_frame
from longmile.schemas.contract import Column, Table
from longmile.schemas.shop import TRADE_TABLES


def _raw(name, **columns):
    height = len(next(iter(columns.values())))
    rows = pl.DataFrame({"row_number": range(2, height + 2), **columns}, strict=False)
    return RawTable(name, rows, bad_lines_frame([]), height)


def _with(name, *headers):
    return _raw(name, **{header: ["1"] for header in headers})


CODES = ("repair_order_id", "code")
LINES = ("repair_order_id", "line_no", "kind")
ORDERS = ("repair_order_id", "vehicle_id", "opened_on", "odometer_in")


@pytest.mark.parametrize(
    ("name", "headers", "table"),
    [
        ("repair_line", LINES, "repair_line"),
        ("Repair Line-2024-05", LINES, "repair_line"),
        ("repair_order_2024", ORDERS, "repair_order"),
        ("repair_order", ORDERS, "repair_order"),
        ("Sheet1", LINES, "repair_line"),
        ("Sheet1", CODES, "trouble_code"),
        ("vehicles", CODES, "trouble_code"),
        ("export", (*ORDERS, "concern"), "repair_order"),
    ],
)
def test_table_is_found_by_name_else_by_headers(name, headers, table):
    assert match_table(_with(name, *headers), TRADE_TABLES).table.name == table


def test_the_longest_name_wins():
    short, long = (Table(name, "trade", "x", (Column("a", "text", "x"),)) for name in ("part", "part_sold"))
    assert match_table(_with("part_sold_2024", "a"), (short, long)).table is long


def test_headers_are_compared_without_case_spaces_and_hyphens():
    match = match_table(
        _raw(
            "repair_line",
            **{" Repair Order-ID": ["1"], "LINE NO": ["2"], "Kind": ["part"], "Cost": ["5"], "x": [""]},
        ),
        TRADE_TABLES,
    )
    assert match.columns == {
        "repair_order_id": " Repair Order-ID",
        "line_no": "LINE NO",
        "kind": "Kind",
        "cost_cents": "Cost",
    }
    assert match.ignored_headers == ("x",)
    assert "price_cents" in match.absent
    assert len(match.absent) + len(match.columns) == len(match.table.columns)


def test_rows_have_every_contract_column_as_stripped_text():
    raw = _raw("trouble_code", repair_order_id=[" 1 ", "\t", None], code=["P0301", "", "\u00a0P1 "], extra=["a"] * 3)
    rows = to_contract_rows(raw, match_table(raw, TRADE_TABLES))
    assert rows.schema == {
        "row_number": pl.Int64,
        "text_repair_order_id": pl.String,
        "text_code": pl.String,
        "text_stage": pl.String,
    }
    assert rows.rows() == [(2, "1", "P0301", None), (3, None, None, None), (4, None, "P1", None)]


def test_missing_columns_are_listed_with_the_nearest_header():
    with pytest.raises(UnreadableFileError) as caught:
        match_table(_with("repair_line", "repair_order_id", "line_nr"), TRADE_TABLES)
    assert str(caught.value) == (
        "repair_line: as table repair_line it lacks the required columns line_no, kind (found: "
        "repair_order_id, line_nr). Expected at least repair_order_id, line_no, kind. "
        "Add or rename the columns: line_nr may be line_no."
    )


def test_no_table_lists_all_of_them():
    with pytest.raises(UnreadableFileError, match="neither the name nor the columns") as caught:
        match_table(_with("Sheet1", "colour"), TRADE_TABLES)
    assert all(table.name in str(caught.value) for table in TRADE_TABLES)


def test_two_tables_that_fit_equally_well():
    twins = [Table(name, "trade", "x", (Column("a", "text", "x", is_required=True),)) for name in ("one", "two")]
    with pytest.raises(UnreadableFileError, match="fit several tables equally well: one, two"):
        match_table(_with("Sheet1", "a"), twins)


def test_two_headers_that_mean_one_column():
    with pytest.raises(UnreadableFileError, match="'code' and 'Code' differ only in capitals"):
        match_table(_with("trouble_code", "repair_order_id", "code", "Code"), TRADE_TABLES)


def test_a_contract_column_that_is_there_twice_is_refused(read):
    raw = read("trouble_code.csv", b"repair_order_id,Code,code\nR1,P0301,P0302\n")
    assert raw.headers == ("repair_order_id", "Code", "code (2)")
    with pytest.raises(UnreadableFileError, match="the column 'Code' is there more than once"):
        match_table(raw, TRADE_TABLES)


def test_another_column_may_be_there_twice(read):
    raw = read("trouble_code.csv", b"repair_order_id,code,note,note,my-note,my note\nR1,P0301,a,b,c,d\n")
    match = match_table(raw, TRADE_TABLES)
    assert match.ignored_headers == ("note", "note (2)", "my-note", "my note")
    assert to_contract_rows(raw, match).height == 1
