import pytest

from longmile.pipelines.errors import UnreadableFileError


def test_values_come_as_written(read):
    table = read(
        "measurement.jsonl",
        b'{"id": "007", "value": 1.50, "n": 12345678901234567890}\n\n{"ok": true, "id": null, "value": -1E5}\n',
    )
    assert table.headers == ("id", "value", "n", "ok")
    assert table.rows.rows() == [
        (1, "007", "1.50", "12345678901234567890", None),
        (3, None, "-1E5", None, "true"),
    ]
    assert (table.n_physical, table.notes) == (2, ("1 blank line ignored",))


def test_lines_that_are_no_row_are_set_aside(read):
    lines = [
        '{"a": 1}',
        '{"a": {"b": 1}}',
        '{"a": [1]}',
        '{"a": 1, "a": 2}',
        '{"a": NaN}',
        '{"a": 1',
        "[1]",
        '{"a": "\\ud800"}',
        '{"a": "\\u0000"}',
        '{" ": 1}',
        '{"a":' * 100_000,
    ]
    table = read("x.ndjson", "\n".join(lines).encode())
    assert table.rows.rows() == [(1, "1")]
    assert table.bad_lines["row_number"].to_list() == list(range(2, 12))
    assert table.bad_lines["reason"].to_list() == [
        "holds an object under 'a', where a single value is expected",
        "holds a list under 'a', where a single value is expected",
        "has the key 'a' twice",
        "holds NaN, which is not JSON",
        "is not JSON (Expecting ',' delimiter at character 8)",
        "is not a JSON object",
        "holds half of a surrogate pair, which is not a character",
        "holds a NUL character",
        "has a key that is blank",
        "is nested too deeply",
    ]


def test_json_lines_are_known_by_content(read):
    assert read("x.txt", b'{"a": "b"}\n').rows.rows() == [(1, "b")]


def test_a_damaged_first_line_does_not_hide_that_the_others_are_json(read):
    # Found by tests/fuzz (file 20007922: a bit turned over in line 1): it was read as CSV, line 1 as its header.
    table = read("x.csv", b'{"a": "b\x10"}\n{"a": "c"}\n{"a": "d"}\n')
    assert table.rows.rows() == [(2, "c"), (3, "d")]
    assert table.bad_lines["row_number"].to_list() == [1]


def test_a_key_that_is_called_row_number(read):
    table = read("x.jsonl", b'{"row_number": 5}\n{"b": 6, "row_number": 7}\n')
    assert table.rows.rows() == [(1, "5", None), (2, "7", "6")]
    assert table.headers == ("row_number_in_file", "b")


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b'[\n{"a": 1},\n{"a": 2},\n]\n', "line 1 is not JSON"),
        (b'[{"a": 1}]\n', "line 1 is not a JSON object"),
        (b"a,b\n1,2\n", "line 1 is not JSON"),
        (b"\n", "there is no key in any line"),
        (b"{}\n", "there is no key in any line"),
    ],
)
def test_files_without_one_object(read, data, found):
    with pytest.raises(UnreadableFileError, match="no line holds a JSON object") as caught:
        read("x.jsonl", data)
    assert found in str(caught.value)


def test_more_than_a_thousand_keys(read):
    data = "\n".join(f'{{"key{n}": 1}}' for n in range(1_001)).encode()
    with pytest.raises(UnreadableFileError, match="1,001 columns"):
        read("x.jsonl", data)
