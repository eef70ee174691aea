"""Files written whole or not at all: an interrupted run leaves the old file as it was."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sitepick.errors import SitepickError


@contextmanager
def whole_files(folder: Path, *, error: type[SitepickError]) -> Iterator[Path]:
    """Write any number of files into a folder, all of them or none.

    Parameters
    ----------
    folder : Path
        Where they go; made when missing, and taken away again when it was made for nothing.
    error : type of SitepickError
        What a full disk, a read-only folder and the like are told as.

    Yields
    ------
    Path
        A fresh hidden folder beside the goal. What was written there is moved over when the block
        ends well; files of the same name are replaced, others are left alone.

    Raises
    ------
    SitepickError
        Of the type asked for.
    """
    made: list[Path] = []
    staging: Path | None = None
    try:
        if folder.exists() and not folder.is_dir():
            raise error("there is a file of this name", where=str(folder), fix="name a folder to write into")
        try:
            made = _make_folder(folder)
            staging = Path(tempfile.mkdtemp(prefix=".sitepick-", dir=folder))
            yield staging
            for source in sorted(staging.iterdir()):
                _flush(source)
            for source in sorted(staging.iterdir()):
                source.replace(folder / source.name)
            made = []
        except OSError as fault:
            raise error(
                f"could not write: {fault.strerror or fault}",
                where=str(folder),
                fix="choose a folder you may write to, with room on the disk",
            ) from fault
    finally:
        if staging is not None:
            shutil.rmtree(staging, ignore_errors=True)
        for path in reversed(made):
            try:
                path.rmdir()
            except OSError:
                break


@contextmanager
def whole_file(path: Path, *, error: type[SitepickError]) -> Iterator[Path]:
    """Write one file, whole or not at all; see `whole_files`.

    Yields
    ------
    Path
        Write here; it takes its name when the block ends well.
    """
    with whole_files(path.parent, error=error) as staging:
        yield staging / path.name


def _make_folder(folder: Path) -> list[Path]:
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return list(reversed(missing))


def _flush(path: Path) -> None:
    with path.open("rb+") as handle:
        os.fsync(handle.fileno())
