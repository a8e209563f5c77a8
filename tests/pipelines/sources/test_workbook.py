import datetime as dt
import io
import warnings
import zipfile
import zlib

import openpyxl
import pytest
import xlsxwriter

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources import archive_size, workbook_archive
from longmile.pipelines.sources.read import read_file


def _book(fill, sheets=("repair_line",), **options):
    """The bytes of a workbook with these sheets, filled by fill(book, sheet, ...)."""
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer, {"in_memory": True, **options})
    fill(book, *(book.add_worksheet(name) for name in sheets))
    book.close()
    return buffer.getvalue()


def _rezipped(data, change):
    """The workbook with every part passed through change(name, bytes)."""
    buffer = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as old,
        zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name)))
    return buffer.getvalue()


def _simple(book, sheet):
    sheet.write_row(0, 0, ["id", "n"])
    sheet.write_row(1, 0, ["a", 1])


def test_cells_come_as_text_with_the_row_of_the_sheet(read):
    def fill(book, sheet):
        day = book.add_format({"num_format": "dd/mm/yyyy"})
        moment = book.add_format({"num_format": "yyyy-mm-dd hh:mm"})
        sheet.write_row(2, 1, ["id", "whole", "day", "part", "sure"])
        sheet.write_row(3, 1, ["00123", 12])
        sheet.write_datetime(3, 3, dt.datetime(2024, 5, 1), day)
        sheet.write_row(3, 4, [1234.57, True])
        sheet.write_row(5, 1, ["12,000", 1e15])
        sheet.write_datetime(5, 3, dt.datetime(2024, 5, 1, 13, 30), moment)
        sheet.write_row(5, 4, [0.1, False])

    table = read("x.xlsx", _book(fill))
    assert table.name == "repair_line"
    assert table.headers == ("id", "whole", "day", "part", "sure")
    assert table.rows.rows() == [
        (4, "00123", "12", "2024-05-01", "1234.57", "true"),
        (6, "12,000", "1000000000000000", "2024-05-01 13:30:00", "0.1", "false"),
    ]
    assert table.notes == ("1 blank row ignored",)


def test_text_deep_in_a_column_of_numbers_is_kept(read):
    def fill(book, sheet):
        sheet.write(0, 0, "odometer_in")
        for row in range(1, 2_000):
            sheet.write_number(row, 0, row)
        sheet.write_string(2_000, 0, "12,000")

    assert read("x.xlsx", _book(fill)).rows["odometer_in"][-1] == "12,000"


def test_days_counted_from_1904(read):
    def fill(book, sheet):
        sheet.write(0, 0, "day")
        sheet.write_datetime(1, 0, dt.datetime(2024, 5, 1), book.add_format({"num_format": "d mmm yyyy"}))

    assert read("x.xlsx", _book(fill, date_1904=True)).rows["day"].to_list() == ["2024-05-01"]


def test_each_sheet_is_a_table_and_empty_ones_are_none(tmp_path):
    def fill(book, first, second, empty):
        first.write_row(0, 0, ["vehicle_id"])
        second.write_column(0, 0, ["code", "P0301"])

    path = tmp_path / "x.xlsx"
    path.write_bytes(_book(fill, ("vehicle", "trouble_code", "Sheet3")))
    first, second = read_file(path)
    assert (first.name, first.n_physical, first.notes) == (
        "vehicle",
        0,
        ("the sheet has a header and no data rows",),
    )
    assert (second.name, second.rows.rows()) == ("trouble_code", [(2, "P0301")])


def test_a_sheet_of_remarks_is_noted_and_the_data_beside_it_read(tmp_path):
    def fill(book, remarks, codes):
        remarks.write_row(0, 0, ["Exported for the audit", "", "by the office"])
        remarks.write_row(1, 0, ["", "see below", ""])
        codes.write_column(0, 0, ["code", "P0301"])

    path = tmp_path / "x.xlsx"
    path.write_bytes(_book(fill, ("Remarks", "trouble_code")))
    (table,) = read_file(path)
    assert (table.name, table.rows.rows()) == ("trouble_code", [(2, "P0301")])
    assert len(table.notes) == 1
    assert table.notes[0].startswith("sheet not loaded: x.xlsx, sheet 'Remarks'")


