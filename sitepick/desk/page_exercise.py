"""Exercise: the problem, marks on the ground, what trainees get and hand in, and how they did."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.exercise_answers import OverruleLine, OwnAnswer, TakeDown
from sitepick.desk.exercise_fields import TextBox, flag_field, points_field
from sitepick.desk.exercise_marks import MarkRows
from sitepick.desk.fields import describe
from sitepick.desk.page import GAP_PX, inner_column, page_column, rule, show_texts, text_label
from sitepick.desk.plan_field import PlanField
from sitepick.desk.sentence import Sentence
from sitepick.plan.exercise_edits import with_exercise
from sitepick.plan.mark import LonLat
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight


_Shown = PlanField | MarkRows | OwnAnswer | TakeDown | OverruleLine


class ExercisePage(QWidget):
    """The Exercise page. On a trainee's copy it shows the task and the answer to fill in, and nothing else.

    Signals
    -------
    edit_requested(PlanEdit)
    pack_requested(), assess_requested(), marks_open_requested(), marks_save_requested()
        What needs a file or a folder.
    """

    edit_requested = Signal(object)
    pack_requested = Signal()
    assess_requested = Signal()
    marks_open_requested = Signal()
    marks_save_requested = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._fields: list[PlanField] = []
        column = page_column(self, "Exercise")
        self._task_shown = text_label("", "sentence")
        self.own_answer = OwnAnswer()
        self._trainers = QWidget()
        trainers = QVBoxLayout(self._trainers)
        trainers.setContentsMargins(0, 0, 0, 0)
        trainers.setSpacing(GAP_PX)
        self._add_problem(trainers)
        self.marks = MarkRows()
        self._add_marks(trainers)
        self._add_given(trainers)
        self._add_points(trainers)
        self.take_down, self.overrule = TakeDown(), OverruleLine()
        self._result = inner_column()
        self._add_answers(trainers)
        for widget in (self._task_shown, self.own_answer, self._trainers):
            column.addWidget(widget)
        self._shown: tuple[_Shown, ...] = (
            *self._fields, self.marks, self.own_answer, self.take_down, self.overrule,
        )  # fmt: skip
        for source in self._shown:
            source.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's exercise."""
        exercise = plan.exercise
        is_copy = exercise.handed_in is not None
        self._trainers.setVisible(not is_copy)
        self.own_answer.setVisible(is_copy)
        self._task_shown.setVisible(is_copy)
        self._task_shown.setText(exercise.task)
        if self._title.text() != exercise.title:
            self._title.setText(exercise.title)
        self._task.show_text(exercise.task)
        self._trainees.show_text("\n".join(exercise.trainees))
        for shown in self._shown:
            shown.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Know the ground of the answer."""
        self.marks.show_grid(answer.ground.grid)

    def show_clicked(self, place: LonLat) -> None:
        """Know where the map was clicked last."""
        for shown in (self.marks, self.own_answer, self.take_down):
            shown.show_clicked(place)

    def show_class(self, lines: tuple[str, ...]) -> None:
        """Show how the class did, a line each."""
        show_texts(self._result, lines, "reason")

    def _add_problem(self, column: QVBoxLayout) -> None:
        self._title = QLineEdit()
        self._title.setPlaceholderText("title of the exercise")
        describe(self._title, "title of the exercise", "As trainees read it; the plan's own name never reaches them.")
        self._title.editingFinished.connect(self._on_title)
        self._task = TextBox("the task, as trainees read it", "A paragraph a line.", 4)
        self._task.text_chosen.connect(partial(self._change, "task", "Change the task"))
        column.addWidget(self._title)
        column.addWidget(self._task)

    def _add_marks(self, column: QVBoxLayout) -> None:
        column.addWidget(rule())
        column.addWidget(text_label("Marks on the ground", "heading"))
        column.addWidget(self.marks)
        take, save = QPushButton("Take over marks…"), QPushButton("Save marks…")
        describe(take, "take over marks", "From a GeoJSON file.")
        describe(save, "save marks", "As a GeoJSON file, for other plans.")
        take.clicked.connect(lambda: self.marks_open_requested.emit())
        save.clicked.connect(lambda: self.marks_save_requested.emit())
        column.addWidget(Sentence(take, save))

    def _add_given(self, column: QVBoxLayout) -> None:
        given = [
            flag_field("given", "has_map", "the map is given", "the map", "no map"),
            flag_field("given", "has_unit", "the unit is given", "the unit", "no unit"),
            flag_field("given", "has_weather", "the weather is given", "the weather", "no weather"),
            flag_field("given", "has_route", "the route is given", "the whole route", "only the route's ends"),
            flag_field("given", "has_time", "the hour is given", "the hour of departure", "no hour of departure"),
            flag_field("given", "has_what_counts", "what counts is given", "the weights and limits", "no weights"),
        ]
        asked = [
            flag_field("asked", "has_alternate", "an alternate is asked", "an alternate", "no alternate"),
            flag_field("asked", "has_layout", "a layout is asked", "a layout", "no layout"),
            flag_field("asked", "has_timetable", "a timetable is asked", "a timetable", "no timetable"),
            flag_field("asked", "has_reasons", "reasons are asked", "their reasons", "no reasons"),
        ]
        self._fields += [*given, *asked]
        column.addWidget(rule())
        column.addWidget(text_label("What trainees get and hand in", "heading"))
        column.addWidget(Sentence("Trainees are given", *_listed(given), "."))
        column.addWidget(Sentence("Besides a pick they hand in", *_listed(asked), "."))
        self._trainees = TextBox("trainees, a name a line", "Each gets a copy; who hands in nothing is told.", 4)
        self._trainees.text_chosen.connect(self._on_trainees)
        column.addWidget(self._trainees)
        pack = QPushButton("Write the pack…")
        describe(pack, "write the pack", "A map without answers, an answer sheet, copies of the plan, a table.")
        pack.clicked.connect(lambda: self.pack_requested.emit())
        column.addWidget(Sentence(pack))

    def _add_points(self, column: QVBoxLayout) -> None:
        names = ("limits", "ground", "alternate", "layout", "timetable", "reasons")
        fields = {name: points_field(name, step=5.0) for name in names}
        place, door = points_field("place_tolerance_m", step=10.0), points_field("door_tolerance_deg", step=5.0)
        poorest = points_field("poorest_percent", step=5.0)
        self._fields += [*fields.values(), place, door, poorest]
        column.addWidget(rule())
        column.addWidget(text_label("What answers are worth", "heading"))
        parts: list[str | QWidget] = []
        for name, words in (
            ("limits", "for room within the limits,"), ("ground", "for how good the ground is,"),
            ("alternate", "for the alternate,"), ("layout", "for the layout,"),
            ("timetable", "for the timetable and"), ("reasons", "for the reasons."),
        ):  # fmt: skip
            parts += [fields[name].field, words]
        column.addWidget(Sentence(*parts))
        column.addWidget(
            Sentence(
                "Points for the ground begin above the poorest", poorest.field,
                "of where the unit could camp, and rise to the best.",
            )
        )  # fmt: skip
        column.addWidget(
            Sentence(
                "A pick counts for the nearest good ground within", place.field, "; doors may be", door.field, "off."
            )
        )

    def _add_answers(self, column: QVBoxLayout) -> None:
        column.addWidget(rule())
        column.addWidget(text_label("Answers", "heading"))
        column.addWidget(self.take_down)
        assess = QPushButton("Assess answers…")
        describe(assess, "assess answers", "Asks for the files that came in, then for a folder for the debriefs.")
        assess.clicked.connect(lambda: self.assess_requested.emit())
        column.addWidget(Sentence(assess))
        column.addWidget(self.overrule)
        column.addLayout(self._result)

    def _change(self, name: str, text: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        change = partial(with_exercise, **values)
        self.edit_requested.emit(PlanEdit(text=text, change=change))

    @Slot()
    def _on_title(self) -> None:
        change = partial(_retitled, title=self._title.text())
        self.edit_requested.emit(PlanEdit(text="Change the exercise's title", change=change))

    @Slot(str)
    def _on_trainees(self, text: str) -> None:
        names = tuple(" ".join(line.split()) for line in text.splitlines() if line.strip())
        self._change("trainees", "Change the list of trainees", names)


def _retitled(plan: Plan, *, title: str) -> Plan:
    return plan if plan.exercise.title == title else with_exercise(plan, title=title)


def _listed(fields: list[PlanField]) -> list[str | QWidget]:
    """Fields with commas between them, "and" before the last."""
    parts: list[str | QWidget] = []
    for number, one in enumerate(fields):
        if number:
            parts.append("and" if number == len(fields) - 1 else ",")
        parts.append(one.field)
    return parts
