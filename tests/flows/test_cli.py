"""The command line as a process of its own: exit codes, what is said and where, and what the README promises of it."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import duckdb
import pytest
import typer

from longmile.pipelines import errors
from longmile.pipelines.cli import app
from longmile.pipelines.settings import SETTINGS_FILE
from longmile.pipelines.workspace import create_workspace
from longmile.schemas.shop import TRADE_TABLES

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ORDER = "repair_order_id,vehicle_id,opened_on,odometer_in"
COMMANDS = typer.main.get_command(app).commands  # type: ignore[attr-defined]


def longmile(*words: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "longmile.pipelines.cli", *map(str, words)]
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, encoding="utf-8", check=False, timeout=120)


def assert_said(done: subprocess.CompletedProcess[str], exit_code: int, *words: str) -> None:
    """It ended with that code and told why on standard error, in one line that begins with the program's name."""
    assert done.returncode == exit_code, done.stdout + done.stderr
    assert "Traceback" not in done.stdout + done.stderr
    assert done.stderr.startswith("longmile: ")
    assert done.stderr.count("\n") == 1
    for word in words:
        assert word in done.stderr


def small(shop) -> None:
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [("1", "Elm")])
    shop.write("repair_order.csv", ORDER, [("A", 1, "2020-01-01", 10_000), ("B", 1, "2021-01-01", 20_000)])


# --- exit codes, each reached once


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["frobnicate"], "No such command"),
        (["run", "--as-of", "2021-02-29"], "does not match the"),
        (["run", "--nosuch"], "No such option"),
        (["fit"], "Missing argument"),
        (["fit", "lives.csv", "--at", "12,many"], "'many' is not a number"),
        (["fit", "lives.csv", "--limits", "guessed"], "neither profile nor wald"),
    ],
)
def test_2_a_command_line_that_is_not_understood(tmp_path, words: list[str], why: str):
    (tmp_path / "lives.csv").write_text("exit,event\n10,1\n", encoding="utf-8")
    done = longmile(*words, cwd=tmp_path)
    assert done.returncode == 2, done.stderr
    assert done.stdout == ""
    assert done.stderr.startswith("Usage: ")
    # The message is set in a box as wide as the terminal, so a line may end inside it.
    assert why in re.sub(r"[\s│]+", " ", done.stderr)
    assert "Traceback" not in done.stderr


def test_3_no_workspace(tmp_path):
    assert_said(longmile("run", "nowhere", cwd=tmp_path), 3, "nowhere: is no workspace", "longmile init nowhere")


def test_3_no_workspace_to_serve(tmp_path):
    assert_said(longmile("serve", "nowhere", cwd=tmp_path), 3, "nowhere: is no workspace")


def test_3_a_workspace_is_not_made_twice(tmp_path):
    done = longmile("init", "shop", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "shop/inbox" in done.stdout
    settings = tmp_path / "shop" / SETTINGS_FILE
    settings.write_text('[shop]\nname = "Mine"\n', encoding="utf-8")
    for command in ("init", "demo"):
        assert_said(longmile(command, "shop", cwd=tmp_path), 3, "is a workspace already", "Nothing was changed")
    assert settings.read_text(encoding="utf-8") == '[shop]\nname = "Mine"\n'


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        ("[estimates]\nconfidense = 0.9\n", ["[estimates] confidense is not known", "Nearest is confidence"]),
        ("[estimates]\nconfidence = 95\n", ["[estimates] confidence = 95", "from 0.5 to 0.999"]),
        ("[estimates\n", ["is not valid TOML"]),
    ],
)
def test_3_settings_that_cannot_be_used(tmp_path, settings: str, words: list[str]):
    workspace = create_workspace(tmp_path / "shop")
    (workspace.folder / SETTINGS_FILE).write_text(settings, encoding="utf-8")
    assert_said(longmile("run", "shop", cwd=tmp_path), 3, SETTINGS_FILE, *words)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("nosuch.csv", None, ["nosuch.csv: cannot be opened", "Expected a CSV file"]),
        ("empty.csv", b"", ["empty.csv: empty", "Expected a header line"]),
        ("other.csv", b"colour,size\nred,1\n", ["other.csv: "]),
        ("picture.csv", b"\x89PNG\r\n\x1a\n\xff\xfe", ["picture.csv: not UTF-8 text"]),
        (".", None, [".: cannot be opened"]),
    ],
)
def test_4_a_table_of_lives_that_cannot_be_read(tmp_path, name: str, content: bytes | None, words: list[str]):
    if content is not None:
        (tmp_path / name).write_bytes(content)
    done = longmile("fit", name, "--json", cwd=tmp_path)
    assert_said(done, 4, *words)
    assert done.stdout == ""


