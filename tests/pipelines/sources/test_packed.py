import gzip
import io
import stat
import warnings
import zipfile

import pytest

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources import archive_size, packed
from longmile.pipelines.sources.packed import shown_name
from longmile.pipelines.sources.read import read_file

from .test_workbook import _book, _simple

CSV = b"repair_order_id,code\nR1,P0301\n"


def _zip(*members, **one):
    """The bytes of a zip archive; members are (ZipInfo or name, data)."""
    buffer = io.BytesIO()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # zipfile says where a name comes twice
        with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, data in (*members, *one.items()):
                archive.writestr(name, data)
    return buffer.getvalue()


def _tables(tmp_path, name, data):
    path = tmp_path / name
    path.write_bytes(data)
    return read_file(path)


def _refusal(tmp_path, name, data):
    with pytest.raises(UnreadableFileError, match=r"^x\S*: .*\. Expected .*\. .*\.$") as caught:
        _tables(tmp_path, name, data)
    return str(caught.value)


def test_a_gzip_file_is_read_as_what_is_inside(read):
    table = read("repair_line.csv.gz", gzip.compress(CSV))
    assert (table.name, table.rows.rows()) == ("repair_line", [(2, "R1", "P0301")])
    assert read("x.xlsx.GZ", gzip.compress(_book(_simple))).rows.rows() == [(2, "a", "1")]
    assert read("plain.csv", gzip.compress(CSV)).name == "plain"
    two = gzip.compress(CSV) + gzip.compress(b"R2,P0302\n")  # RFC 1952, 2.2: members one after another
    assert read("x.csv.gz", two).rows["code"].to_list() == ["P0301", "P0302"]


def test_each_member_of_a_zip_archive_is_a_part(tmp_path):
    data = _zip(
        ("jan/repair_line.csv", CSV),
        ("feb/", b""),
        ("feb/Repair_Line.csv", CSV),
        ("lines.jsonl", b'{"a": 1}\n'),
        ("book.xlsx", _book(_simple)),
        ("__MACOSX/jan/._repair_line.csv", b"\0\1\2"),
        ("jan/.hidden", b"\0"),
    )
    tables = _tables(tmp_path, "export.zip", data)
    assert [table.name for table in tables] == ["repair_line", "Repair_Line (2)", "lines", "repair_line (3)"]
    assert [table.n_physical for table in tables] == [1, 1, 1, 1]
    assert all(not table.notes for table in tables)


def test_a_member_that_cannot_be_read_is_noted_and_the_others_are_read(tmp_path):
    inner = _zip(("deep.csv", CSV))
    data = _zip(
        ("good.csv", b"a,b\n1,2\n\n"),
        ("letter.pdf", b"%PDF-1.7"),
        ("inner.zip", inner),
        ("inner.csv.gz", gzip.compress(CSV)),
        ("empty.csv", b""),
    )
    (table,) = _tables(tmp_path, "x.zip", data)
    assert table.name == "good"
    said = [note.split(". Expected")[0] for note in table.notes]
    assert said == [
        "good.csv: 1 blank line ignored",
        "member not loaded: letter.pdf: a PDF document",
        "member not loaded: inner.zip: an archive inside an archive",
        "member not loaded: inner.csv.gz: an archive inside an archive",
        "member not loaded: empty.csv: the file is empty (0 bytes)",
    ]


def test_where_no_member_can_be_read_the_archive_is_refused(tmp_path):
    refusal = _refusal(tmp_path, "x.zip", _zip(("a.pdf", b"%PDF-1.7"), ("b.png", b"\x89PNG\r\n\x1a\n")))
    assert "none of the 2 files in the archive can be read (a.pdf: a PDF document" in refusal
    assert "none of the 0 files" in _refusal(tmp_path, "x.zip", _zip())


def test_an_archive_in_a_gzip_file_is_not_opened(tmp_path):
    assert "an archive inside an archive" in _refusal(tmp_path, "x.csv.gz", gzip.compress(gzip.compress(CSV)))
    assert "an archive inside an archive" in _refusal(tmp_path, "x.zip.gz", gzip.compress(_zip(("a.csv", CSV))))


@pytest.mark.parametrize(
    ("name", "trouble"),
    [
        ("../../x.csv", "has a name that leads out of the archive"),
        ("a/../../x.csv", "has a name that leads out of the archive"),
        ("..\\x.csv", "has a name that leads out of the archive"),
        ("/etc/x.csv", "has an absolute path as its name"),
        ("\\\\server\\x.csv", "has an absolute path as its name"),
        ("C:\\x.csv", "has an absolute path as its name"),
        ("c:x.csv", "has an absolute path as its name"),
    ],
)
def test_a_name_that_leads_out_refuses_the_archive_and_nothing_is_written(tmp_path, name, trouble):
    before = set(tmp_path.parent.rglob("*"))
    assert trouble in _refusal(tmp_path, "x.zip", _zip(("good.csv", CSV), (name, CSV)))
    assert set(tmp_path.parent.rglob("*")) - before == {tmp_path / "x.zip"}


