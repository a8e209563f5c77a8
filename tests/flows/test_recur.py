"""`longmile recur` on published data, and on files with everything wrong."""

from __future__ import annotations

import csv
import json
from io import StringIO
from math import erfc, exp, log, sqrt
from pathlib import Path

import pytest
from typer.testing import CliRunner

from longmile.pipelines.cli import app
from longmile.pipelines.errors import LivesError, ReconciliationError, UnreadableFileError
from longmile.pipelines.flows.recur import recur_files, recur_table

REFERENCE = Path(__file__).parents[1] / "reference"
EXPECTED = json.loads((REFERENCE / "repairs.json").read_text(encoding="utf-8"))["data"]
Z = 1.959963984540054  # the 97.5 % point of the standard normal


def write(folder, name, text):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def recur(folder, events, windows, **asked):
    """The answer as it would be read back from JSON; files given as text."""
    paths = write(folder, "repairs.csv", events), write(folder, "windows.csv", windows)
    return json.loads(json.dumps(recur_files(*paths, **asked), allow_nan=False))


def renamed(folder, data, **names):
    """A copy of a reference file with its columns renamed."""
    with (REFERENCE / f"{data}.csv").open(newline="", encoding="utf-8") as file:
        header, *rows = csv.reader(file)
    path = folder / f"{data}.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([[names.get(name, name) for name in header], *rows])
    return path


def check_curve(points, table):
    for point, answer in zip(points, table, strict=True):
        keys = {
            "estimate": "mcf", "se_robust": "se_robust", "lower": "lo_log", "upper": "hi_log",
            "lower_plain": "lo_plain", "upper_plain": "hi_plain", "se_poisson": "se_poisson",
        }  # fmt: skip
        for ours, theirs in keys.items():
            assert point["number"][ours] == pytest.approx(answer[theirs], rel=1e-12), (answer["time"], theirs)


@pytest.mark.parametrize(("name", "files"), [("cylinders", "cylinder"), ("sim_repairs", "sim_repairs")])
def test_published_data_through_the_files(tmp_path, name, files):
    answer = EXPECTED[name]
    events = renamed(tmp_path, f"{files}_events", id="unit", time="at")
    windows = renamed(tmp_path, f"{files}_windows", id="unit")
    times = sorted({row["eval_time"] for row in answer["mcf"]})
    result = recur_files(events, windows, at=times)
    [stratum] = result["strata"]
    assert (stratum["status"], stratum["by"], stratum["n_repairs"]) == ("ok", {}, answer["events"])
    assert (result["repairs"]["n_rows"], result["repairs"]["n_set_aside"]) == (answer["events"], 0)
    assert stratum["n_windows"] == result["windows"]["n_kept"] == answer["power_law"]["n_windows"]
    check_curve(stratum["mean_cumulative"], {row["eval_time"]: row for row in answer["mcf"]}.values())
    law = stratum["models"]["power_law"]
    for key, theirs in {"beta": "beta", "lambda": "lambda", "eta": "eta"}.items():
        assert law[key]["estimate"] == pytest.approx(answer["power_law"][theirs], rel=1e-9)
    assert law["log_likelihood"] == pytest.approx(answer["power_law"]["loglik"], rel=1e-9)
    assert [law["beta"]["lower"], law["beta"]["upper"]] == pytest.approx(
        answer["power_law"]["beta_ci95_wald_log"], rel=1e-6
    )
    assert law["exact"] is None


def test_every_repair_of_the_valve_seats(tmp_path):
    data = list(csv.DictReader((REFERENCE / "valve_seats.csv").read_text(encoding="utf-8").splitlines()))
    events = "unit,at\n" + "".join(f"{r['id']},{r['time']}\n" for r in data if r["event"] == "1")
    windows = "unit,start,end\n" + "".join(f"{r['id']},0,{r['time']}\n" for r in data if r["event"] == "0")
    [stratum] = recur(tmp_path, events, windows)["strata"]
    answer = {row["time"]: row for row in EXPECTED["valve_seats"]["mcf"]}
    assert [point["t"] for point in stratum["mean_cumulative"]] == list(answer)
    check_curve(stratum["mean_cumulative"], answer.values())
    assert (stratum["n_units"], stratum["n_repairs"]) == (41, 48)


