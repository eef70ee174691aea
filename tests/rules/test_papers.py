"""The documents and the lock tell the truth about the tree."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def names_required() -> set[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = [*project["dependencies"], *(line for group in project["optional-dependencies"].values() for line in group)]
    return {re.split(r"[<>=!~ \[]", line, maxsplit=1)[0].lower().replace("_", "-") for line in lines}


def test_every_library_we_ask_for_is_pinned_by_hash():
    lock = (ROOT / "resources" / "requirements.lock").read_text(encoding="utf-8")
    pinned = set(re.findall(r"^([a-z0-9._-]+)==", lock, flags=re.MULTILINE))
    assert names_required() <= pinned
    assert "://" not in lock
    for block in re.split(r"\n(?=[a-z])", lock.strip()):
        assert "--hash=sha256:" in block, block.splitlines()[0]


def test_every_library_has_its_reason():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").lower().replace("_", "-")
    missing = {name for name in names_required() if f"`{name}`" not in text}
    assert not missing


def test_the_architecture_names_every_room_and_no_other():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.split("## Architecture", 1)[1].split("\n## ", 1)[0]
    told = set(re.findall(r"^- `sitepick/([a-z_]+)/`", section, flags=re.MULTILINE))
    rooms = {path.parent.name for path in (ROOT / "sitepick").glob("*/__init__.py")}
    assert told == rooms


def test_the_readme_opens_with_the_job_and_two_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    before_first_heading = re.split(r"^## ", text, maxsplit=1, flags=re.MULTILINE)[0]
    commands = re.findall(r"^    (python3 .*)$", before_first_heading, flags=re.MULTILINE)
    assert [line.split("#")[0].strip() for line in commands] == [
        "python3 sitepick/bootstrap.py run",
        "python3 sitepick/bootstrap.py test",
    ]