def test_5_a_store_that_another_process_holds(shop):
    script = "import duckdb, sys; c = duckdb.connect(sys.argv[1]); print('open', flush=True); sys.stdin.read()"
    command = [sys.executable, "-c", script, str(shop.workspace.store)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout.readline().strip() == "open"
        done = longmile("run", shop.folder, cwd=shop.folder)
        holder.stdin.close()
    assert_said(done, 5, "another process is using the store", str(holder.pid), "Wait until it has finished")


def test_7_nothing_to_work_on(shop):
    assert_said(longmile("run", shop.folder, cwd=shop.folder), 7, "nothing to work on", "Expected export files")


def test_7_a_rule_that_stops_the_run(shop):
    small(shop)
    shop.write("repair_order.csv", ORDER, [("A", 1, "2020-01-01", -1)])
    done = longmile("run", shop.folder, cwd=shop.folder)
    assert_said(done, 7, "there must be at least one repair order")
    assert "1 landed = 0 kept + 1 quarantined" in done.stdout


def test_8_what_no_life_can_be_asked(tmp_path):
    (tmp_path / "lives.csv").write_text("exit,event\n10,1\n", encoding="utf-8")
    assert_said(longmile("fit", "lives.csv", "--confidence", "2", cwd=tmp_path), 8, "between 0 and 1")


def test_3_a_file_in_the_place_of_the_inbox(shop):
    shop.workspace.inbox.rmdir()
    shop.workspace.inbox.write_text("a file in the place of a folder", encoding="utf-8")
    assert_said(longmile("run", shop.folder, cwd=shop.folder), 3, str(shop.folder), "inbox cannot be made a folder")


def test_1_what_the_system_refuses(shop):
    shop.workspace.scheduler.write_text("a file in the place of a folder", encoding="utf-8")
    assert_said(longmile("serve", shop.folder, cwd=shop.folder), 1, f"{shop.workspace.scheduler}: ", "run again")


def test_1_a_folder_in_the_place_of_the_store(shop):
    shop.workspace.store.mkdir()
    assert_said(longmile("run", shop.folder, cwd=shop.folder), 1, f"{shop.workspace.store}: cannot be opened")


def test_1_what_was_not_foreseen(shop):
    with duckdb.connect(str(shop.workspace.store)) as connection:
        connection.execute("CREATE TABLE run (run_id VARCHAR)")
    done = longmile("run", shop.folder, cwd=shop.folder)
    assert_said(done, 1, "not foreseen: BinderException", "VARCHAR", "please report it")
    assert re.search(r"\(\w+\.py, line \d+\)", done.stderr)


# --- what is said


def test_hostile_names_and_a_file_in_the_place_of_the_pages_stop_nothing(shop_at, tmp_path):
    shop = shop_at(tmp_path / "Café du coin, été")
    shop.write("engine_family.csv", "engine_family,cylinders", [("Elm", 4)])
    shop.write("vehicle.csv", "vehicle_id,engine_family", [("1", "Elm")])
    names = [
        "repair_order\nSet aside: all of it.csv",
        "repair_order 'x' \"y\".csv",
        "=cmd|' -C calc'!A0.csv",
        "\x1b[31mrepair_order.csv",
        "<b>[bold]repair_order[red].csv",
        # A byte that is no UTF-8, as in names from other systems.
        os.fsdecode(b"repair_order_\xff.csv"),
    ]
    for number, name in enumerate(names):
        shop.write(name, ORDER, [(f"A{number}", 1, f"2020-01-0{number + 1}", 10_000 + number)])
    shop.workspace.published.rmdir()
    shop.workspace.published.write_text("a file in the place of a folder", encoding="utf-8")

    done = longmile("run", shop.folder, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    for shown in (
        r"  repair_order\nSet aside: all of it.csv: 1 landed",
        "  repair_order 'x' \"y\".csv: 1 landed",
        "  =cmd|' -C calc'!A0.csv: 1 landed",
        r"  \x1b[31mrepair_order.csv: 1 landed",
        "  <b>[bold]repair_order[red].csv: 1 landed",
        r"  repair_order_\udcff.csv: 1 landed",
    ):
        assert shown in done.stdout
    assert "\x1b" not in done.stdout
    assert not [line for line in done.stdout.splitlines() if line.startswith("Set aside")]
    assert done.stdout.splitlines()[-1].endswith(f"Open in a browser: {shop.workspace.published / 'briefing.html'}")
    assert shop.query("SELECT count(*) FROM repair_order") == [(len(names),)]
    page = (shop.workspace.published / "data-quality.html").read_text(encoding="utf-8")
    assert "&lt;b&gt;[bold]repair_order[red].csv" in page
    assert "<b>[bold]" not in page


def test_a_second_run_says_that_nothing_is_new_and_what_is_still_set_aside(shop):
    small(shop)
    shop.write("photos.csv", "colour,size", [("red", 1)])
    first = longmile("run", shop.folder, cwd=shop.folder)
    again = longmile("run", shop.folder, cwd=shop.folder)
    for done in (first, again):
        assert (done.returncode, done.stderr) == (0, "")
        assert "Set aside: photos.csv: photos: neither the name nor the columns" in done.stdout
    assert "Nothing is new" not in first.stdout
    assert "Nothing is new" in again.stdout
    assert "Estimating" in first.stdout
    assert "Estimating" not in again.stdout


def test_fit_writes_strict_json_and_nothing_else(tmp_path):
    (tmp_path / "lives.csv").write_text("exit,event,fam\n10,1,a\n20,0,a\nx,1,b\n", encoding="utf-8")
    done = longmile("fit", "lives.csv", "--by", "fam", "--json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is no JSON")

    told = json.loads(done.stdout, parse_constant=refuse)
    assert told["file"] == "lives.csv"
    assert (told["n_rows"], told["n_set_aside"]) == (3, 1)
    assert [(s["by"], s["n_failures"], s["at_risk_total"]) for s in told["strata"]] == [({"fam": "a"}, 1, 30)]


def test_a_group_name_is_shown_as_it_is_written(tmp_path):
    (tmp_path / "lives.csv").write_text("exit,event,fam\n10,1,[/x]\n20,0,[red]a\n", encoding="utf-8")
    done = longmile("fit", "lives.csv", "--by", "fam", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "fam [/x]" in done.stdout
    assert "fam [red]a" in done.stdout


def test_help_lists_every_command(tmp_path):
    done = longmile("--help", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    listed = re.findall(r"^│ (\w+) ", done.stdout, re.MULTILINE)
    assert set(listed) == set(COMMANDS)


# --- what the README says


def spoken_commands(text: str) -> list[str]:
    """Everything after `longmile ` in code: in spans, and in the lines of fenced blocks, comments left out."""
    fence = r"^```\n(.*?)^```$"
    blocks = re.findall(fence, text, re.DOTALL | re.MULTILINE)
    lines = [line.split("#")[0] for block in blocks for line in block.splitlines()]
    spans = re.findall(r"`([^`\n]+)`", re.sub(fence, "", text, flags=re.DOTALL | re.MULTILINE))
    return [
        m.group(1).strip() for code in (*lines, *spans) if (m := re.search(r"(?:^|[/ ])longmile ([a-z][^>]*)", code))
    ]


def options_of(command: str) -> set[str]:
    return {option for parameter in COMMANDS[command].params for option in parameter.opts if option.startswith("--")}


def test_every_command_the_documents_speak_of_exists_with_its_options():
    spoken = spoken_commands(README) + spoken_commands(DEVELOPERS)
    assert {words.split()[0] for words in spoken} == set(COMMANDS)
    for words in spoken:
        command, *rest = words.split()
        assert {word for word in rest if word.startswith("--")} <= options_of(command), words


def test_every_option_is_in_the_readme_and_every_one_there_exists():
    named = set(re.findall(r"`(--[a-z-]+)", README))
    known = set().union(*map(options_of, COMMANDS))
    assert named == known - {"--help"}


def test_the_readme_lists_the_exit_codes_there_are():
    listed = [int(code) for code in re.findall(r"^\| (\d+) \| .+ \|$", README, re.MULTILINE)]
    kinds = [
        kind for kind in vars(errors).values() if isinstance(kind, type) and issubclass(kind, errors.LongmileError)
    ]
    # 0 is no error; 2 is the command-line parser's own.
    assert listed == sorted({0, 2} | {kind.exit_code for kind in kinds})


def test_the_readme_lists_the_columns_there_are():
    told = dict(re.findall(r"^\| (\w+) \| (.+) \|$", README.split("### The layout")[1], re.MULTILINE))
    for table in TRADE_TABLES[:4]:
        expected = ", ".join(c.incoming + (r"\*" if c.is_required else "") for c in table.columns)
        assert told[table.name] == expected


@pytest.mark.parametrize("kind", ["demo", "test"])
def test_the_readme_has_each_command_exactly_once(kind: str):
    marked = re.findall(rf"^<!-- {kind} command -->\n```\n(.+)\n```$", README, re.MULTILINE)
    assert len(marked) == 1
    assert README.count(f"<!-- {kind} command -->") == 1
    assert README.count(marked[0]) == 1
    assert marked[0].startswith("python3 -m venv .venv && ")
    assert marked[0].endswith({"demo": ".venv/bin/longmile demo", "test": ".venv/bin/python -m pytest"}[kind])


def test_ci_takes_the_test_command_from_the_readme():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    (line,) = re.findall(r"^command=.*$", script, re.MULTILINE)
    run = ["bash", "-euo", "pipefail", "-c", f"{line}\nprintf '%s\\n' \"$command\""]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=True)
    (written,) = re.findall(r"^<!-- test command -->\n```\n(.+)\n```$", README, re.MULTILINE)
    assert done.stdout == f"{written}\n"
