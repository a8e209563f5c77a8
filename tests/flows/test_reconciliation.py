"""Whatever a file of repair lines holds: landed = kept + quarantined + repeats, and every row is found again."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from longmile.pipelines.flows.intake import InboxLoader
from longmile.pipelines.store.store import Store

HEADER = "repair_order_id,line_no,kind,component_code,quantity,price"
cells = st.tuples(
    st.sampled_from(["A", "B", "C", ""]),
    st.sampled_from(["1", "2", "3", "x", ""]),
    st.sampled_from(["labor", "part", "wages", ""]),
    st.sampled_from(["water_pump", "no_such_part", ""]),
    st.sampled_from(["1", "two", ""]),
    st.sampled_from(["10.50", "-3", "1,000", "9.999", ""]),
)
files = st.lists(st.lists(cells, max_size=12), min_size=1, max_size=3)


@pytest.fixture
def loading(shop):
    with Store(shop.workspace.store) as store:
        yield shop, store, InboxLoader(store, 1, shop.clock)


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(files=files)
def test_every_row_is_kept_quarantined_or_a_repeat(loading, files):
    shop, store, loader = loading
    for table in ("raw_repair_line", "repair_line", "quarantined_row", "source_file", "source_part", "check_result"):
        store.run(f"DELETE FROM {table}")
    for old in shop.workspace.inbox.iterdir():
        old.unlink()
    for number, rows in enumerate(files):
        shop.write(f"repair_line_{number}.csv", HEADER, rows)
    loader.load(shop.workspace.inbox, shop.workspace.landed, lambda _: None)
    # A file of the same bytes as one before it is skipped whole, so distinct contents are what lands.
    distinct = {tuple(rows) for rows in files}
    landed, kept, aside, repeats = store.rows(
        "SELECT coalesce(sum(n_landed), 0), coalesce(sum(n_kept), 0), coalesce(sum(n_quarantined), 0), "
        "coalesce(sum(n_repeats), 0) FROM source_part"
    )[0]
    blank = sum(all(cell == "" for cell in row) for rows in distinct for row in rows)
    assert landed in {sum(map(len, distinct)), sum(map(len, distinct)) - blank}
    assert landed == kept + aside + repeats
    assert store.value("SELECT count(*) FROM raw_repair_line") == landed
    assert store.value("SELECT count(*) FROM quarantined_row") == aside
    assert store.value("SELECT count(*) FROM repair_line") == kept
    # No two standing rows share a key.
    assert (
        store.value(
            "SELECT count(*) FROM (SELECT 1 FROM repair_line WHERE superseded_at IS NULL "
            "GROUP BY repair_order_id, line_no HAVING count(*) > 1)"
        )
        == 0
    )
