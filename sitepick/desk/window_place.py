"""Where the window opens: where it stood, unless that screen is gone."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect

SEEN_PX = 120  # so much of the title must lie on a screen, both ways, for a hand to get hold of it
LEAST_WIDTH_PX, LEAST_HEIGHT_PX = 640, 480
USUAL_WIDTH_PX, USUAL_HEIGHT_PX = 1440, 900


def window_place(remembered: QRect | None, screens: Sequence[QRect]) -> QRect:
    """A place that can be seen.

    Parameters
    ----------
    remembered : QRect or None
        Where the window stood.
    screens : sequence of QRect
        The room on each screen, the main one first; at least one.
    """
    if remembered is None:
        remembered = QRect(0, 0, USUAL_WIDTH_PX, USUAL_HEIGHT_PX)
        screen = screens[0]
        remembered.moveCenter(screen.center())
    else:
        screen = max(screens, key=lambda one: _area(one.intersected(remembered)))
    width = min(max(remembered.width(), LEAST_WIDTH_PX), screen.width())
    height = min(max(remembered.height(), LEAST_HEIGHT_PX), screen.height())
    place = QRect(remembered.x(), remembered.y(), width, height)
    seen = place.intersected(screen)
    if seen.width() < SEEN_PX or seen.height() < SEEN_PX or place.top() < screen.top():
        place.moveCenter(screen.center())
    return place


def _area(box: QRect) -> int:
    return max(box.width(), 0) * max(box.height(), 0)
