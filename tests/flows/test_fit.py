"""`longmile fit` on published data, and on files with everything wrong."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import pytest

from longmile.pipelines.errors import LivesError, UnreadableFileError
from longmile.pipelines.flows.fit import fit_file, fit_table

REFERENCE = Path(__file__).parents[1] / "reference"
FULL = ["shock_absorbers", "nist_weibull20", "nist_km20", "left_truncated_residents"]


@pytest.fixture(scope="module")
def expected():
    """Answers with their sources in the file."""
    return json.loads((REFERENCE / "life_data.json").read_text(encoding="utf-8"))["data"]


def fit(name, **asked):
    return json.loads(json.dumps(fit_file(REFERENCE / f"{name}.csv", **asked), allow_nan=False))


def write(tmp_path, text, encoding="utf-8"):
    path = tmp_path / "lives.csv"
    path.write_bytes(text.encode(encoding))
    return path


def check_survival(stratum, table):
    """Compared at the mileages of the table; limits are the log-log ones."""
    keys = {
        "at_risk": "at_risk_just_before",
        "survival": "S",
        "se": "se_greenwood",
        "lower": "lo_loglog",
        "upper": "hi_loglog",
        "cumulative_hazard": "H_nelson_aalen",
        "se_cumulative_hazard": "se_H_nelson_aalen",
    }
    for row, answer in zip(stratum["survival"], table, strict=True):
        for ours, theirs in keys.items():
            assert row[ours] == pytest.approx(answer[theirs], rel=1e-12), (answer["time"], theirs)


def check_weibull(weibull, answer, limits):
    assert weibull["status"] == "ok"
    assert weibull["log_likelihood"] == pytest.approx(answer["loglik"], rel=1e-9)
    for ours, theirs in {
        "shape": "shape",
        "scale": "scale",
        "se_log_shape": "se_log_sigma",
        "se_log_scale": "se_mu",
    }.items():
        assert weibull[ours] == pytest.approx(answer[theirs], rel=1e-6)
    for ours, theirs in {"mean": "mean_life", "median": "B50", "b10": "B10", "b1": "B1"}.items():
        low, high = ("profile_lo", "profile_hi") if limits == "profile" else ("lo", "hi")
        assert weibull[ours]["limits"] == limits
        assert weibull[ours]["estimate"] == pytest.approx(answer[theirs]["est"], rel=1e-6)
        if low in answer[theirs]:
            assert weibull[ours]["lower"] == pytest.approx(answer[theirs][low], rel=1e-6)
            assert weibull[ours]["upper"] == pytest.approx(answer[theirs][high], rel=1e-6)


@pytest.mark.parametrize("limits", ["profile", "wald"])
@pytest.mark.parametrize("name", FULL)
def test_published_data_through_the_file(name, limits, expected):
    answer = expected[name]
    table = answer["kaplan_meier"]["table"]
    horizon = answer["rmst"]["tau"]
    result = fit(name, at=[row["time"] for row in table], horizon=horizon, limits=limits)
    [stratum] = result["strata"]
    assert (result["n_rows"], result["n_set_aside"]) == (answer["n"], 0)
    assert (stratum["status"], stratum["by"]) == ("ok", {})
    assert (stratum["n_lives"], stratum["n_failures"]) == (answer["n"], answer["events"])
    assert stratum["at_risk_total"] == answer["exposure"]
    rate = stratum["rate"]
    assert rate["estimate"] == pytest.approx(answer["events"] / answer["exposure"], rel=1e-12)
    assert [rate["lower"], rate["upper"]] == pytest.approx(answer["poisson_rate_exact95"], rel=1e-10)
    check_survival(stratum, table)
    for row, theirs in zip(stratum["quantiles"], answer["kaplan_meier"]["quantiles_loglog"], strict=True):
        assert [row["estimate"], row["lower"], row["upper"]] == [theirs["est"], theirs["lo"], theirs["hi"]]
    mean = stratum["restricted_mean"]
    assert mean["beyond_last_mileage"] is False
    for ours, theirs in {
        "estimate": "rmst",
        "se": "se",
        "lower": "lo",
        "upper": "hi",
        "horizon": "tau",
    }.items():
        assert mean[ours] == pytest.approx(answer["rmst"][theirs], rel=1e-12)
    check_weibull(stratum["models"]["weibull"], answer["weibull"], limits)


@pytest.mark.parametrize("name", FULL)
def test_survival_and_conditional_survival_of_the_model(name, expected):
    answer = expected[name]["weibull"]
    [stratum] = fit(name, at=[row["t"] for row in answer["survival"]], limits="wald")["strata"]
    for row, theirs in zip(stratum["models"]["weibull"]["survival"], answer["survival"], strict=True):
        ours = [row["estimate"], row["lower"], row["upper"]]
        assert ours == pytest.approx([theirs["S"], theirs["lo"], theirs["hi"]], rel=1e-6)
    for theirs in answer["conditional"]:
        [again] = fit(name, at=[theirs["t"], theirs["t"] + theirs["w"]])["strata"]
        [row] = again["models"]["weibull"]["conditional"]
        assert (row["t"], row["w"]) == (theirs["t"], theirs["w"])
        assert row["estimate"] == pytest.approx(theirs["P_survive"], rel=1e-6)
        assert row["lower"] < row["estimate"] < row["upper"]


def test_simulated_pads_by_family(expected):
    answer = expected["sim_pads"]
    times = [row["time"] for row in answer["Alder-20"]["km"]]
    result = fit("sim_pads", by=["family"], at=times)
    assert sorted(stratum["by"]["family"] for stratum in result["strata"]) == ["Alder-20", "Birch-16"]
    for stratum in result["strata"]:
        theirs = answer[stratum["by"]["family"]]
        check_survival(stratum, theirs["km"])
        check_weibull(stratum["models"]["weibull"], theirs["weibull"], "profile")
    assert sum(stratum["n_failures"] for stratum in result["strata"]) == answer["events"]
    assert result["ignored_columns"] == ["id", "vehicle", "life_no"]


def test_wheels_looked_at_once(expected):
    [stratum] = fit("turbine_wheels")["strata"]
    # 432 wheels, 106 of them cracked: sums of the count column.
    assert (stratum["n_lives"], stratum["n_failures"]) == (432, 106)
    answer, ours = expected["turbine_wheels"]["weibull"], stratum["models"]["weibull"]
    for key, theirs in {
        "shape": "shape",
        "scale": "scale",
        "se_log_shape": "se_log_sigma",
        "se_log_scale": "se_mu",
    }.items():
        assert ours[key] == pytest.approx(answer[theirs], rel=1e-6)
    assert ours["log_likelihood"] == pytest.approx(answer["loglik"], rel=1e-9)


# (0, 10] failed; (0, 20] censored; (15, 30] failed: S = 1/2 and 0 (see the estimators' tests).
# Two failures over 10 + 20 + 15 = 45 miles.
def test_hand_worked_file_without_at_gives_every_failure(tmp_path):
    [stratum] = fit_file(write(tmp_path, "entry,exit,event\n0,10,1\n0,20,0\n15,30,1\n"))["strata"]
    assert [(row["t"], row["at_risk"], row["events"], row["survival"]) for row in stratum["survival"]] == [
        (10, 2, 1, 0.5),
        (30, 1, 1, 0.0),
    ]
    assert stratum["survival"][1]["lower"] is None
    assert stratum["status"] == "thin"
    assert (stratum["at_risk_total"], stratum["rate"]["estimate"]) == (45, pytest.approx(2 / 45, rel=1e-15))
    # Area to the largest mileage: 10 + 20 x 1/2 = 20.
    assert (stratum["restricted_mean"]["horizon"], stratum["restricted_mean"]["estimate"]) == (30, 20)


def test_other_removals_end_a_life_without_failure(tmp_path):
    text = "exit,event,count,cluster\n10,1,2,a\n20,2,3,a\n30,0,1,b\n40,3,1,c\n"
    [stratum] = fit_file(write(tmp_path, text))["strata"]
    counts = {key: stratum[key] for key in ("n_lives", "n_failures", "n_removals", "n_clusters", "largest_exit")}
    assert counts == {"n_lives": 7, "n_failures": 2, "n_removals": 4, "n_clusters": 3, "largest_exit": 40}
    # 2 x 10 + 3 x 20 + 30 + 40
    assert stratum["at_risk_total"] == 150


def test_faulty_rows_are_set_aside_with_row_column_and_reason(tmp_path):
    rows = [
        "0,10,1",
        "0,x,1",
        "5,5,0",
        "9,4,1",
        "0,20,0.5",
        "-1,20,0",
        ",20,0",
        "0,,1",
        "0,20,NA",
        "0,30,0",
        "0,1e999,0",
    ]
    result = fit_file(write(tmp_path, "entry,exit,event\n" + "\n".join(rows) + "\n"))
    assert [(fault["row"], fault["column"], fault["reason"]) for fault in result["set_aside"]] == [
        (2, "exit", "not a number: x"),
        (3, "exit", "not above entry: 5"),
        (4, "exit", "not above entry: 4"),
        (5, "event", "not a whole number: 0.5"),
        (6, "entry", "below 0: -1"),
        (7, "entry", "empty; 0 stands for watched from new"),
        (8, "exit", "empty"),
        (9, "event", "empty"),
        (11, "exit", "not a number: 1e999"),
    ]
    assert (result["n_rows"], result["n_set_aside"], result["strata"][0]["n_lives"]) == (11, 9, 2)


def test_rows_with_cells_too_many_are_set_aside_too(tmp_path):
    # An unquoted 12,000 shifts the cells: never cut off silently.
    result = fit_file(write(tmp_path, "entry,exit,event\n0,10,1\n0,12,000,1\n0,20,0\n"))
    assert result["set_aside"] == [{"row": 2, "column": "", "reason": "4 cells, the header has 3"}]
    assert (result["n_set_aside"], result["strata"][0]["n_lives"]) == (1, 2)


def test_a_quotation_mark_that_never_closes_is_no_way_to_lose_rows(tmp_path):
    with pytest.raises(UnreadableFileError, match="never closed"):
        fit_file(write(tmp_path, 'exit,event\n"10,1\n20,0\n30,1\n'))


def test_quoted_cells_blank_lines_and_line_ends_of_any_kind(tmp_path):
    text = 'exit,event,note\r\n"10",1,"a ""b"",\r\nc"\r\n\r\n 20 , 0,\r\n\r\n'
    result = fit_file(write(tmp_path, text))
    assert (result["strata"][0]["n_lives"], result["strata"][0]["n_failures"]) == (2, 1)
    # The blank line between is a row without a life; the one at the end is none.
    assert {fault["row"] for fault in result["set_aside"]} == {2}


def test_intervals_with_late_entry_exact_ends_and_faults(tmp_path):
    rows = [
        "0,5,10,1",
        "0,0,8,1",
        "3,0,9,1",
        "0,7,,2",
        "0,6,NA,1",
        "0,8,8,1",
        "0,9,4,1",
        "4,2,9,1",
        "0,0,,1",
        "0,5,soon,1",
        "0,3,9,0",
    ]
    result = fit_file(write(tmp_path, "entry,left,right,count\n" + "\n".join(rows) + "\n"))
    assert result["layout"] == "interval"
    assert [(fault["row"], fault["column"]) for fault in result["set_aside"]] == [
        (7, "right"), (8, "left"), (9, "left"), (10, "right"), (11, "count"),
    ]  # fmt: skip
    [stratum] = result["strata"]
    assert (stratum["n_lives"], stratum["n_failures"]) == (7, 4)
    # Miles to the mileage found: 10 + 8 + 6 + 2 x 7 + 6 + 8.
    assert stratum["at_risk_total"] == 52


def test_no_failures_and_strata_apart(tmp_path):
    text = "Exit,EVENT,engine family,shop\n10,0,F1,north\n20,0,F1,north\n10,1,F2,\n12,1,F2,\n"
    result = fit_file(write(tmp_path, text), by=["engine family", "shop"])
    one, two = result["strata"]
    assert one["by"] == {"engine family": "F1", "shop": "north"}
    assert (one["status"], one["rate"]["lower"]) == ("no_failures", 0)
    # -log(0.025) / 30, the exact two-sided upper limit when nothing failed.
    assert one["rate"]["upper"] == pytest.approx(3.688879454113936 / 30, rel=1e-12)
    assert one["models"]["weibull"]["status"] == "no_failures"
    assert one["models"]["weibull"]["mean"]["estimate"] is None
    assert one["survival"] == []
    assert (two["status"], two["n_failures"]) == ("thin", 2)
    json.dumps(result, allow_nan=False)


def test_an_open_side_is_said_to_be_open_and_extrapolation_is_flagged(tmp_path):
    # Two early failures among many that ran on (the estimators' tests show that no mean is too long).
    text = "entry,exit,event,count\n0,5,1,1\n0,10,1,1\n0,40,0,10\n50,60,0,10\n30,45,0,10\n30,70,0,10\n"
    [stratum] = fit_file(write(tmp_path, text))["strata"]
    mean = stratum["models"]["weibull"]["mean"]
    assert (mean["upper"], mean["unbounded"], mean["extrapolated"]) == (None, ["upper"], True)
    assert mean["lower"] > 0


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
def test_a_byte_order_mark_is_no_part_of_the_header(tmp_path, encoding):
    result = fit_file(write(tmp_path, "exit,event\n10,1\n20,0\n", encoding))
    assert result["strata"][0]["n_lives"] == 2


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "entry,exits,event\n0,10,1\n",
            ["lives.csv", "missing column exit", "Found: entry, exits, event", "Nearest", "exits"],
        ),
        ("exit\n10\n", ["missing column event", "`exit` and `event`"]),
        ("left\n10\n", ["missing column right"]),
        ("exit;event\n10;1\n", ["missing columns exit, event", "Found: exit;event", "separated by commas"]),
        ("", ["lives.csv", "empty"]),
        ("exit,event,event\n1,1,1\n", ["same name"]),
        ("exit,Event,event\n1,1,1\n", ["same name"]),
    ],
)
def test_a_file_that_cannot_be_used_is_named_with_what_was_found(tmp_path, text, words):
    with pytest.raises(UnreadableFileError) as error:
        fit_file(write(tmp_path, text))
    for word in words:
        assert word in str(error.value)


def test_unknown_group_column_names_the_nearest(tmp_path):
    with pytest.raises(UnreadableFileError, match=r"no column `famly`.*Nearest: family"):
        fit_file(write(tmp_path, "exit,event,family\n10,1,F\n"), by=["famly"])


def test_files_that_are_no_text_are_refused(tmp_path):
    path = tmp_path / "lives.csv"
    path.write_bytes(b"exit,event\n10,1\xff\n")
    with pytest.raises(UnreadableFileError, match="not UTF-8"):
        fit_file(path)
    with pytest.raises(UnreadableFileError, match="cannot be opened"):
        fit_file(tmp_path / "absent.csv")
    with pytest.raises(UnreadableFileError, match="cannot be opened"):
        fit_file(tmp_path)


@pytest.mark.parametrize("asked", [{"at": [0.0]}, {"at": [float("nan")]}, {"horizon": -1.0}, {"confidence": 1.0}])
def test_questions_that_cannot_be_asked_are_refused(tmp_path, asked):
    with pytest.raises(LivesError, match="--"):
        fit_file(write(tmp_path, "exit,event\n10,1\n"), **asked)


def test_a_file_of_nothing_but_faults_says_so(tmp_path):
    result = fit_file(write(tmp_path, "exit,event\nx,1\n"))
    assert (result["strata"], result["n_set_aside"]) == ([], 1)
    assert "No life in the file could be used" in printed(result)


def printed(result):
    from rich.console import Console

    page = StringIO()
    Console(width=140, file=page).print(fit_table(result))
    return page.getvalue()


def test_the_table_says_it_in_plain_words(tmp_path):
    text = printed(fit_file(REFERENCE / "shock_absorbers.csv", at=[10000, 60000]))
    for words in (
        "Failures per 100,000 miles",
        "1.76",
        "wear-out",
        "24,812",
        "31 at risk",
        "beyond the last mileage watched",
    ):
        assert words in text
    bad = printed(fit_file(write(tmp_path, "exit,event\n10,1\nx,1\n12,0\n")))
    for words in (
        "row 2, exit: not a number: x",
        "1 of 3 rows set aside",
        "one failure fixes a rate, not a shape",
    ):
        assert words in bad
