"""Damaged files are read or refused, nothing else; every record is accounted for. No clock but for a hanging reader."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest

OUTCOMES = {"refused", "read and matched", "read, no table of the contract"}


def _failures(fuzz, n_files: int, seed: int) -> tuple[Counter, list[str]]:
    results = list(fuzz["mutated_files"].run(n_files, seed))
    assert len(results) == n_files
    counts = Counter(result.outcome for result in results)
    return counts, [f"{result.number} {result.name}: {result.failure}" for result in results if result.failure]


def test_four_hundred_damaged_files(fuzz):
    counts, failures = _failures(fuzz, 400, seed=7)
    assert not failures, "\n".join(failures)
    # Each outcome must occur often, or the damage is too small or too great to say anything.
    assert set(counts) == OUTCOMES
    assert min(counts.values()) > 40


@pytest.mark.simulation
def test_ten_thousand_damaged_files(fuzz):
    counts, failures = _failures(fuzz, 10_000, seed=1)
    assert not failures, "\n".join(failures)
    assert set(counts) == OUTCOMES


def test_every_sound_file_is_read(fuzz, tmp_path):
    for name, make in fuzz["sound_files"].MAKERS.items():
        assert fuzz["judged"].outcome(tmp_path, make(random.Random(3)), name) != "refused", name


def test_the_same_number_gives_the_same_file(fuzz):
    mutated = fuzz["mutations"].mutated
    assert all(mutated(number) == mutated(number) for number in range(40))


def test_a_record_that_is_lost_is_found_out(fuzz, tmp_path, monkeypatch):
    judged = fuzz["judged"]
    data = b"repair_order_id,code\nR1,P0301\nR2,P0302\n"
    assert judged.outcome(tmp_path, data, "x.csv") == "read and matched"
    read_file = judged.read_file

    def forgetful(path, name):
        return [replace(one, rows=one.rows.head(1), n_physical=1) for one in read_file(path, name)]

    monkeypatch.setattr(judged, "read_file", forgetful)
    with pytest.raises(judged.Broken, match="2 lines with anything in them, 1 records"):
        judged.outcome(tmp_path, data, "x.csv")


def test_a_reader_that_does_not_answer_is_a_failure(fuzz):
    # No file is read in no time at all.
    (result,) = fuzz["mutated_files"].run(1, seed=1, deadline=0.0)
    assert (result.outcome, result.failure) == ("no answer", "the reading process hung or died")