def test_where_no_sheet_has_a_usable_header_the_workbook_is_refused(tmp_path):
    def fill(book, remarks):
        remarks.write_row(0, 0, ["Exported for the audit", "", "by the office"])
        remarks.write_row(1, 0, ["", "see below", ""])

    path = tmp_path / "x.xlsx"
    path.write_bytes(_book(fill, ("Remarks",)))
    with pytest.raises(UnreadableFileError, match="Remarks"):
        read_file(path)


def test_computed_values_are_used_and_said(read):
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "a", "b", "cost"])
        for row in range(1, 8):
            sheet.write_row(row, 0, [f"r{row}", 1, 2])
            sheet.write_formula(row, 3, f"=B{row + 1}+C{row + 1}", value=3)

    table = read("x.xlsx", _book(fill))
    assert table.rows["cost"].to_list() == ["3"] * 7
    assert table.notes == ("cells D2, D3, D4, D5, D6 and 2 more hold formulas, their last computed values were used",)


def test_one_computed_value_is_named(read):
    def fill(book, sheet):
        _simple(book, sheet)
        sheet.write_formula("B3", "=1+1", value=2)

    assert read("x.xlsx", _book(fill)).notes == ("cell B3 holds a formula, its last computed value was used",)


def test_a_formula_without_a_value_sets_its_row_aside(read):
    book = openpyxl.Workbook()
    for row in (["id", "cost"], ["a", 5], ["b", "=1+1"], ["c", 7]):
        book.active.append(row)
    book.active["B7"] = "=B2"
    buffer = io.BytesIO()
    book.save(buffer)
    table = read("x.xlsx", buffer.getvalue())
    assert table.rows.rows() == [(2, "a", "5"), (4, "c", "7")]
    assert table.bad_lines.rows() == [
        (3, "b\t", "cell B3 holds a formula without a computed value"),
        (7, "", "cell B7 holds a formula without a computed value"),
    ]
    assert table.n_physical == 4


def test_a_formula_whose_value_is_an_empty_text_has_none(read):
    def fill(book, sheet):
        _simple(book, sheet)
        sheet.write_formula("B2", '=""', value="")

    assert read("x.xlsx", _book(fill)).bad_lines["row_number"].to_list() == [2]


def test_an_error_cell_sets_its_row_aside(read):
    def fill(book, sheet):
        _simple(book, sheet)
        sheet.write_formula("B2", "=1/0", value="#DIV/0!")

    assert read("x.xlsx", _book(fill)).bad_lines.rows() == [(2, "a\t", "cell B2 holds the error #DIV/0!")]


def test_merged_cells_hold_for_every_row_they_cover(read):
    def fill(book, sheet):
        sheet.write_row(0, 1, ["id", "n", "note"])
        sheet.merge_range("B2:B4", "both")
        sheet.write_column("C2", [1, 2])
        sheet.merge_range("C6:D6", "same")
        sheet.write("B6", "x")

    # Row 4 of the sheet has no cell of its own: it stays blank.
    table = read("x.xlsx", _book(fill))
    assert table.rows.rows() == [(2, "both", "1", None), (3, "both", "2", None), (6, "x", "same", "same")]
    assert table.notes == (
        "2 blank rows ignored",
        "merged cells B2:B4, C6:D6: the value was taken for every row and column they cover",
    )


def test_merged_cells_of_the_header_of_titles_and_headings_are_left(read):
    def fill(book, sheet):
        sheet.merge_range("A1:C1", "Shop of Customer 0012")
        sheet.merge_range("A2:A3", "id")
        sheet.write_row("B2", ["n", "note"])
        sheet.write_row("B3", [1, "a"])
        sheet.merge_range("A4:C4", "Branch two")
        sheet.write_row("A5", ["r5", 2, "b"])

    table = read("x.xlsx", _book(fill))
    assert table.rows.rows() == [(3, None, "1", "a"), (4, "Branch two", None, None), (5, "r5", "2", "b")]
    assert table.notes == (
        "row 1 stands above the header and was passed over",
        "merged cells A1:C1, A2:A3, A4:C4: only the first cell of each has the value",
    )


def test_a_merged_value_holds_below_a_row_that_is_set_aside(read):
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "n"])
        sheet.merge_range("A2:A3", "both")
        sheet.write_formula("B2", "=1/0", value="#DIV/0!")
        sheet.write("B3", 2)

    table = read("x.xlsx", _book(fill))
    assert table.rows.rows() == [(3, "both", "2")]
    assert table.bad_lines["row_number"].to_list() == [2]


