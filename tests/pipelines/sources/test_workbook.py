import datetime as dt
import io
import warnings
import zipfile
import zlib

import openpyxl
import pytest
import xlsxwriter

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources import workbook_archive
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


def test_merged_cells_are_said(read):
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "n"])
        sheet.merge_range("A2:A3", "both")
        sheet.write_column("B2", [1, 2])

    table = read("x.xlsx", _book(fill))
    assert table.rows.rows() == [(2, "both", "1"), (3, None, "2")]
    assert table.notes == ("merged cells A2:A3: only the first cell of each has the value",)


def test_a_column_without_a_name_but_with_values(read):
    def fill(book, sheet):
        _simple(book, sheet)
        sheet.write("C2", "stray")

    with pytest.raises(UnreadableFileError, match="sheet 'repair_line': the header has no name in column 3 of 3"):
        read("x.xlsx", _book(fill))


def test_a_header_that_has_to_be_computed(read):
    def fill(book, sheet):
        sheet.write_row(0, 0, ["id", "n"])
        sheet.write_formula("B1", "=1/0", value="#DIV/0!")

    with pytest.raises(UnreadableFileError, match="cell B1 holds the error #DIV/0!, in or above the header"):
        read("x.xlsx", _book(fill))


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
    assert workbook_archive.MAX_UNPACKED == 2**30
    monkeypatch.setattr(workbook_archive, "MAX_UNPACKED", 1_000)
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
