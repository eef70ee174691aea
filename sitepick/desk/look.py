"""Colours and type of the desk: one palette at a time, the same for widgets and for painted pieces."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from sitepick.sheet.palette import Palette, mixed, read_palette

SCORE_PX, TITLE_PX, ANSWER_PX, SENTENCE_PX, REASON_PX, LABEL_PX = 22, 19, 16, 15, 14, 13

# Dark, twilight, light and the moon on the day line; night is bluish in both looks so that it reads as night.
_SKY = {
    "day": ("#3C464F", "#9FB0BF", "#F5EED8", "#8C7A3C"),
    "dark": ("#10161B", "#33485A", "#6E664E", "#D8CFA8"),
    "night": ("#000000", "#140000", "#2A0000", "#8A1A10"),
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Look:
    """The colours in use; see `sheet.palette.Palette` for what each is for.

    Attributes
    ----------
    palette : Palette
    dark_sky, twilight_sky, light_sky, moon : QColor
        Of the day line.
    """

    palette: Palette
    paper: QColor
    page: QColor
    edge: QColor
    tab: QColor
    graphite: QColor
    soft: QColor
    faint: QColor
    intent: QColor
    reach: QColor
    reach_deep: QColor
    focus: QColor
    caution: QColor
    caution_bar: QColor
    limit: QColor
    bar: QColor
    bar_ground: QColor
    water_line: QColor
    contour: QColor
    index_contour: QColor
    track: QColor
    dark_sky: QColor
    twilight_sky: QColor
    light_sky: QColor
    moon: QColor


def look_named(name: str) -> Look:
    """The look with the colours of a palette: ``"day"``, ``"dark"`` or ``"night"``."""
    palette = read_palette(name)
    contour, index_contour, track = QColor(palette.contour), QColor(palette.contour), QColor(palette.contour)
    contour.setAlphaF(palette.contour_frac)
    index_contour.setAlphaF(palette.contour_fifth_frac)
    track.setAlphaF(0.65)
    dark, twilight, light, moon = (QColor(colour) for colour in _SKY[name])
    return Look(
        palette=palette,
        paper=QColor(palette.paper),
        page=QColor(palette.page),
        edge=QColor(palette.edge),
        tab=QColor(palette.tab),
        graphite=QColor(palette.text),
        soft=QColor(palette.soft_text),
        faint=QColor(palette.faint_text),
        intent=QColor(palette.intent),
        reach=QColor(palette.reach),
        reach_deep=QColor(palette.link),
        focus=QColor(palette.focus),
        caution=QColor(palette.caution_back),
        caution_bar=QColor(palette.caution_bar),
        limit=QColor(palette.limit_tick),
        bar=QColor(palette.measure_bar),
        bar_ground=QColor(palette.measure_back),
        water_line=QColor(mixed(palette.water, palette.link, 0.6)),
        contour=contour,
        index_contour=index_contour,
        track=track,
        dark_sky=dark,
        twilight_sky=twilight,
        light_sky=light,
        moon=moon,
    )


def wear(window: QWidget, look: Look) -> None:
    """Give a window and all that opens from it these colours.

    The sheet is the window's and not the application's, and is put on when the window is whole: under a sheet, Qt
    dresses a widget anew each time it or anything above it finds its place, which made a window take three times as
    long.
    """
    sheet = style_sheet(look)
    if window.styleSheet() != sheet:  # dressing every widget anew takes a while
        QApplication.setPalette(qt_palette(look))
        window.setStyleSheet(sheet)


def qt_palette(look: Look) -> QPalette:
    """The colours as Qt's own palette, for everything the style sheet doesn't name."""
    role = QPalette.ColorRole
    palette = QPalette()
    for which, colour in (
        (role.Window, look.paper),
        (role.WindowText, look.graphite),
        (role.Base, look.page),
        (role.AlternateBase, look.paper),
        (role.Text, look.graphite),
        (role.Button, look.tab),
        (role.ButtonText, look.graphite),
        (role.ToolTipBase, look.page),
        (role.ToolTipText, look.graphite),
        (role.PlaceholderText, look.faint),
        (role.Highlight, look.reach_deep),
        (role.HighlightedText, look.page),
        (role.Link, look.reach_deep),
        (role.Light, look.page),
        (role.Midlight, look.tab),
        (role.Mid, look.edge),
        (role.Dark, look.faint),
        (role.Shadow, look.graphite),
    ):
        palette.setColor(which, colour)
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, look.faint)
    return palette


def style_sheet(look: Look) -> str:
    """The desk's style sheet; widgets name their part by the property ``role``."""
    colours = {
        name: getattr(look, name).name()
        for name in ("paper", "page", "edge", "tab", "graphite", "soft", "faint", "reach_deep", "focus", "caution")
    }
    is_night = look.palette.name == "night"  # nothing bright: what is chosen is told by weight, not by a lit patch
    colours["chosen"] = colours["edge" if is_night else "graphite"]
    colours["on_chosen"] = colours["graphite" if is_night else "page"]
    colours["caution_bar"] = look.caution_bar.name()
    colours["bar"], colours["bar_ground"] = look.bar.name(), look.bar_ground.name()
    sizes = {
        "score_px": SCORE_PX, "title_px": TITLE_PX, "answer_px": ANSWER_PX,
        "sentence_px": SENTENCE_PX, "reason_px": REASON_PX, "label_px": LABEL_PX,
    }  # fmt: skip
    return _SHEET.format(**colours, **sizes)


