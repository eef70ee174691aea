"""What a journey must keep to besides its numbers: rest days, its zone, places on the way, the forecast of a day."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.display import spaced_mgrs
from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, describe
from sitepick.desk.page import clear, inner_column, text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.typed_places import typed_places
from sitepick.errors import SettingsError
from sitepick.grid import Grid, mgrs_reference
from sitepick.plan.edits import with_values
from sitepick.plan.journey import DayForecast, JourneyPoint, JourneySettings, LonLat, PinnedNight
from sitepick.plan.journey_edits import with_night_let_go
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

_KINDS: list[tuple[object, str]] = [
    ("stop", marked("a night near")), ("pass", marked("the way past")), ("supply", marked("supplies at")),
]  # fmt: skip
_FORECASTS = (("wind_from_deg", 5.0), ("wind_kmh", 1.0), ("temperature_c", 1.0), ("snow_cm", 5.0))
_AS_BEFORE = marked("as on the first")


class JourneyRows(QWidget):
    """Rest days, zone, places, forecasts and pinned nights of the plan's journey, each edited in place.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._settings: JourneySettings | None = None
        self._grid: Grid | None = None
        self._clicked: LonLat | None = None
        self._rest = QLineEdit()
        self._rest.setPlaceholderText(tr("none"))
        describe(self._rest, tr("rest days"), tr("Days on which nobody marches, such as 3, 5; the first day is 1."))
        self._rest.editingFinished.connect(self._on_rest)
        self._zone = QLineEdit()
        self._zone.setPlaceholderText(tr("unchanged"))
        describe(
            self._zone, tr("zone of the clocks"), tr('Such as "Europe/Stockholm", where the clocks change on the way.')
        )
        self._zone.editingFinished.connect(self._on_zone)
        self._rows = inner_column()
        self._kind = ChoiceField(
            tr("what happens at a new place"), translated(_KINDS), tr("What the journey does there.")
        )
        self._place = QLineEdit()
        self._place.setPlaceholderText(tr("grid reference"))
        describe(
            self._place, tr("grid reference of a new place"), tr("Or click the map with Ask here and use the button.")
        )
        self._place.returnPressed.connect(self._on_put)
        put = QPushButton(tr("Add"))
        describe(put, tr("add the place"), tr("The journey takes this place in."))
        put.clicked.connect(self._on_put)
        self._here = QPushButton(tr("Add where the map was clicked"))
        describe(self._here, tr("add the place where the map was clicked"), tr("Click the map with Ask here first."))
        self._here.clicked.connect(self._on_here)
        self._here.setEnabled(False)
        forecast = QPushButton(tr("Add a day's forecast"))
        describe(forecast, tr("add a day's forecast"), tr("Weather of one day, where it differs from the plan's."))
        forecast.clicked.connect(self._on_forecast)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence(tr("Rest on days {0}; the clocks go {1}."), self._rest, self._zone))
        column.addLayout(self._rows)
        column.addWidget(Sentence(tr("There must be {0} {1} {2} {3}"), self._kind, self._place, put, self._here))
        line = QHBoxLayout()
        line.addWidget(forecast)
        line.addStretch(1)
        column.addLayout(line)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's journey; rows that are right already stay, so that the caret does too."""
        settings = plan.journey
        self._rest.setText(", ".join(map(str, settings.rest_days)))
        self._zone.setText(settings.zone or "")
        old, self._settings = self._settings, settings
        if old is not None and (old.points, old.forecasts, old.pinned) == (
            settings.points, settings.forecasts, settings.pinned,
        ):  # fmt: skip
            return
        clear(self._rows)
        for index, point in enumerate(settings.points):
            row = PointRow(index, point)
            row.edit_requested.connect(self.edit_requested)
            self._rows.addWidget(row)
        for index, forecast in enumerate(settings.forecasts):
            weather = ForecastRow(index, forecast)
            weather.edit_requested.connect(self.edit_requested)
            self._rows.addWidget(weather)
        for night in settings.pinned:
            self._rows.addWidget(self._pinned_row(night))

    def show_grid(self, grid: Grid) -> None:
        """Know the ground, from which short references are filled in."""
        self._grid = grid

    def show_clicked(self, east_m: float, north_m: float) -> None:
        """Know where the map was clicked last."""
        if self._grid is not None:
            lon, lat = self._grid.to_lonlat(east_m, north_m)
            self._clicked = (round(float(lon), 6), round(float(lat), 6))
            self._here.setEnabled(True)

    def _pinned_row(self, night: PinnedNight) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(
            text_label(tr("Night {day} on {route} is pinned.", day=night.day, route=night.route), "reason"), 1
        )
        button = QPushButton(tr("Let go"))
        name = tr("let night {day} on {route} go", day=night.day, route=night.route)
        describe(button, name, tr("The night may fall elsewhere again."))
        edit = PlanEdit(
            text=tr("Let night {day} go", day=night.day),
            change=partial(with_night_let_go, route=night.route, day=night.day),
        )
        button.clicked.connect(partial(self._emit, edit))
        line.addWidget(button)
        return row

    def _emit(self, edit: PlanEdit, is_checked: bool = False) -> None:
        self.edit_requested.emit(edit)

    @Slot()
    def _on_rest(self) -> None:
        text = self._rest.text()
        if self._settings is not None and text != ", ".join(map(str, self._settings.rest_days)):
            self.edit_requested.emit(
                PlanEdit(text=tr("Change the rest days"), change=partial(_with_rest_days, text=text))
            )

    @Slot()
    def _on_zone(self) -> None:
        zone = self._zone.text().strip() or None
        if self._settings is not None and zone != self._settings.zone:
            change = partial(with_values, part="journey", zone=zone)
            self.edit_requested.emit(PlanEdit(text=tr("Change the clocks' zone"), change=change))

    @Slot()
    def _on_put(self) -> None:
        change = partial(_with_points_read, kind=str(self._kind.value), text=self._place.text(), grid=self._grid)
        self.edit_requested.emit(PlanEdit(text=tr("Add a place to the journey"), change=change))

    @Slot()
    def _on_here(self) -> None:
        if self._clicked is not None:
            change = partial(_with_point, kind=str(self._kind.value), place=self._clicked)
            self.edit_requested.emit(PlanEdit(text=tr("Add a place to the journey"), change=change))

    @Slot()
    def _on_forecast(self) -> None:
        self.edit_requested.emit(PlanEdit(text=tr("Add a day's forecast"), change=_with_next_forecast))


