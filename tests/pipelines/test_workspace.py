"""The workspace folder: made once, opened with what is missing told, and no half-explained refusals."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from longmile.pipelines.errors import SettingsError, WorkspaceError
from longmile.pipelines.settings import DEFAULT_SETTINGS, SETTINGS_FILE, Settings
from longmile.pipelines.workspace import Workspace, create_workspace, open_workspace


def test_a_new_workspace_has_its_settings_and_folders_and_opens_again(tmp_path: Path):
    made = create_workspace(tmp_path / "deep" / "shop")
    assert made == Workspace(tmp_path / "deep" / "shop", Settings()) == open_workspace(made.folder)
    assert (made.folder / SETTINGS_FILE).read_text(encoding="utf-8") == DEFAULT_SETTINGS
    assert made.inbox.is_dir() and made.landed.is_dir() and made.published.is_dir()
    assert not made.store.exists()


def test_every_part_lies_inside_the_folder(tmp_path: Path):
    shop = Workspace(tmp_path, Settings())
    parts = (shop.inbox, shop.landed, shop.store, shop.published, shop.scheduler)
    assert [part.parent for part in parts] == [tmp_path] * len(parts)
    assert len(set(parts)) == len(parts)


def test_a_folder_that_holds_other_files_may_become_one(tmp_path: Path):
    (tmp_path / "notes.txt").write_text("kept", encoding="utf-8")
    create_workspace(tmp_path)
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "kept"


def test_a_second_init_is_refused_and_changes_nothing(tmp_path: Path):
    create_workspace(tmp_path)
    (tmp_path / SETTINGS_FILE).write_text('[shop]\nname = "Mine"\n', encoding="utf-8")
    with pytest.raises(
        WorkspaceError, match=rf"^{re.escape(str(tmp_path))}: is a workspace already .*Nothing was changed"
    ):
        create_workspace(tmp_path)
    assert open_workspace(tmp_path).settings.name == "Mine"


def test_a_folder_that_cannot_be_made_is_said_with_the_reason(tmp_path: Path):
    # A path under a plain file cannot be made by anyone, whatever the rights of the one who runs the test.
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(WorkspaceError, match=r"file/shop: cannot be made a workspace \(.+\)") as caught:
        create_workspace(tmp_path / "file" / "shop")
    assert isinstance(caught.value.__cause__, OSError)
    assert caught.value.exit_code == 3  # README, "Exit codes"


@pytest.mark.parametrize("exists", [True, False])
def test_a_folder_without_settings_names_the_command_that_makes_one(tmp_path: Path, exists: bool):
    folder = tmp_path / "shop"
    if exists:
        folder.mkdir()
    with pytest.raises(WorkspaceError, match=re.escape(f"Make one with `longmile init {folder}`")):
        open_workspace(folder)
    assert folder.exists() is exists


def test_folders_that_were_removed_are_made_again(tmp_path: Path):
    made = create_workspace(tmp_path)
    made.inbox.rmdir()
    made.landed.rmdir()
    open_workspace(tmp_path)
    assert made.inbox.is_dir() and made.landed.is_dir()


def test_a_file_where_a_folder_belongs_is_said(tmp_path: Path):
    made = create_workspace(tmp_path)
    made.inbox.rmdir()
    made.inbox.write_text("", encoding="utf-8")
    with pytest.raises(WorkspaceError, match=r"inbox cannot be made a folder \(.+\)"):
        open_workspace(tmp_path)


def test_settings_that_cannot_be_used_stop_the_opening(tmp_path: Path):
    create_workspace(tmp_path)
    (tmp_path / SETTINGS_FILE).write_text("[estimates]\nconfidence = 95\n", encoding="utf-8")
    with pytest.raises(SettingsError, match="confidence = 95"):
        open_workspace(tmp_path)
