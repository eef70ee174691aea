"""Up to six sites side by side: each measure as a small bar with its limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from sitepick.desk.look import Look
from sitepick.desk.page import short_label, text_label
from sitepick.desk.site_entry import MeasureBar
from sitepick.desk.translation import tr
from sitepick.desk.words import begun, clock, measure_text, score_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sitepick.plan.factor import Factor
    from sitepick.sites.model import Site

SITES_MOST = 6
_LABEL_PX, _BAR_LEAST_PX = 96, 34


class Comparing(QWidget):
    """The sites chosen for comparing, a column a site."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(tr("Sites side by side"))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._table: QWidget | None = None
        self.hide()

    def show_sites(self, sites: Sequence[Site], factors: dict[str, Factor], look: Look) -> None:
        """Show some sites side by side; fewer than two compare nothing."""
        if self._table is not None:
            self._column.removeWidget(self._table)
            self._table.hide()
            self._table.deleteLater()
            self._table = None
        self.setVisible(len(sites) >= 2)
        if len(sites) < 2:
            return
        self._table = self._filled(sites[:SITES_MOST], factors, look)
        self._column.addWidget(self._table)
        self.setAccessibleDescription(
            ". ".join(
                tr(
                    "Site {rank}, {score_text} of 100, arrive {arrive}",
                    rank=site.rank,
                    score_text=score_text(site),
                    arrive=clock(site.arrive),
                )
                for site in sites
            )
        )

    @staticmethod
    def _filled(sites: Sequence[Site], factors: dict[str, Factor], look: Look) -> QWidget:
        table = QWidget()
        table.setProperty("role", "page")
        grid = QGridLayout(table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(3)
        heads = ((tr("Site"), [str(site.rank) for site in sites]), (tr("Score"), [score_text(site) for site in sites]),
                 (tr("Arrive"), [clock(site.arrive) for site in sites]),
                 (tr("First in 100"), ["–" if site.firm_share is None else f"{100 * site.firm_share:.0f}"
                                   for site in sites]))  # fmt: skip
        for row, (label, texts) in enumerate(heads):
            grid.addWidget(text_label(label, "label"), row, 0)
            for col, (text, site) in enumerate(zip(texts, sites, strict=True), start=1):
                head = short_label(text, "score" if row == 0 else "label")
                head.setToolTip(site.name)
                grid.addWidget(head, row, col, Qt.AlignmentFlag.AlignHCenter)
        for row, measure in enumerate(sites[0].measures, start=len(heads)):
            grid.addWidget(text_label(begun(tr(measure.label)), "label"), row, 0)
            for col, site in enumerate(sites, start=1):
                own = site.measures[row - len(heads)]
                bar = MeasureBar(own, factors.get(own.name), look)
                bar.setMinimumWidth(_BAR_LEAST_PX)
                bar.setAccessibleName(
                    tr(
                        "Site {rank}, {label}: {measure_text}",
                        rank=site.rank,
                        label=tr(own.label),
                        measure_text=measure_text(own),
                    )
                )
                grid.addWidget(bar, row, col)
        grid.setColumnMinimumWidth(0, _LABEL_PX)
        for col in range(1, len(sites) + 1):
            grid.setColumnStretch(col, 1)
        return table
