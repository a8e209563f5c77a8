import pytest

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources.headers import checked_headers


def test_names_are_stripped_and_none_is_left_blank():
    notes = []
    named = checked_headers("x", [" id ", None, "note", ""], notes)
    assert named.names == ("id", "column 2", "note", "column 4")
    assert named.unnamed == ("column 2", "column 4")
    assert (named.repeated, notes) == ((), [])


def test_a_name_that_comes_again_gets_a_number():
    notes = []
    named = checked_headers("x", ["a", "b", "A", "a", "a (2)"], notes)
    assert named.names == ("a", "b", "A (3)", "a (4)", "a (2)")
    assert named.repeated == ("a",)
    assert notes == ["the header repeats 'a'; the later ones have a number behind the name here"]


def test_a_name_of_ours_gives_way_to_one_of_the_file():
    assert checked_headers("x", ["", "column 1"], []).names == ("column 1", "column 1 (2)")


def test_a_thousand_names_alike_are_told_apart():
    names = checked_headers("x", ["a"] * 1_000, []).names
    assert (len(set(names)), names[-1]) == (1_000, "a (1000)")


def test_an_empty_column_without_a_name_is_dropped_and_one_with_values_is_said(read):
    table = read("x.csv", b"a,,c,\n1,x,3,\n2,,4,\n")
    assert table.rows.rows() == [(2, "1", "x", "3"), (3, "2", None, "4")]
    assert table.headers == ("a", "column 2", "c")
    assert table.notes == ("a column has no name in the file: called 'column 2' here, by place",)


def test_where_most_values_have_no_name_the_line_is_no_header(read):
    with pytest.raises(UnreadableFileError, match="3 of 4 columns have no name, and most values stand in those"):
        read("x.csv", b"a list,,,\n1,2,x,y\n")


def test_a_repeated_name_does_not_stop_the_file(read):
    table = read("x.csv", b"a,b,a\n1,2,3\n")
    assert table.rows.rows() == [(2, "1", "2", "3")]
    assert (table.headers, table.repeated) == (("a", "b", "a (2)"), ("a",))