class PointRow(QWidget):
    """One place that the journey takes in, as a sentence.

    Parameters
    ----------
    index : int
        Its place in the plan's list.
    point : JourneyPoint

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, index: int, point: JourneyPoint) -> None:
        super().__init__()
        self._index, self._point = index, point
        kind = ChoiceField(tr("what happens there"), translated(_KINDS), tr("What the journey does at this place."))
        kind.show_value(point.kind)
        kind.value_chosen.connect(partial(self._change, "kind"))
        self._name = QLineEdit(point.name)
        describe(self._name, tr("name of the place"), tr("As told in the words of the journey."))
        self._name.editingFinished.connect(self._on_name)
        within = NumberField(setting_of(JourneyPoint, "within_m"), step=100.0)
        within.show_value(point.within_m)
        within.value_chosen.connect(partial(self._change, "within_m"))
        drop = QPushButton(tr("Remove"))
        drop.setFlat(True)
        describe(drop, tr("remove {name}", name=point.name), tr("The journey needn't take this place in any more."))
        drop.clicked.connect(self._on_drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        place = text_label(f"({spaced_mgrs(mgrs_reference(*point.place))})", "label")
        column.addWidget(
            Sentence(tr("There must be {0} {1} {2} within {3} {4}"), kind, self._name, place, within, drop)
        )

    def _change(self, name: str, value: object) -> None:
        change = partial(_with_point_changed, index=self._index, point=replace(self._point, **{name: value}))  # type: ignore[arg-type]
        self.edit_requested.emit(PlanEdit(text=tr("Change a place of the journey"), change=change))

    @Slot()
    def _on_name(self) -> None:
        if self._name.text() != self._point.name:
            self._change("name", self._name.text())

    @Slot()
    def _on_drop(self) -> None:
        change = partial(_with_point_changed, index=self._index, point=None)
        self.edit_requested.emit(PlanEdit(text=tr("Remove a place of the journey"), change=change))


class ForecastRow(QWidget):
    """What is forecast for one day, as a sentence.

    Parameters
    ----------
    index : int
        Its place in the plan's list.
    forecast : DayForecast

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, index: int, forecast: DayForecast) -> None:
        super().__init__()
        self._index, self._forecast = index, forecast
        day = NumberField(setting_of(DayForecast, "day"))
        day.show_value(float(forecast.day))
        day.value_chosen.connect(partial(self._change, "day"))
        fields = []
        for name, step in _FORECASTS:
            field = NumberField(setting_of(DayForecast, name), step=step, empty_text=tr(_AS_BEFORE))
            field.show_value(getattr(forecast, name))
            field.value_chosen.connect(partial(self._change, name))
            fields.append(field)
        wind_from, wind, temperature, snow = fields
        drop = QPushButton(tr("Remove"))
        drop.setFlat(True)
        name = tr("remove the forecast of day {day}", day=forecast.day)
        describe(drop, name, tr("That day has the plan's weather again."))
        drop.clicked.connect(self._on_drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        told = tr("Day {0}: wind from {1} at {2}, air at {3}, snow {4} {5}")
        column.addWidget(Sentence(told, day, wind_from, wind, temperature, snow, drop))

    def _change(self, name: str, value: object) -> None:
        value = int(value) if name == "day" and isinstance(value, float) else value
        change = partial(_with_forecast_changed, index=self._index, name=name, value=value)
        self.edit_requested.emit(PlanEdit(text=tr("Change a day's forecast"), change=change))

    @Slot()
    def _on_drop(self) -> None:
        change = partial(_with_forecast_changed, index=self._index, name=None, value=None)
        self.edit_requested.emit(PlanEdit(text=tr("Remove a day's forecast"), change=change))


def _with_rest_days(plan: Plan, *, text: str) -> Plan:
    try:
        days = tuple(sorted(int(part) for part in text.replace(",", " ").split()))
    except ValueError as fault:
        raise SettingsError(
            tr("{text!r} is no list of days", text=text), fix=tr("write the days' numbers, such as 3, 5")
        ) from fault
    return with_values(plan, "journey", rest_days=days)


def _with_point(plan: Plan, *, kind: str, place: LonLat) -> Plan:
    point = JourneyPoint(name=f"Place {len(plan.journey.points) + 1}", kind=kind, place=place)
    return with_values(plan, "journey", points=(*plan.journey.points, point))


def _with_points_read(plan: Plan, *, kind: str, text: str, grid: Grid | None) -> Plan:
    for place in typed_places(text, grid):
        plan = _with_point(plan, kind=kind, place=place)
    return plan


def _with_point_changed(plan: Plan, *, index: int, point: JourneyPoint | None) -> Plan:
    points = list(plan.journey.points)
    points[index : index + 1] = [] if point is None else [point]
    return with_values(plan, "journey", points=tuple(points))


def _with_next_forecast(plan: Plan) -> Plan:
    told = {forecast.day for forecast in plan.journey.forecasts}
    day = next((day for day in range(1, plan.journey.days_max + 1) if day not in told), None)
    if day is None:
        raise SettingsError(
            tr("every day has a forecast of its own"), fix=tr("change the one of the day that is meant")
        )
    return with_values(plan, "journey", forecasts=(*plan.journey.forecasts, DayForecast(day=day)))


def _with_forecast_changed(plan: Plan, *, index: int, name: str | None, value: object) -> Plan:
    forecasts = list(plan.journey.forecasts)
    changed = [] if name is None else [replace(forecasts[index], **{name: value})]  # type: ignore[arg-type]
    forecasts[index : index + 1] = changed
    return with_values(plan, "journey", forecasts=tuple(sorted(forecasts, key=lambda one: one.day)))
