import os

import pytest

from longmile.pipelines.errors import UnreadableFileError
from longmile.pipelines.sources import landing
from longmile.pipelines.sources.landing import file_digest, keep_copy

# SHA-256 of the three bytes "abc": FIPS 180-4 example, NIST Cryptographic Standards examples, "SHA256.pdf".
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_digest_of_a_published_example(tmp_path):
    (tmp_path / "x").write_bytes(b"abc")
    assert file_digest(tmp_path / "x") == ABC


def test_copy_is_named_by_content_and_suffix(tmp_path):
    path = tmp_path / "Lines.CSV"
    path.write_bytes(b"abc")
    kept = keep_copy(path, tmp_path / "landed")
    assert kept == tmp_path / "landed" / f"{ABC}.csv"
    assert kept.read_bytes() == b"abc"
    assert [p.name for p in kept.parent.iterdir()] == [kept.name]


def test_a_copy_that_is_there_is_not_made_again(tmp_path, monkeypatch):
    path = tmp_path / "x.csv"
    path.write_bytes(b"abc")
    kept = keep_copy(path, tmp_path)
    monkeypatch.setattr(landing, "_copy", lambda *_: pytest.fail("copied again"))
    assert keep_copy(path, tmp_path) == kept


@pytest.mark.parametrize("moment", ["fsync", "replace"])
def test_a_failure_before_the_rename_leaves_no_copy(tmp_path, monkeypatch, moment):
    def fail(*_):
        raise KeyboardInterrupt

    path = tmp_path / "x.csv"
    path.write_bytes(b"abc")
    monkeypatch.setattr(*((os, "fsync") if moment == "fsync" else (type(path), "replace")), fail)
    with pytest.raises(KeyboardInterrupt):
        keep_copy(path, tmp_path / "landed")
    assert list((tmp_path / "landed").iterdir()) == []


def test_a_strange_suffix_is_left_out(tmp_path):
    path = tmp_path / ("x." + "long" * 9)
    path.write_bytes(b"abc")
    assert keep_copy(path, tmp_path / "landed").name == ABC


def test_a_link_that_leads_out_is_not_copied(tmp_path):
    (tmp_path / "inbox").mkdir()
    (tmp_path / "secret.csv").write_bytes(b"abc")
    (tmp_path / "inbox" / "x.csv").symlink_to(tmp_path / "secret.csv")
    with pytest.raises(UnreadableFileError, match="leads out of the folder"):
        keep_copy(tmp_path / "inbox" / "x.csv", tmp_path / "landed")


def test_a_pipe_has_no_digest(tmp_path):
    os.mkfifo(tmp_path / "x.csv")
    with pytest.raises(UnreadableFileError, match="not a regular file"):
        file_digest(tmp_path / "x.csv")


def test_a_file_that_cannot_be_opened_has_no_digest(tmp_path, monkeypatch):
    # Permissions do not stop a superuser, under which tests may run: the refusal is made here.
    def refuse(*_):
        raise PermissionError(13, "Permission denied")

    (tmp_path / "x.csv").write_bytes(b"abc")
    monkeypatch.setattr(type(tmp_path), "open", refuse)
    with pytest.raises(UnreadableFileError, match=r"^x\.csv: the file cannot be opened \(Permission denied\)"):
        file_digest(tmp_path / "x.csv")