def test_the_published_system_of_one_unit(tmp_path):
    answer = EXPECTED["nist_repairs10"]
    events = renamed(tmp_path, "nist_repairs10", id="unit", time="at")
    windows = write(tmp_path, "windows.csv", "unit,start,end\n1,0,1500\n")
    result = recur_files(events, windows, confidence=0.8)
    [stratum] = result["strata"]
    modified, tests = stratum["models"]["power_law"]["modified"], stratum["trend_tests"]
    assert modified["beta"] == pytest.approx(answer["unbiased"]["beta"], rel=1e-12)
    between = modified["miles_between_at_end"]
    assert [round(between["lower"], 4), round(between["upper"], 4)] == answer["published"]["mtbf_ci80"]
    assert tests["laplace"]["z"] == pytest.approx(answer["laplace_z"], rel=1e-12)
    assert tests["mil_hdbk_189"]["chi_square"] == pytest.approx(answer["mil_hdbk_chisq"], rel=1e-12)
    # One unit: nothing says how units differ.
    assert stratum["status"] == "thin"
    assert {point["number"]["lower"] for point in stratum["mean_cumulative"]} == {None}
    assert result["repairs"]["ignored_columns"] == ["end"]


# Worked by hand: at 20 both are watched, at 50 b alone. Cost: 100/2 + 40; units differ at 20 only, by 50 and by 1/2.
HAND = "unit,at,paid\na,20,100\nb,50,40\n", "unit,start,end\na,0,40\nb,10,90\n"


def test_hand_worked_number_and_cost(tmp_path):
    result = recur(tmp_path, *HAND, cost="paid", at=[30, 60, 120])
    [stratum] = result["strata"]
    early, late, beyond = stratum["mean_cumulative"]
    assert [early["number"]["estimate"], late["number"]["estimate"], late["cost"]["estimate"]] == [0.5, 1.5, 90]
    # Each unit is 1/4 off the mean, one up and one down; in money 25.
    assert late["number"]["se_robust"] == pytest.approx(sqrt(2) / 4, rel=1e-14)
    assert late["cost"]["se_robust"] == pytest.approx(sqrt(2) * 25, rel=1e-14)
    assert late["cost"]["upper"] == pytest.approx(90 * exp(Z * sqrt(2) * 25 / 90), rel=1e-14)
    assert (late["at_risk"], late["n_repairs"], late["beyond_last_mileage"]) == (1, 2, False)
    assert (beyond["at_risk"], beyond["beyond_last_mileage"], beyond["unwatched_miles"]) == (0, True, 30)
    assert (stratum["total_cost"], stratum["miles_watched"], stratum["last_mileage"]) == (140, 120, 90)
    assert stratum["rate"]["estimate"] == pytest.approx(2 / 120, rel=1e-15)
    assert (stratum["status"], stratum["n_units"], stratum["n_units_repaired"]) == ("thin", 2, 2)
    # A constant rate: 2 (log(2/120) - 1).
    constant = stratum["models"]["constant"]
    assert constant["log_likelihood"] == pytest.approx(2 * (log(2 / 120) - 1), rel=1e-14)
    assert constant["aic"] == pytest.approx(2 - 4 * (log(2 / 120) - 1), rel=1e-14)
    for model in ("power_law", "log_linear"):
        law = stratum["models"][model]
        gain = 2 * (law["log_likelihood"] - constant["log_likelihood"])
        assert law["against_constant"]["chi_square"] == pytest.approx(gain, rel=1e-12)
        # Chi-square with 1 degree of freedom: P(> x) = 2 (1 - Phi(root x)) = erfc(root(x / 2)).
        assert law["against_constant"]["p"] == pytest.approx(erfc(sqrt(gain / 2)), rel=1e-9)
    expected = stratum["models"]["power_law"]["expected"]
    assert [(row["t"], row["extrapolated"]) for row in expected] == [(30, False), (60, False), (120, True)]


def test_without_a_cost_column_there_is_no_cost(tmp_path):
    result = recur(tmp_path, *HAND)
    [stratum] = result["strata"]
    assert (stratum["total_cost"], stratum["mean_cumulative"][0]["cost"]) == (None, None)
    assert result["repairs"]["ignored_columns"] == ["paid"]


def test_a_repair_belongs_to_the_group_of_its_window(tmp_path):
    windows = "Unit,START,end,site,note\na,0,40,north,x\na,40,90,south,y\nb,0,90,south,\nc,0,10,west,\n"
    events = "unit,at\na,40\na,41\nb,60\n"
    result = recur(tmp_path, events, windows, by=["site"])
    found = {s["by"]["site"]: (s["n_units"], s["n_repairs"], s["miles_watched"], s["status"]) for s in result["strata"]}
    assert found == {
        "north": (1, 1, 40, "thin"),
        "south": (2, 2, 140, "thin"),
        "west": (1, 0, 10, "no_failures"),
    }
    assert result["windows"]["ignored_columns"] == ["note"]
    west = result["strata"][2]
    # -log(0.025) / 10, the exact two-sided upper limit when nothing failed.
    assert west["rate"]["upper"] == pytest.approx(3.688879454113936 / 10, rel=1e-12)
    assert west["models"]["power_law"]["status"] == "no_failures"
    assert (west["models"]["lowest_aic"], west["trend_tests"]["laplace"]["z"]) == (None, None)


