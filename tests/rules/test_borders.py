"""The house stays in order: layers, the border of Qt, sizes, compiled loops."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "sitepick"
MODULES = sorted(PACKAGE.rglob("*.py"))
QT_ALLOWED = {
    "desk": {"QtCore", "QtGui", "QtWidgets", "QtPrintSupport", "QtSvg"},
    "paint": {"QtCore", "QtGui", "QtSvg"},
}
STAGE_FUNCTIONS = {"read_ground", "read_terrain", "plan_march", "find_sites", "lay_out_camp"}
STRINGS_STAGES_TOGETHER = {"tonight", "journey", "cli", "desk"}
LINES_MAX = 600
NAMES_NOT_USED = {"utils", "util", "common", "helpers", "misc"}


def imports_of(path: Path) -> list[tuple[str, list[str]]]:
    """Each import of a module as (module, names)."""
    found: list[tuple[str, list[str]]] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, []) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.append((node.module, [alias.name for alias in node.names]))
    return found


@pytest.mark.slow
def test_the_work_flows_one_way():
    done = subprocess.run(
        [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_qt_stays_in_the_desk_and_the_painter(path):
    room = path.relative_to(PACKAGE).parts[0]
    for module, names in imports_of(path):
        if module.split(".")[0] != "PySide6":
            continue
        parts = {module.split(".")[1]} if "." in module else set(names)
        assert parts <= QT_ALLOWED.get(room, set()), f"{path} imports {sorted(parts)}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_a_module_stays_short_and_carries_a_name_that_says_what_it_is(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LINES_MAX
    assert not NAMES_NOT_USED & {path.stem, *path.relative_to(PACKAGE).parts}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_only_what_strings_the_stages_together_calls_several(path):
    room = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    if room in STRINGS_STAGES_TOGETHER:
        return
    for module, names in imports_of(path):
        parts = module.split(".")
        if parts[0] == "sitepick" and len(parts) > 1 and parts[1] != room:
            assert not STAGE_FUNCTIONS & set(names), f"{path} calls another stage: {module}"


@pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("_kernels*.py")), ids=lambda path: f"{path.parent.name}{path.stem}"
)
def test_compiled_loops_release_the_interpreter_and_never_start_threads(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call) or getattr(node.func, "id", "") not in ("njit", "jit", "vectorize"):
            continue
        given = {word.arg: getattr(word.value, "value", None) for word in node.keywords}
        assert given.get("nogil") is True, ast.unparse(node)
        assert given.get("cache") is True, ast.unparse(node)
        assert "parallel" not in given, ast.unparse(node)


def test_the_top_level_holds_what_the_design_says_and_no_more():
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if tracked.returncode:
        return
    top = {name.split("/")[0] for name in tracked.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} == {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "sitepick", "resources", "tests", "sample_data",
    }  # fmt: skip
