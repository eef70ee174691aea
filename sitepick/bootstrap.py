"""Sets sitepick up and runs it, from nothing but Python: `python3 sitepick/bootstrap.py run` or `test`.

Standard library only, since nothing else is there yet. Makes `.venv` in the checkout, installs what
`resources/requirements.lock` pins (by hash), then

- `run` opens the desk on the sample plan; without a screen it does the main job on it and leaves files;
- `test` runs the tests; what follows the word goes to pytest.

On Debian and its kin, as root, it also installs the system libraries that Qt needs; otherwise it
prints the one line that does.
"""

from __future__ import annotations

import csv
import ctypes
import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
LOCK = ROOT / "resources" / "requirements.lock"
STAMP = ENVIRONMENT / "sitepick-set-up"

# What Qt loads at run time and Debian's name for it; each was found by taking it away on Debian 12 and 13.
with (ROOT / "resources" / "qt_system_libraries.csv").open(encoding="utf-8", newline="") as table:
    QT_LIBRARIES = {row["library"]: row["debian_package"] for row in csv.DictReader(table)}
WORKERS_MAX = 4  # each compiles the loops it meets for itself the first time
APT_LINE = "apt-get install -y --no-install-recommends " + " ".join(QT_LIBRARIES.values())


def main(words: list[str]) -> int:
    """Set up, then run or test; returns the exit code."""
    if not words or words[0] not in ("run", "test"):
        print("usage: python3 sitepick/bootstrap.py run | test [pytest's words]", file=sys.stderr)
        return 2
    if sys.version_info < (3, 11):  # noqa: UP036 - whoever runs this may have an older one
        return _fault("sitepick needs Python 3.11 or newer", "install a newer python3 and use that")
    code = _provide_system()
    if code:
        return code
    code = _provide_environment()
    if code:
        return code
    return _run() if words[0] == "run" else _test(words[1:])


def _run() -> int:
    python = _python()
    if has_screen() and not missing_libraries():
        print("Opening the desk on the sample plan ...", flush=True)
        return _call([python, "-m", "sitepick"])
    out = ROOT / "tonight"
    code = _call(
        [python, "-m", "sitepick", "tonight", str(ROOT / "sample_data" / "ulvmark.geojson"), "--out", str(out)]
    )
    print(f"\nThe answer lies in {out}", flush=True)
    if missing_libraries():
        print(f"For the sheet (PDF) and the desk, install Qt's libraries once: sudo {APT_LINE}", flush=True)
    print(f"To open the desk, run this on a machine with a screen: {python} -m sitepick", flush=True)
    return code


def _test(words: list[str]) -> int:
    if missing_libraries():
        return _fault(
            f"the tests of the window need {', '.join(missing_libraries())}", f"run this once: sudo {APT_LINE}"
        )
    if all(word in ("-q", "-v") for word in words):  # the whole of them: on several cores, each file on one
        words = ["-n", str(min(WORKERS_MAX, os.cpu_count() or 1)), "--dist", "loadfile", *words]
    return _call([_python(), "-m", "pytest", *words])


def has_screen() -> bool:
    """Whether a window could be shown."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def missing_libraries() -> list[str]:
    """Qt's system libraries that can't be loaded; always empty on Windows and macOS, whose Qt brings them."""
    if not sys.platform.startswith("linux"):
        return []
    missing = []
    for name in QT_LIBRARIES:
        try:
            ctypes.CDLL(name)
        except OSError:
            missing.append(name)
    return missing


def _provide_system() -> int:
    """Install what Debian splits off Python, and Qt's libraries, where we may."""
    needs_venv = not _has_venv()
    wanted = ["python3-venv"] * needs_venv + list(QT_LIBRARIES.values()) * bool(missing_libraries())
    if wanted and shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print(f"Installing {', '.join(wanted)} ...", flush=True)
        install = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *wanted]
        quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
        for attempt in (install, ["apt-get", "update", "-qq"], install):
            done = subprocess.run(attempt, env=quiet, check=False, stdout=subprocess.DEVNULL)
            if done.returncode == 0 and attempt is install:
                break
    if needs_venv and not _has_venv():
        return _fault("Python's venv module is missing", "run this once: sudo apt-get install -y python3-venv")
    return 0


def _has_venv() -> bool:
    """Whether environments can be made; asked of a new process, since the answer changes on the way."""
    probe = subprocess.run([sys.executable, "-c", "import venv, ensurepip"], check=False, capture_output=True)
    return probe.returncode == 0


def _provide_environment() -> int:
    """Make `.venv` as the lock says, unless it is so already."""
    state = hashlib.sha256(
        LOCK.read_bytes() + (ROOT / "pyproject.toml").read_bytes() + sys.version.encode() + str(ROOT).encode()
    ).hexdigest()
    if STAMP.is_file() and STAMP.read_text() == state:
        return 0
    print("Setting up (once, a minute or two) ...", flush=True)
    if _call([sys.executable, "-m", "venv", "--clear", str(ENVIRONMENT)]):
        return _fault("the environment could not be made", f"check that {ROOT} can be written to")
    pip = [_python(), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if _call([*pip, "--require-hashes", "-r", str(LOCK)]):
        return _fault(
            "the libraries could not be installed", "check the network and the room on the disk, then run again"
        )
    if _call([*pip, "--no-deps", "--no-build-isolation", "--editable", str(ROOT)]):
        return _fault("sitepick itself could not be installed", "see the lines above")
    STAMP.write_text(state)
    return 0


def _python() -> str:
    folder, name = ("Scripts", "python.exe") if sys.platform == "win32" else ("bin", "python")
    return str(ENVIRONMENT / folder / name)


def _call(command: list[str]) -> int:
    try:
        return subprocess.run(command, cwd=ROOT, check=False).returncode
    except KeyboardInterrupt:
        return 130


def _fault(what: str, fix: str) -> int:
    print(f"{what}; {fix}.", file=sys.stderr)
    return 3


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
