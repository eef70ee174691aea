"""Paint: one painter for screen, PDF and PNG. QtCore, QtGui and QtSvg only.

Import `sitepick.paint.pdf`, `sitepick.paint.strokes` and `sitepick.paint.fonts` where they are
used: they load Qt. `sitepick.paint.preflight` doesn't, and says whether they will load.
"""

from sitepick.paint.preflight import qt_trouble

__all__ = ["qt_trouble"]