_SHEET = """
* {{ font-size: {label_px}px; }}
QMainWindow, QDialog {{ background: {paper}; }}
QMenuBar {{ background: {paper}; border-bottom: 1px solid {edge}; padding: 2px 8px; }}
QMenuBar::item {{ padding: 4px 9px; background: transparent; }}
QMenuBar::item:selected {{ background: {tab}; }}
QMenu {{ background: {page}; border: 1px solid {edge}; padding: 4px 0; }}
QMenu::item {{ padding: 5px 28px 5px 20px; }}
QMenu::item:selected {{ background: {tab}; color: {graphite}; }}
QMenu::item:disabled {{ color: {faint}; }}
QMenu::separator {{ height: 1px; background: {edge}; margin: 4px 0; }}
QToolTip {{ background: {page}; color: {graphite}; border: 1px solid {edge}; padding: 4px; }}
QSplitter::handle {{ background: {edge}; }}

[role="page"], [role="page"] > QWidget {{ background: {page}; }}
QScrollArea {{ border: none; background: {page}; }}
QLabel[role="title"] {{ font-size: {title_px}px; font-weight: 600; }}
QLabel[role="heading"] {{ font-size: {reason_px}px; font-weight: 600; }}
*[role="sentence"] {{ font-size: {sentence_px}px; }}
QLabel[role="reason"] {{ font-size: {reason_px}px; }}
QLabel[role="label"] {{ color: {soft}; }}
QLabel[role="soft"] {{ color: {soft}; font-size: {reason_px}px; }}
QLabel[role="value"] {{ font-weight: 600; }}
QLabel[role="score"] {{ font-size: {score_px}px; font-weight: 600; }}
QLabel[role="caution"] {{ font-size: {reason_px}px; background: {caution}; border-left: 3px solid {caution_bar};
    padding: 4px 8px; }}
QLabel[role="answer"] {{ font-size: {answer_px}px; font-weight: 600; }}
QLabel[role="answer_takes"] {{ font-size: {answer_px}px; }}
QLabel[role="answer_alternate"] {{ font-size: {answer_px}px; color: {soft}; }}
QFrame[role="rule"] {{ background: {edge}; border: none; }}

QAbstractSpinBox, QComboBox {{ font-size: {sentence_px}px; font-weight: 600; color: {reach_deep};
    background: transparent; border: none; border-bottom: 1px solid {reach_deep}; border-radius: 0; padding: 0 1px;
    selection-background-color: {reach_deep}; selection-color: {page}; }}
QAbstractSpinBox:hover, QComboBox:hover {{ background: {tab}; }}
QAbstractSpinBox:focus, QComboBox:focus {{ border: 2px solid {focus}; background: {paper}; padding: 0; }}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button, QComboBox::drop-down {{ width: 0; border: none; }}
QComboBox QAbstractItemView {{ background: {page}; color: {graphite}; border: 1px solid {edge}; outline: none;
    selection-background-color: {tab}; selection-color: {graphite}; }}

QCheckBox {{ font-size: {reason_px}px; }}
QCheckBox::indicator {{ width: 12px; height: 12px; border: 1px solid {soft}; border-radius: 2px; background: {paper}; }}
QCheckBox::indicator:checked {{ width: 6px; height: 6px; border: 4px solid {reach_deep}; background: {page}; }}
QCheckBox:focus {{ color: {focus}; font-weight: 600; }}
QFrame[role="card"] {{ background: {page}; border: 1px solid {edge}; border-radius: 3px; }}
QLabel[role="tag"] {{ background: {page}; border: 1px solid {edge}; border-radius: 3px; padding: 4px 8px;
    font-size: {reason_px}px; }}
QFrame[role="card"] > QLabel {{ border: none; background: transparent; }}
QToolButton[role="verb"] {{ border: none; background: transparent; padding: 8px 12px; text-align: left; }}
QToolButton[role="verb"]:hover {{ background: {tab}; }}
QToolButton[role="verb"]:checked {{ background: {chosen}; color: {on_chosen}; font-weight: 600; }}
QToolButton[role="page_word"] {{ border: none; border-bottom: 2px solid transparent; background: transparent;
    padding: 8px 1px; font-size: {reason_px}px; color: {soft}; }}
QToolButton[role="page_word"]:hover {{ background: {tab}; }}
QToolButton[role="page_word"]:checked {{ color: {graphite}; font-weight: 600; border-bottom: 2px solid {graphite}; }}
QPushButton, QToolButton[role="quiet"] {{ background: {page}; border: 1px solid {edge}; border-radius: 3px;
    padding: 4px 12px; }}
QPushButton:hover, QToolButton[role="quiet"]:hover {{ background: {tab}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {focus}; }}
QToolButton[role="cautions"] {{ background: {caution}; border: 1px solid {caution_bar}; border-left: 3px solid
    {caution_bar}; border-radius: 2px; padding: 4px 12px; font-weight: 600; }}

QFrame[role="notice"] {{ background: {caution}; border-bottom: 1px solid {caution_bar}; border-left: 3px solid
    {caution_bar}; }}
QFrame[role="notice"] QLabel {{ background: transparent; font-size: {reason_px}px; }}
QFrame[role="guide"] {{ background: {tab}; border-left: 3px solid {reach_deep}; }}
QFrame[role="guide"] QLabel {{ background: transparent; font-size: {reason_px}px; }}
QListWidget, QTextBrowser {{ background: {page}; border: 1px solid {edge}; font-size: {reason_px}px; }}
QListWidget::item {{ padding: 5px 8px; }}
QListWidget::item:selected {{ background: {tab}; color: {graphite}; }}
QProgressBar {{ background: {bar_ground}; border: none; max-height: 3px; min-height: 3px; }}
QProgressBar::chunk {{ background: {bar}; }}
QSlider::groove:horizontal {{ height: 3px; background: {bar_ground}; }}
QSlider::sub-page:horizontal {{ background: {bar}; }}
QSlider::handle:horizontal {{ width: 9px; height: 17px; margin: -7px 0; background: {graphite}; border-radius: 2px; }}
QSlider:focus {{ border: 2px solid {focus}; }}
QTableWidget {{ background: {page}; border: none; gridline-color: {edge}; }}
QTableWidget:focus {{ border: 2px solid {focus}; }}
QTableWidget::item:selected {{ background: {tab}; color: {graphite}; }}
QHeaderView::section {{ background: {page}; color: {soft}; border: none; border-bottom: 1px solid {edge};
    padding: 4px 6px; text-align: left; }}
QFrame[role="entry"] {{ background: {page}; border: 2px solid transparent; }}
QFrame[role="entry"][chosen="true"] {{ background: {paper}; }}
QFrame[role="entry"]:focus {{ border: 2px solid {focus}; }}
QScrollBar:vertical {{ background: {page}; width: 10px; margin: 0; }}
QScrollBar::handle:vertical {{ background: {edge}; min-height: 32px; border-radius: 4px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; width: 0; }}
"""
