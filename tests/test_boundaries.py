"""What may import what, what must be in the wheel, and what no file may be called."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FOLDERS = ("schemas", "pipelines", "reports")

# package -> what of longmile it may import. Every package may import schemas and itself; pipelines' errors and sql are
# words shared by all of pipelines.
MAY_IMPORT = {
    "schemas": (),
    "reports": (),
    "pipelines.errors": (),
    "pipelines.sql": (),
    "pipelines.settings": (),
    "pipelines.workspace": ("pipelines.settings",),
    "pipelines.sources": (),
    "pipelines.maps": ("pipelines.sources",),
    "pipelines.coding": (),
    "pipelines.store": (),
    "pipelines.checks": (),
    "pipelines.estimators": (),
    "pipelines.decisions": ("pipelines.estimators",),
    "pipelines.steps": ("pipelines.coding", "pipelines.estimators"),
    "pipelines.demo": (),
    "pipelines.flows": (
        "pipelines.settings",
        "pipelines.workspace",
        "pipelines.sources",
        "pipelines.maps",
        "pipelines.coding",
        "pipelines.store",
        "pipelines.steps",
        "pipelines.checks",
        "pipelines.estimators",
        "pipelines.decisions",
        "pipelines.demo",
        "reports",
    ),
    "pipelines.cli_records": ("pipelines.flows", "pipelines.workspace"),
    "pipelines.cli": ("pipelines.cli_records", "pipelines.flows", "pipelines.workspace", "pipelines.settings"),
}
SHARED = ("schemas", "pipelines.errors", "pipelines.sql")
STANDARD_LIBRARY_ONLY = ("schemas",)
NO_FRAMES_OR_FILES = {"pipelines.estimators": {"numpy", "scipy"}}


def modules() -> list[tuple[str, Path]]:
    """(dotted name without longmile, path) of every module."""
    found = []
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            found.append((".".join(parts[:-1] if parts[-1] == "__init__" else parts), path))
    return found


def package_of(name: str) -> str:
    """The key of MAY_IMPORT that a module falls under."""
    return next(key for key in sorted(MAY_IMPORT, key=len, reverse=True) if name == key or name.startswith(key + "."))


def imports(path: Path) -> set[str]:
    """Every module named in an import statement, wherever it stands."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            found.add(node.module or "")
    return found


@pytest.mark.parametrize(("name", "path"), modules(), ids=lambda value: value if isinstance(value, str) else "")
def test_arrows_go_one_way(name: str, path: Path):
    if name in FOLDERS or name == "pipelines":
        return
    own = package_of(name)
    allowed = (own, *SHARED, *MAY_IMPORT[own]) if own != "schemas" else ("schemas",)
    if own == "reports":
        allowed = ("reports", "schemas")
    ours = {i.removeprefix("longmile.") for i in imports(path) if i.startswith("longmile.")}
    wrong = {i for i in ours if not any(i == a or i.startswith(a + ".") for a in allowed)}
    assert not wrong, f"{name} imports {sorted(wrong)}; it may import {allowed}"


@pytest.mark.parametrize(("name", "path"), modules(), ids=lambda value: value if isinstance(value, str) else "")
def test_outside_imports_stay_where_they_may(name: str, path: Path):
    outside = {i.split(".")[0] for i in imports(path) if not i.startswith("longmile")}
    assert not outside & set(FOLDERS), f"{name} imports a bare {outside & set(FOLDERS)}: write longmile.…"
    own = package_of(name) if name not in (*FOLDERS, "pipelines") else name
    allowed = set() if own in STANDARD_LIBRARY_ONLY else NO_FRAMES_OR_FILES.get(own)
    if allowed is not None:
        third_party = outside - sys.stdlib_module_names
        assert third_party <= allowed, f"{name} imports {sorted(third_party - allowed)}"


def test_duckdb_is_opened_by_the_store_alone():
    connecting = [name for name, path in modules() if "duckdb.connect(" in path.read_text(encoding="utf-8")]
    assert connecting == ["pipelines.store.store"]


def test_every_package_is_in_the_wheel():
    listed = set(tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["packages"])
    folders = {
        "longmile." + ".".join(p.parent.relative_to(ROOT).parts) for f in FOLDERS for p in (ROOT / f).rglob("*.py")
    }
    assert listed == folders


def test_the_installed_copy_is_this_source():
    """A stale install would test yesterday's code: run the README's test command again, or delete `build/`."""
    from importlib.util import find_spec

    for name, path in modules():
        spec = find_spec(f"longmile.{name}")
        assert spec is not None and spec.origin is not None, f"longmile.{name} is not installed"
        assert Path(spec.origin).read_bytes() == path.read_bytes(), f"longmile.{name} is installed from another source"


def test_no_bare_second_copy_is_imported():
    assert not [name for name in sys.modules if name.split(".")[0] in FOLDERS]


def test_no_catch_all_modules():
    forbidden = {"utils", "util", "helpers", "helper", "misc", "common", "classes"}
    assert not [name for name, _ in modules() if name.split(".")[-1] in forbidden]


def test_every_command_has_help():
    commands = ("init", "run", "demo", "fit", "recur", "serve", "dictionary")
    commands += ("map", "quarantine", "trace", "corrections", "decide", "purge")
    for command in commands:
        done = subprocess.run(
            [sys.executable, "-m", "longmile.pipelines.cli", command, "--help"],
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0 and command in done.stdout, done.stderr


def test_help_imports_nothing_heavy():
    script = (
        "import sys; sys.argv = ['longmile', '--help']\n"
        "from longmile.pipelines.cli import app\n"
        "try:\n    app()\nexcept SystemExit:\n    pass\n"
        "heavy = {'duckdb', 'polars', 'scipy', 'great_expectations', 'altair', 'prefect', 'numpy'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