def test_a_nul_in_a_name_refuses_the_archive(tmp_path):
    data = _zip(("good.csv?.exe", CSV)).replace(b"good.csv?", b"good.csv\0")
    assert "has a NUL in its name" in _refusal(tmp_path, "x.zip", data)


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_links_and_devices_refuse_the_archive(tmp_path, kind):
    # Unix file type in the upper 16 bits of the external attributes (zip application note 4.4.15, Info-ZIP).
    member = zipfile.ZipInfo("link.csv")
    member.external_attr = (kind | 0o777) << 16
    assert "is a link or a device" in _refusal(tmp_path, "x.zip", _zip((member, b"/etc/passwd")))


def test_too_many_members(tmp_path):
    data = _zip(*((f"{n}.csv", b"") for n in range(1_001)))
    assert "the archive has 1,001 members" in _refusal(tmp_path, "x.zip", data)


def test_an_encrypted_member_is_refused_alone(tmp_path):
    data = bytearray(_zip(("secret.csv", CSV), ("good.csv", CSV)))
    # Bit 0 of the general purpose flags: offset 6 in the local header, 8 in the central one (note 4.4.4).
    data[6] |= 1
    data[data.find(b"PK\x01\x02") + 8] |= 1
    (table,) = _tables(tmp_path, "x.zip", bytes(data))
    assert table.name == "good"
    assert table.notes[0].startswith("member not loaded: secret.csv: the member of the archive is encrypted")


def test_a_damaged_member_is_refused_alone(tmp_path):
    data = bytearray(_zip(("bad.csv", CSV), ("good.csv", CSV)))
    data[40] ^= 0xFF  # within the first member's packed bytes: its header is 30 bytes and 7 of the name
    (table,) = _tables(tmp_path, "x.zip", bytes(data))
    assert (table.name, len(table.notes)) == ("good", 1)
    assert "bad.csv: the member of the archive is damaged or cut short" in table.notes[0]


def test_a_zip_bomb_is_refused_before_it_is_unpacked(tmp_path, monkeypatch):
    # 60 MB of zeros pack to about 60 kB: a ratio of about 1,000, above 200, and more than 50 MB.
    data = _zip(("a.csv", bytes(60_000_000)))
    assert len(data) < 200_000
    monkeypatch.setattr(packed, "_unpacked", None)
    assert "the archive unpacks to 60,000,000 bytes" in _refusal(tmp_path, "x.zip", data)


def test_a_gzip_bomb_is_refused_on_the_way(tmp_path):
    # Looked at after every mebibyte: the last one below 50,000,000 ends at 47 * 1,048,576 = 49,283,072.
    assert "the archive unpacks to more than 4" in _refusal(tmp_path, "x.csv.gz", gzip.compress(bytes(60_000_000)))


def test_the_bound_is_one_gibibyte_in_all(tmp_path, monkeypatch):
    # Lowered here, so that the test need not pack a gigabyte. Two members of 600 bytes are above 1,000 together.
    assert archive_size.MAX_UNPACKED == 2**30
    monkeypatch.setattr(archive_size, "MAX_UNPACKED", 1_000)
    half = b"a,b\n" + b"1,2\n" * 149
    assert "the archive unpacks to 1,200 bytes" in _refusal(tmp_path, "x.zip", _zip(("a.csv", half), ("b.csv", half)))
    assert "the archive unpacks to more than 0 bytes" in _refusal(tmp_path, "x.csv.gz", gzip.compress(half * 2))
    assert _tables(tmp_path, "x.zip", _zip(("a.csv", half)))[0].n_physical == 149


def test_what_workbooks_in_an_archive_unpack_to_counts_too(tmp_path, monkeypatch):
    book = _book(_simple)
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        inside = sum(part.file_size for part in archive.infolist())
    assert inside > len(book)
    monkeypatch.setattr(archive_size, "MAX_UNPACKED", 2 * len(book) + inside)
    assert len(_tables(tmp_path, "x.zip", _zip(("a.xlsx", book)))) == 1
    assert "with its workbooks" in _refusal(tmp_path, "x.zip", _zip(("a.xlsx", book), ("b.xlsx", book)))


def test_a_member_that_unpacks_to_more_than_it_declares_is_refused_alone(tmp_path):
    data = bytearray(_zip(("lies.csv", CSV * 100), ("good.csv", CSV)))
    # Unpacked size: offset 24 of the central entry, four bytes (note 4.3.12). zipfile believes that one.
    at = data.find(b"PK\x01\x02")
    data[at + 24 : at + 28] = (10).to_bytes(4, "little")
    (table,) = _tables(tmp_path, "x.zip", bytes(data))
    assert table.name == "good"
    assert "lies.csv" in table.notes[0]


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_an_archive_cut_short(tmp_path, share):
    data = _zip(("a.csv", CSV), ("b.csv", CSV))
    assert "damaged or cut short" in _refusal(tmp_path, "x.zip", data[: int(len(data) * share)])


def test_nothing_is_left_behind(tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    _tables(tmp_path, "x.zip", _zip(("a.csv", CSV)))
    _tables(tmp_path, "x.csv.gz", gzip.compress(CSV))
    _refusal(tmp_path, "x.zip", _zip(("a.pdf", b"%PDF")))
    assert not list((tmp_path / "temporary").iterdir())


def test_names_are_shown_clean_and_short():
    assert shown_name("a\\b\n\x1b[31m.csv") == "a/b??[31m.csv"
    assert shown_name("x" * 500 + ".csv") == "..." + "x" * 116 + ".csv"