def test_merged_ranges_that_overlap_are_left_after_as_many_cells_as_there_are(read):
    def change(name, part):
        ranges = b"<mergeCells>" + b'<mergeCell ref="A2:XFD1048576"/>' * 5_000 + b"</mergeCells>"
        return part.replace(b"</sheetData>", b"</sheetData>" + ranges) if "sheet1.xml" in name else part

    table = read("x.xlsx", _rezipped(_book(_simple), change))
    assert table.rows.rows() == [(2, "a", "1")]


def test_hidden_sheets_and_rows_are_read_and_said(tmp_path):
    def fill(book, first, second):
        _simple(book, first)
        first.write_row(2, 0, ["b", 2])
        first.set_row(2, None, None, {"hidden": True})
        _simple(book, second)
        second.hide()

    path = tmp_path / "x.xlsx"
    path.write_bytes(_book(fill, ("one", "two")))
    one, two = read_file(path)
    assert one.rows["id"].to_list() == ["a", "b"]
    assert one.notes == ("row 3 is hidden in the sheet, and was read all the same",)
    assert two.rows["id"].to_list() == ["a"]
    assert two.notes == ("the sheet 'two' is hidden in the workbook, and was read all the same",)


def test_a_printed_list_in_a_sheet(read):
    def fill(book, sheet):
        sheet.write("A1", "Shop of Customer 0012")
        sheet.write("A2", "printed 2025-01-02")
        header = ["order", "opened", "concern", "price"]
        sheet.write_row("A4", header)
        sheet.write_row("A5", ["R1", "2024-05-01", "total loss", 12.5])
        sheet.write_row("A6", header)
        sheet.write_row("A7", ["R2", "2024-05-02", "noise", 7])
        sheet.merge_range("A8:C8", "Total")
        sheet.write("D8", 19.5)
        sheet.write("A9", "Page 1 of 1")

    table = read("x.xlsx", _book(fill))
    assert table.headers == ("order", "opened", "concern", "price")
    assert table.rows["row_number"].to_list() == [5, 7]
    assert [(number, reason) for number, _, reason in table.bad_lines.iter_rows()] == [
        (6, "repeats the header"),
        (8, "a total line, not a record"),
        (9, "a page line, not a record"),
    ]
    assert table.n_physical == 5
    assert table.notes[0] == "rows 1 to 3 stand above the header and were passed over"
    assert not any("0012" in text for text in (*table.notes, *table.bad_lines["raw_text"]))


def test_day_numbers_without_a_date_format_stay_numbers(read):
    # 45413 is 2024-05-01 counted from 1900 (45292 is 2024-01-01, and 31 + 29 + 31 + 30 = 121 days follow).
    def fill(book, sheet):
        sheet.write_column(0, 0, ["day", 45413])

    assert read("x.xlsx", _book(fill)).rows["day"].to_list() == ["45413"]


def test_a_column_without_a_name_but_with_values(read):
    def fill(book, sheet):
        _simple(book, sheet)
        sheet.write("C2", "stray")

    table = read("x.xlsx", _book(fill))
    assert table.rows.rows() == [(2, "a", "1", "stray")]
    assert table.headers == ("id", "n", "column 3")
    assert table.notes == ("a column has no name in the file: called 'column 3' here, by place",)


def test_a_header_that_has_to_be_computed(read):
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "n"])
        sheet.write_formula("B1", "=1/0", value="#DIV/0!")

    with pytest.raises(UnreadableFileError, match="cell B1 holds the error #DIV/0!, in or above the header"):
        read("x.xlsx", _book(fill))


def test_a_stray_value_far_from_the_others_is_refused_before_its_frame_is_made(read):
    # 1,048,576 rows by 16,384 columns (the format's limits) of 32 bytes would be half a terabyte: the reader of values
    # ends the whole process there ("memory allocation of 549755813888 bytes failed", seen).
    def far(book, sheet):
        _simple(book, sheet)
        sheet.write("XFD1048576", "x")

    with pytest.raises(UnreadableFileError, match="values in row 1,048,576 or column 16,384, far from the others"):
        read("x.xlsx", _book(far))
    read("x.xlsx", _book(lambda book, sheet: (_simple(book, sheet), sheet.write("C100000", "x"))))


def test_cells_that_say_another_row_than_the_one_they_stand_in(read):
    def change(name, part):
        return part.replace(b'r="A2"', b'r="A5"').replace(b'r="B2"', b'r="B5"') if "sheet1.xml" in name else part

    assert read("x.xlsx", _rezipped(_book(_simple), change)).rows.rows() == [(5, "a", "1")]


