import pytest

from longmile.pipelines.errors import UnreadableFileError

TEXT = "id,cause\n1,Zündung é\n2,x\n"
GREEK = "id,αιτία,όχημα\n1,διαρροή,V107\n2,θόρυβος,V114\n"


@pytest.mark.parametrize("codec", ["utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("text", [TEXT, TEXT.replace("\n", "\r\n"), GREEK])
def test_utf16_without_a_byte_order_mark_is_known_by_its_zeros(read, codec, text):
    table = read("x.csv", text.encode(codec))
    assert table.notes == ("the text is in UTF-16 without a byte order mark and was decoded as such",)
    assert table.rows.row(0)[2] == text.splitlines()[1].split(",")[1]


def test_utf16_without_a_mark_as_json_lines(read):
    assert read("x.jsonl", '{"id": "é"}\n'.encode("utf-16-be")).rows.rows() == [(1, "é")]


@pytest.mark.parametrize(
    "data",
    [
        bytes(range(32)) * 50,
        b"a\x01b\x02c\x03d\x04" * 20,
        b"\x01\x00\x02\x00\x03\x00\x04\x00" * 20,  # every other byte is zero, and the rest are control characters
        bytes(1_000),
    ],
)
def test_zeros_alone_make_no_text(read, data):
    with pytest.raises(UnreadableFileError, match="binary data, not text"):
        read("x.csv", data)


def test_stray_zeros_do_not_make_it_utf16(read):
    table = read("x.csv", b"a,b\n1,\0\0\0\n2,3\n" + b"4,5\n" * 50)
    assert table.bad_lines["reason"].to_list() == ["holds a NUL byte"]
    assert table.rows.height == 51
