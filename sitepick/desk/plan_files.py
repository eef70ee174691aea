"""Which file the plan is, and the questions about it: open, save, save as, unsaved changes."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QInputDialog, QMessageBox, QWidget

from sitepick.desk.translation import marked, tr
from sitepick.resource import sample_plan_path

PLAN_FILTER = marked("Plans (*.geojson);;All files (*)")
ROUTE_FILTER = marked("Tracks and routes (*.gpx *.geojson *.json *.gpkg *.kml *.shp *.fgb);;All files (*)")
SUFFIX = ".geojson"
KIT_FILTER = marked("Kit lists (*.csv);;All files (*)")
ALL_FILTER = marked("All files (*)")
KIT_NAME = "kit.csv"


def ask_open(parent: QWidget, folder: Path) -> Path | None:
    """Ask for a plan to open."""
    name, _ = QFileDialog.getOpenFileName(parent, tr("Open plan"), str(folder), tr(PLAN_FILTER))
    return Path(name) if name else None


def ask_save(parent: QWidget, suggested: Path) -> Path | None:
    """Ask where to save the plan; the name gets its suffix."""
    name, _ = QFileDialog.getSaveFileName(parent, tr("Save plan as"), str(suggested), tr(PLAN_FILTER))
    if not name:
        return None
    path = Path(name)
    return path if path.suffix else path.with_suffix(SUFFIX)


def ask_open_kit(parent: QWidget, folder: Path) -> Path | None:
    """Ask for a kit list to take over."""
    name, _ = QFileDialog.getOpenFileName(parent, tr("Take over a kit list"), str(folder), tr(KIT_FILTER))
    return Path(name) if name else None


def ask_save_kit(parent: QWidget, folder: Path) -> Path | None:
    """Ask where to save the kit list; the name gets its suffix."""
    name, _ = QFileDialog.getSaveFileName(parent, tr("Save kit list as"), str(folder / KIT_NAME), tr(KIT_FILTER))
    if not name:
        return None
    path = Path(name)
    return path if path.suffix else path.with_suffix(".csv")


def ask_folder(parent: QWidget, folder: Path) -> Path | None:
    """Ask for the folder that the handout goes to."""
    name = QFileDialog.getExistingDirectory(parent, tr("Write handout to folder"), str(folder))
    return Path(name) if name else None


def ask_route_file(parent: QWidget, folder: Path) -> Path | None:
    """Ask for a file to take a route from."""
    name, _ = QFileDialog.getOpenFileName(parent, tr("Take a route from a file"), str(folder), tr(ROUTE_FILTER))
    return Path(name) if name else None


def ask_point_name(parent: QWidget, number: int, name: str) -> str | None:
    """Ask what a point of the route is called; empty takes its name away, None leaves it."""
    text, is_given = QInputDialog.getText(
        parent, tr("Name a point"), tr("Name of point {number}:", number=number), text=name
    )
    return text if is_given else None


def ask_mark_name(parent: QWidget, name: str) -> str | None:
    """Ask what a marked area or observer is called; None leaves it."""
    text, is_given = QInputDialog.getText(
        parent, tr("Name a mark"), tr("Another name for {name}:", name=name), text=name
    )
    return text if is_given else None


def ask_unsaved(parent: QWidget, name: str) -> str:
    """Ask what to do with unsaved changes: ``"save"``, ``"discard"`` or ``"stay"``."""
    buttons = QMessageBox.StandardButton
    answer = QMessageBox.question(
        parent,
        tr("Unsaved changes"),
        tr("{name} has changes that are not saved.", name=name),
        buttons.Save | buttons.Discard | buttons.Cancel,
        buttons.Save,
    )
    return {buttons.Save: "save", buttons.Discard: "discard"}.get(answer, "stay")


def ask_changed_elsewhere(parent: QWidget, name: str) -> str:
    """Ask what to do with a file that somebody else has written: ``"replace"``, ``"other"`` or ``"stay"``."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Question)
    box.setWindowTitle(tr("The file has changed"))
    box.setText(tr("{name} has been written by another window or program since it was opened here.", name=name))
    box.setInformativeText(tr("Saving over it would take that work away."))
    other = box.addButton(tr("Save under another &name …"), QMessageBox.ButtonRole.AcceptRole)
    replace = box.addButton(tr("&Save over it"), QMessageBox.ButtonRole.DestructiveRole)
    box.addButton(QMessageBox.StandardButton.Cancel)
    box.setDefaultButton(other)
    box.exec()
    return {other: "other", replace: "replace"}.get(box.clickedButton(), "stay")  # type: ignore[call-overload, no-any-return]


def ask_new_place(parent: QWidget, missing: Path) -> Path | None:
    """Ask where a file of the ground lies now."""
    name, _ = QFileDialog.getOpenFileName(
        parent, tr("Where is {name} now?", name=missing.name), str(missing.parent), tr(ALL_FILTER)
    )
    return Path(name) if name else None


def is_sample(path: Path | None) -> bool:
    """Whether a file is the plan that came with the program; it is never written over."""
    return path is not None and path.resolve() == sample_plan_path().resolve()
