"""Pages and tables into `published/`: written beside it, then switched in by renaming.

So it is never half there.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

from longmile.pipelines.flows.frames import WITH_VINS, result_frames, shortened
from longmile.pipelines.sql import literal
from longmile.pipelines.store.store import Store
from longmile.pipelines.workspace import Workspace
from longmile.reports.frames import ResultFrames
from longmile.reports.page import briefing_page, estimates_page, methods_page, quality_page
from longmile.schemas.results import RESULT_TABLES

PAGES: dict[str, Callable[[ResultFrames], str]] = {
    "briefing.html": briefing_page,
    "estimates.html": estimates_page,
    "data-quality.html": quality_page,
    "methods.html": methods_page,
}
"""File name -> the function that makes the page."""

PUBLISHED_TABLES = (*(table.name for table in RESULT_TABLES), "walk_in", "quarantined_row")
"""Written as CSV and Parquet too, whole."""

_FORMULA_SIGNS = "'=', '+', '-', '@', chr(9), chr(13)"
"""First characters, as SQL, of a cell that a spreadsheet takes for a formula; it skips a tab or carriage return."""


def publish_pages(store: Store, workspace: Workspace, as_of: date, known_at: datetime, built_at: datetime) -> Path:
    """Write every page and table and switch them in; returns the path of the briefing."""
    frames = result_frames(store, workspace.settings, as_of, known_at, built_at)
    fresh = workspace.folder / ".published.new"
    _remove(fresh)
    fresh.mkdir()
    for name, make in PAGES.items():
        (fresh / name).write_text(make(frames), encoding="utf-8")
    _write_tables(store, fresh / "tables", is_vin_shown=workspace.settings.vins == "full")
    switch_in(fresh, workspace.published)
    return workspace.published / "briefing.html"


def _write_tables(store: Store, folder: Path, *, is_vin_shown: bool) -> None:
    """Result tables, a cell that a spreadsheet would take for a formula made harmless in the CSV."""
    folder.mkdir()
    for name in PUBLISHED_TABLES:
        query = f"SELECT * FROM {name} ORDER BY ALL"
        if not is_vin_shown:
            query = shortened(query, WITH_VINS.get(name, ()))
        store.run(f"COPY ({query}) TO {literal(str(folder / name) + '.parquet')} (FORMAT parquet)")
        columns = store.rows(f"SELECT column_name, column_type FROM (DESCRIBE {name})")
        shown = ", ".join(
            f"""CASE WHEN "{c}"[1] IN ({_FORMULA_SIGNS}) THEN '''' || "{c}" ELSE "{c}" END AS "{c}\""""
            if kind == "VARCHAR"
            else f'"{c}"'
            for c, kind in columns
        )
        # Ordered before the cells are changed, so that both files have the same order.
        rows = f"SELECT {shown} FROM ({query})"
        store.run(f"COPY ({rows}) TO {literal(str(folder / name) + '.csv')} (HEADER)")


def switch_in(fresh: Path, published: Path) -> None:
    """Put the fresh folder in the place of the published one, whatever stands there: a folder, a file or a link."""
    old = published.with_name(".published.old")
    _remove(old)
    if published.exists() or published.is_symlink():
        published.rename(old)
    fresh.rename(published)
    _remove(old)


def _remove(path: Path) -> None:
    """Remove a folder, a file or a link (not what it leads to), if there is one."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink(missing_ok=True)
