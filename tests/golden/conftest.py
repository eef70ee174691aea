"""Pictures that were looked at once: ``--accept-golden NAME`` renews one, after looking."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QImage

from tests.helpers.picture import PictureArray, different_pixels, side_by_side

FOLDER = Path(__file__).parent
TOLERANCE = 24  # of 255 in a channel: other machines smooth edges a little otherwise
DIFFERENT_FRAC_MAX = 0.002
WIDTH_MAX_PX = 400


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept-golden", metavar="NAME", help="renew one golden picture, after looking at it")


@pytest.fixture
def same_as_golden(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[str, QImage], None]:
    """Compares a picture with the golden one of that name; failure leaves got, want and difference side by side."""

    def compare(name: str, image: QImage) -> None:
        assert max(image.width(), image.height()) <= WIDTH_MAX_PX
        golden = FOLDER / f"{name}.png"
        if request.config.getoption("--accept-golden", default=None) == name:
            assert image.save(str(golden), "PNG")
        got, want = pixels(image), pixels(QImage(str(golden)))
        count = different_pixels(got, want, tolerance=TOLERANCE)
        if count > DIFFERENT_FRAC_MAX * got.shape[0] * got.shape[1]:
            shown = np.ascontiguousarray(side_by_side(got, want))
            rows, cols, _ = shown.shape
            path = tmp_path / f"{name}-got-want-difference.png"
            QImage(shown.data, cols, rows, 3 * cols, QImage.Format.Format_RGB888).save(str(path))
            pytest.fail(f"{count} pixels differ; look at {path}")

    return compare


def pixels(image: QImage) -> PictureArray:
    """A picture as an array of shape (rows, cols, 3)."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    rows, cols = plain.height(), plain.width()
    if rows == 0:
        return np.zeros((0, 0, 3), dtype=np.uint8)
    lines = np.frombuffer(plain.constBits(), dtype=np.uint8).reshape(rows, plain.bytesPerLine())
    return lines[:, : 3 * cols].reshape(rows, cols, 3).copy()