def test_a_thousand_columns_are_read_and_one_more_is_not(read):
    def wide(n_columns):
        return _book(lambda book, sheet: sheet.write_row(0, 0, [f"c{n}" for n in range(n_columns)]))

    assert len(read("x.xlsx", wide(1_000)).headers) == 1_000
    with pytest.raises(UnreadableFileError, match="1,001 columns"):
        read("x.xlsx", wide(1_001))


def test_all_sheets_empty(read):
    with pytest.raises(UnreadableFileError, match="all sheets are empty"):
        read("x.xlsx", _book(lambda *_: None))


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_workbook_cut_short(read, share):
    data = _book(_simple)
    with pytest.raises(UnreadableFileError, match=r"^x\.xlsx: the workbook is damaged or cut short"):
        read("x.xlsx", data[: int(len(data) * share)])


def test_a_workbook_under_another_suffix_is_read_by_its_content(read):
    assert read("x.csv", _book(_simple)).rows.rows() == [(2, "a", "1")]


def _archive(**parts):
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return buffer.getvalue()


def test_an_archive_that_is_no_workbook(read):
    with pytest.raises(UnreadableFileError, match="a zip archive that is no XLSX workbook"):
        read("x.xlsx", _archive(readme="hello"))


def test_a_part_twice(read):
    data = io.BytesIO(_book(_simple))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # zipfile says that the name is there already
        with zipfile.ZipFile(data, "a") as archive:
            archive.writestr("xl/workbook.xml", "<workbook/>")
    with pytest.raises(UnreadableFileError, match="1 of them repeated"):
        read("x.xlsx", data.getvalue())


def test_a_bomb_is_refused_before_it_is_unpacked(read, monkeypatch):
    # 60 MB of zeros pack to about 60 kB: a ratio of about 1,000, above 200, and more than 50 MB.
    zeros = b"0" * 60_000_000
    data = _rezipped(_book(_simple), lambda name, part: zeros if name.endswith("theme1.xml") else part)
    assert len(data) < 200_000

    def unpack(*_):
        raise AssertionError("a part was unpacked")

    monkeypatch.setattr(workbook_archive, "_measure", unpack)
    with pytest.raises(UnreadableFileError, match=r"unpacks to 60,\d{3},\d{3} bytes"):
        read("x.xlsx", data)


def test_a_declared_size_above_one_gibibyte(read, monkeypatch):
    # The limit itself is 2**30; lowered here, so that the test need not pack a gigabyte.
    assert archive_size.MAX_UNPACKED == 2**30
    monkeypatch.setattr(archive_size, "MAX_UNPACKED", 1_000)
    with pytest.raises(UnreadableFileError, match="at most 1,000 bytes"):
        read("x.xlsx", _book(_simple))


def test_a_part_that_declares_less_than_it_unpacks_to(read):
    data = bytearray(_book(_simple))
    # Central directory entry (signature PK 01 02): checksum at offset 16, unpacked size at 24, four bytes
    # each (ZIP application note, 4.3.12). The checksum is that of the first six bytes, so that it agrees.
    at = data.rfind(b"PK\x01\x02")
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        seen = archive.read(archive.namelist()[-1])[:6]
    data[at + 16 : at + 20] = zlib.crc32(seen).to_bytes(4, "little")
    data[at + 24 : at + 28] = (5).to_bytes(4, "little")
    with pytest.raises(UnreadableFileError, match="other sizes than it declares"):
        read("x.xlsx", bytes(data))


def test_an_encrypted_workbook(read):
    # The OLE2 signature, then the UTF-16 name of the stream of an encrypted workbook (MS-OFFCRYPTO 2.3.4.4).
    head = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)
    with pytest.raises(UnreadableFileError, match="the workbook is encrypted"):
        read("x.xlsx", head + "EncryptedPackage".encode("utf-16-le"))
    with pytest.raises(UnreadableFileError, match="an old format"):
        read("x.xls", head)


def test_a_document_type_is_refused(read):
    def change(name, part):
        return (
            part.replace(b"<worksheet", b'<!DOCTYPE x [<!ENTITY a "b">]><worksheet', 1)
            if "sheet1.xml" in name
            else part
        )

    with pytest.raises(UnreadableFileError, match="declares a document type"):
        read("x.xlsx", _rezipped(_book(_simple), change))
