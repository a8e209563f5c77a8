"""A workspace folder: where its parts lie, and making a new one. Opens no database."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from longmile.pipelines.errors import WorkspaceError
from longmile.pipelines.settings import DEFAULT_SETTINGS, SETTINGS_FILE, Settings, read_settings


@dataclass(frozen=True)
class Workspace:
    """Paths of a workspace, and its settings."""

    folder: Path
    settings: Settings

    @property
    def inbox(self) -> Path:
        """Where export files are dropped."""
        return self.folder / "inbox"

    @property
    def landed(self) -> Path:
        """Untouched copies of every file seen, named by the hash of their content."""
        return self.folder / "landed"

    @property
    def store(self) -> Path:
        """The DuckDB file."""
        return self.folder / "longmile.duckdb"

    @property
    def published(self) -> Path:
        """Pages and tables, to be opened from disk."""
        return self.folder / "published"

    @property
    def scheduler(self) -> Path:
        """The scheduler's own files."""
        return self.folder / ".scheduler"


def create_workspace(folder: Path) -> Workspace:
    """A new workspace in the folder, which may exist but must not be one already (WorkspaceError)."""
    if (folder / SETTINGS_FILE).exists():
        raise WorkspaceError(f"{folder}: is a workspace already ({SETTINGS_FILE} is there). Nothing was changed.")
    try:
        for name in ("inbox", "sources", "landed", "published"):
            (folder / name).mkdir(parents=True, exist_ok=True)
        (folder / SETTINGS_FILE).write_text(DEFAULT_SETTINGS, encoding="utf-8")
    except OSError as error:
        raise WorkspaceError(f"{folder}: cannot be made a workspace ({error.strerror or error}).") from error
    return open_workspace(folder)


def open_workspace(folder: Path) -> Workspace:
    """The workspace in the folder; WorkspaceError saying how to make one where it is none."""
    if not (folder / SETTINGS_FILE).is_file():
        raise WorkspaceError(f"{folder}: is no workspace (no {SETTINGS_FILE}). Make one with `longmile init {folder}`.")
    try:
        for name in ("inbox", "landed"):
            (folder / name).mkdir(exist_ok=True)
    except OSError as error:
        raise WorkspaceError(f"{folder}: {name} cannot be made a folder ({error.strerror or error}).") from error
    return Workspace(folder, read_settings(folder / SETTINGS_FILE))
