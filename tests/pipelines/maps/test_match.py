from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from longmile.pipelines.errors import MapError
from longmile.pipelines.maps.map_text import map_text
from longmile.pipelines.maps.match import Maps, find_map, mapped_parts, read_maps
from longmile.pipelines.maps.source_map import ColumnMap, SourceMap, TableMap, header_fingerprint

LINES = TableMap("repair_line", tuple(ColumnMap(name, ("No",)) for name in ("repair_order_id", "line_no", "kind")))
FAMILIES = TableMap("engine_family", (ColumnMap("engine_family", ("Text",)), ColumnMap("cylinders", constant="4")))
MAP = SourceMap("lines", ("No", "Text", "Sum", "Day"), (LINES, FAMILIES), is_accepted=True)


def write(folder: Path, *maps: SourceMap) -> Path:
    folder.mkdir(exist_ok=True)
    for one in maps:
        (folder / f"{one.name}.toml").write_text(map_text(one), encoding="utf-8")
    return folder


def test_maps_are_found_by_their_headers_whatever_their_order_capitals_and_spaces(tmp_path: Path):
    maps = read_maps(write(tmp_path / "sources", MAP))
    found = find_map(maps, [" SUM", "day", "no", "Text "])
    assert found.map == MAP and found.exact == MAP and found.nearest is None


def test_a_changed_column_is_told_and_nothing_is_guessed():
    found = find_map(Maps((MAP,)), ["No", "Text", "Sum", "Tech", "Bay"])
    assert found.map is None and found.exact is None and found.nearest == MAP
    assert (found.new, found.missing) == (("Tech", "Bay"), ("Day",))
    assert found.sentence == (
        "the columns have changed since the source map lines.toml was made (new columns 'Tech', 'Bay'; missing column "
        "'Day'), so nothing is loaded. Have a map for the new columns proposed with `longmile map FILE`, then accept it"
    )


def test_the_nearest_map_is_the_one_that_shares_the_most_columns():
    other = replace(MAP, name="other", headers=("No", "Text", "Sum", "Day", "Tech", "Bay", "Hours"))
    assert find_map(Maps((MAP, other)), ["No", "Text", "Sum", "Day", "Tech", "Bay"]).nearest == other


def test_columns_unlike_those_of_any_map_have_no_nearest():
    found = find_map(Maps((MAP,)), ["No", "a", "b", "c"])  # 1 of 7 shared
    assert (found.map, found.exact, found.nearest) == (None, None, None)
    assert "no source map is made for these columns" in found.sentence
    assert find_map(Maps(), ["No"]).nearest is None


def test_a_map_that_is_not_accepted_loads_nothing_and_says_so():
    draft = replace(MAP, is_accepted=False)
    found = find_map(Maps((draft,)), MAP.headers)
    assert found.map is None and found.exact == draft
    assert "not yet accepted" in found.sentence and "longmile map FILE --accept" in found.sentence


def test_two_maps_of_the_same_headers_are_an_error_that_names_both(tmp_path: Path):
    twin = replace(MAP, name="twin", headers=tuple(reversed(MAP.headers)))
    with pytest.raises(MapError, match=r"lines\.toml and twin\.toml"):
        read_maps(write(tmp_path / "sources", MAP, twin))


def test_there_are_no_maps_where_there_is_no_folder(tmp_path: Path):
    assert read_maps(tmp_path / "sources") == Maps()


def test_the_digest_changes_with_what_accepted_maps_state_and_with_nothing_else(tmp_path: Path):
    folder = write(tmp_path / "sources", MAP)
    first = read_maps(folder).digest
    path = folder / "lines.toml"
    path.write_text(f"# a note\n{path.read_text(encoding='utf-8')}", encoding="utf-8")
    write(folder, replace(MAP, name="draft", headers=("a", "b"), tables=(), is_accepted=False))
    assert read_maps(folder).digest == first
    write(folder, replace(MAP, decimal=","))
    assert read_maps(folder).digest != first != Maps().digest


def test_the_tables_of_a_map_come_in_the_order_of_loading():
    assert [(table.name, how) for table, how in mapped_parts(MAP.headers, MAP)] == [
        ("engine_family", FAMILIES),
        ("repair_line", LINES),
    ]
    with pytest.raises(MapError, match="other columns than the map"):
        mapped_parts(["No"], MAP)


def test_the_fingerprint_is_sixteen_hexadecimal_digits_of_the_compared_headers():
    assert header_fingerprint(["B  c", "a"]) == header_fingerprint(["A", "b C "]) != header_fingerprint(["a", "bc"])
    # From `printf 'a\nb c' | sha256sum | cut -c1-16` (GNU coreutils 9).
    assert header_fingerprint(["a", "b c"]) == "c5f89cb93b42c46a"