def test_overlapping_windows_are_one_window(tmp_path):
    windows = "unit,start,end\na,0,40\na,0,40\na,30,60\na,60,70\na,5,20\n"
    result = recur(tmp_path, "unit,at\na,35\na,65\n", windows)
    [stratum] = result["strata"]
    # 0-60 and 60-70: two windows of five rows.
    assert (stratum["n_windows"], stratum["miles_watched"], stratum["n_units"]) == (2, 70, 1)
    read = result["windows"]
    assert (read["n_rows"], read["n_kept"], read["n_set_aside"], read["n_merged"]) == (5, 5, 0, 3)


def test_windows_that_overlap_in_two_groups_are_all_set_aside(tmp_path):
    windows = "unit,start,end,site\na,0,40,north\na,30,60,south\na,60,90,south\nb,0,50,north\n"
    result = recur(tmp_path, "unit,at\na,35\na,80\nb,5\n", windows, by=["site"])
    faults = [(fault["row"], fault["column"], fault["reason"]) for fault in result["windows"]["set_aside"]]
    reason = "overlaps a window of the same unit in another group"
    assert faults == [(1, "start", reason), (2, "start", reason)]
    assert [(fault["row"], fault["column"]) for fault in result["repairs"]["set_aside"]] == [(1, "at")]
    assert {s["by"]["site"]: s["n_repairs"] for s in result["strata"]} == {"south": 1, "north": 1}


def test_faulty_rows_of_both_files_are_set_aside_with_the_reason(tmp_path):
    windows = ["a,0,100", "b,50,50", "c,,10", ",0,10", "d,x,10", "e,-1,10", "f,0,10,7", "g,5,1e999"]
    events = [
        "a,50,3", "a,0,3", "a,101,3", "z,5,3", "b,50,3", ",5,3", "a,,3", "a,soon,3", "a,-5,3", "a,60,", "a,60,-1",
        "a,70,x", "a,80,0", "a,1,000,3", " a , 90 ,2",
    ]  # fmt: skip
    result = recur(
        tmp_path,
        "unit,at,cost\n" + "\n".join(events) + "\n",
        "unit,start,end\n" + "\n".join(windows) + "\n",
        cost="cost",
    )
    listed = {
        name: [(fault["row"], fault["column"], fault["reason"]) for fault in result[name]["set_aside"]]
        for name in ("windows", "repairs")
    }
    assert listed["windows"] == [
        (2, "end", "not above start: 50"),
        (3, "start", "empty; 0 stands for watched from new"),
        (4, "unit", "empty"),
        (5, "start", "not a number: x"),
        (6, "start", "below 0: -1"),
        (7, "", "4 cells, the header has 3"),
        (8, "end", "not a number: 1e999"),
    ]
    assert listed["repairs"] == [
        (2, "at", "in no window (start, end] of its unit: 0"),
        (3, "at", "in no window (start, end] of its unit: 101"),
        (4, "unit", "no window that can be used for this unit: z"),
        (5, "unit", "no window that can be used for this unit: b"),
        (6, "unit", "empty"),
        (7, "at", "empty"),
        (8, "at", "not a number: soon"),
        (9, "at", "below 0: -5"),
        (10, "cost", "empty"),
        (11, "cost", "below 0: -1"),
        (12, "cost", "not a number: x"),
        (14, "", "4 cells, the header has 3"),
    ]
    assert (result["windows"]["n_kept"], result["windows"]["n_set_aside"]) == (1, 7)
    assert (result["repairs"]["n_kept"], result["repairs"]["n_set_aside"]) == (3, 12)
    [stratum] = result["strata"]
    assert (stratum["n_repairs"], stratum["total_cost"]) == (3, 5)


def test_rows_that_do_not_add_up_are_a_fault_of_the_program(monkeypatch, tmp_path):
    from longmile.pipelines.steps import recur_input

    def losing(at, unit, *windows, cost, stratum, **groups):
        return whole(at[:-1], unit[:-1], *windows, cost=cost, stratum=stratum[:-1], **groups)

    whole = recur_input.repair_history
    monkeypatch.setattr(recur_input, "repair_history", losing)
    with pytest.raises(ReconciliationError, match="2 rows, 1 used and 0 set aside"):
        recur(tmp_path, *HAND)


