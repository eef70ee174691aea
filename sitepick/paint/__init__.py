"""Paint: one painter for screen, PDF and PNG. QtCore, QtGui and QtSvg only."""