@pytest.mark.parametrize(
    ("events", "windows", "asked", "words"),
    [
        ("unit,mileage\na,5\n", HAND[1], {}, ["repairs.csv", "missing column at", "Found: unit, mileage"]),
        (HAND[0], "unit,from,to\na,0,9\n", {}, ["windows.csv", "missing columns start, end"]),
        (HAND[0], HAND[1], {"cost": "piad"}, ["repairs.csv", "no column `piad` (asked by --cost)", "Nearest: paid"]),
        (HAND[0], HAND[1], {"by": ["unti"]}, ["windows.csv", "no column `unti`", "--by", "Nearest: unit"]),
        (HAND[0], HAND[1], {"by": ["paid"]}, ["windows.csv", "columns of the windows file"]),
        ("", HAND[1], {}, ["repairs.csv", "a row per repair"]),
        (HAND[0], "", {}, ["windows.csv", "a row per window"]),
    ],
)
def test_a_file_that_cannot_be_used_is_named_with_what_was_found(tmp_path, events, windows, asked, words):
    with pytest.raises(UnreadableFileError) as error:
        recur(tmp_path, events, windows, **asked)
    for word in words:
        assert word in str(error.value)


@pytest.mark.parametrize("asked", [{"at": [0.0]}, {"at": [float("inf")]}, {"confidence": 95.0}])
def test_questions_that_cannot_be_asked_are_refused(tmp_path, asked):
    with pytest.raises(LivesError, match="--"):
        recur(tmp_path, *HAND, **asked)


def test_files_of_nothing_but_faults_say_so(tmp_path):
    result = recur(tmp_path, "unit,at\na,5\n", "unit,start,end\na,5,x\n")
    assert (result["strata"], result["repairs"]["n_set_aside"], result["windows"]["n_set_aside"]) == ([], 1, 1)
    assert "No window in the file could be used" in printed(result)
    empty = recur(tmp_path, "unit,at\n", "unit,start,end\na,0,5\n")
    assert empty["strata"][0]["status"] == "no_failures"
    assert empty["strata"][0]["mean_cumulative"] == []
    printed(empty)


def printed(result):
    from rich.console import Console

    page = StringIO()
    Console(width=150, file=page).print(recur_table(result))
    return page.getvalue()


def test_the_table_says_it_in_plain_words(tmp_path):
    events = renamed(tmp_path, "sim_repairs_events", id="unit", time="at")
    windows = renamed(tmp_path, "sim_repairs_windows", id="unit")
    text = printed(recur_files(events, windows, at=[40000, 150000]))
    for words in (
        "Repairs per unit by 40,000 miles",
        "0.741",  # 0.74139 in the reference
        "0.6 to 0.916",
        "0 watched there, beyond the last mileage watched: at least so many",
        "within units, repairs come faster as the miles go on",
        "the rate rises with the mileage",
        "1.32 to 1.66",
        "Columns of sim_repairs_windows.csv not used: family",
    ):
        assert words in text, words
    bad = printed(recur(tmp_path, HAND[0] + "z,5,1\n", HAND[1] + "b,5,20\n", cost="paid"))
    for words in (
        "1 of 3 rows of repairs.csv set aside:",
        "row 3, unit: no window that can be used for this unit: z",
        "1 windows overlapped another of the same unit and were merged with it.",
        "few repairs or few units: read the limits, not the estimate",
        "Cost per unit by 50 miles",
    ):
        assert words in bad, words


def test_open_limits_and_fits_without_information_are_said_to_be_so(tmp_path):
    # Ten miles watched, 100,000 miles on: two repairs in their middle say nothing of a power law from 0.
    result = recur(tmp_path, "unit,at\na,99994.9998\na,99995\n", "unit,start,end\na,99990,100000\n")
    law = result["strata"][0]["models"]["power_law"]
    assert (law["status"], law["reason"], law["beta"]["estimate"]) == ("did_not_converge", "no_information", None)
    assert "watched too short" in printed(result)
    # n - z root(n / 2) = 2 - 2.58 x 1 < 0 at 99 %: the large-sample formula has no upper limit.
    result = recur(tmp_path, "unit,at\na,30\na,80\n", "unit,start,end\na,0,100\n", confidence=0.99)
    between = result["strata"][0]["models"]["power_law"]["modified"]["miles_between_at_end"]
    assert (between["upper"], between["unbounded"]) == (None, ["upper"])


def test_the_command_line(tmp_path):
    events, windows = write(tmp_path, "e.csv", HAND[0]), write(tmp_path, "w.csv", HAND[1])
    asked = ["recur", str(events), "--windows", str(windows), "--cost", "paid", "--at", "30,60", "--json"]
    done = CliRunner().invoke(app, asked)
    assert done.exit_code == 0, done.output
    result = json.loads(done.output)
    assert [point["cost"]["estimate"] for point in result["strata"][0]["mean_cumulative"]] == [50, 90]
    assert (result["repairs"]["file"], result["windows"]["file"]) == ("e.csv", "w.csv")
    table = CliRunner().invoke(app, [*asked[:-1], "--by", "unit"])
    assert table.exit_code == 0
    assert "unit a" in table.output
    assert "unit b" in table.output
    assert CliRunner().invoke(app, ["recur", str(events)]).exit_code == 2
