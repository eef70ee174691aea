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
from sitepick.desk.translation import tr
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
        column = page_column(self, tr("Exercise"))
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
        self._title.setPlaceholderText(tr("title of the exercise"))
        describe(
            self._title, tr("title of the exercise"), tr("As trainees read it; the plan's own name never reaches them.")
        )
        self._title.editingFinished.connect(self._on_title)
        self._task = TextBox(tr("the task, as trainees read it"), tr("A paragraph a line."), 4)
        self._task.text_chosen.connect(partial(self._change, "task", tr("Change the task")))
        column.addWidget(self._title)
        column.addWidget(self._task)

    def _add_marks(self, column: QVBoxLayout) -> None:
        column.addWidget(rule())
        column.addWidget(text_label(tr("Marks on the ground"), "heading"))
        column.addWidget(self.marks)
        take, save = QPushButton(tr("Take over marks…")), QPushButton(tr("Save marks…"))
        describe(take, tr("take over marks"), tr("From a GeoJSON file."))
        describe(save, tr("save marks"), tr("As a GeoJSON file, for other plans."))
        take.clicked.connect(lambda: self.marks_open_requested.emit())
        save.clicked.connect(lambda: self.marks_save_requested.emit())
        column.addWidget(Sentence("{0} {1}", take, save))

    def _add_given(self, column: QVBoxLayout) -> None:
        given = [
            flag_field("given", "has_map", tr("the map is given"), tr("the map"), tr("no map")),
            flag_field("given", "has_unit", tr("the unit is given"), tr("the unit"), tr("no unit")),
            flag_field("given", "has_weather", tr("the weather is given"), tr("the weather"), tr("no weather")),
            flag_field(
                "given", "has_route", tr("the route is given"), tr("the whole route"), tr("only the route's ends")
            ),
            flag_field(
                "given", "has_time", tr("the hour is given"), tr("the hour of departure"), tr("no hour of departure")
            ),
            flag_field(
                "given", "has_what_counts", tr("what counts is given"), tr("the weights and limits"), tr("no weights")
            ),
        ]
        asked = [
            flag_field("asked", "has_alternate", tr("an alternate is asked"), tr("an alternate"), tr("no alternate")),
            flag_field("asked", "has_layout", tr("a layout is asked"), tr("a layout"), tr("no layout")),
            flag_field("asked", "has_timetable", tr("a timetable is asked"), tr("a timetable"), tr("no timetable")),
            flag_field("asked", "has_reasons", tr("reasons are asked"), tr("their reasons"), tr("no reasons")),
        ]
        self._fields += [*given, *asked]
        column.addWidget(rule())
        column.addWidget(text_label(tr("What trainees get and hand in"), "heading"))
        column.addWidget(
            Sentence(tr("Trainees are given {0}, {1}, {2}, {3}, {4} and {5}."), *(one.field for one in given))
        )
        column.addWidget(
            Sentence(tr("Besides a pick they hand in {0}, {1}, {2} and {3}."), *(one.field for one in asked))
        )
        self._trainees = TextBox(
            tr("trainees, a name a line"), tr("Each gets a copy; who hands in nothing is told."), 4
        )
        self._trainees.text_chosen.connect(self._on_trainees)
        column.addWidget(self._trainees)
        pack = QPushButton(tr("Write the pack…"))
        describe(pack, tr("write the pack"), tr("A map without answers, an answer sheet, copies of the plan, a table."))
        pack.clicked.connect(lambda: self.pack_requested.emit())
        column.addWidget(Sentence("{0}", pack))

    def _add_points(self, column: QVBoxLayout) -> None:
        names = ("limits", "ground", "alternate", "layout", "timetable", "reasons")
        fields = {name: points_field(name, step=5.0) for name in names}
        place, door = points_field("place_tolerance_m", step=10.0), points_field("door_tolerance_deg", step=5.0)
        poorest = points_field("poorest_percent", step=5.0)
        self._fields += [*fields.values(), place, door, poorest]
        column.addWidget(rule())
        column.addWidget(text_label(tr("What answers are worth"), "heading"))
        column.addWidget(
            Sentence(
                tr(
                    "{0} for room within the limits, {1} for how good the ground is, {2} for the alternate, {3} for "
                    "the layout, {4} for the timetable and {5} for the reasons."
                ),
                *(fields[name].field for name in names),
            )
        )
        column.addWidget(
            Sentence(
                tr(
                    "Points for the ground begin above the poorest {0} of where the unit could camp, and rise "
                    "to the best."
                ),
                poorest.field,
            )
        )
        column.addWidget(
            Sentence(
                tr("A pick counts for the nearest good ground within {0}; doors may be {1} off."),
                place.field,
                door.field,
            )
        )

    def _add_answers(self, column: QVBoxLayout) -> None:
        column.addWidget(rule())
        column.addWidget(text_label(tr("Answers"), "heading"))
        column.addWidget(self.take_down)
        assess = QPushButton(tr("Assess answers…"))
        describe(
            assess, tr("assess answers"), tr("Asks for the files that came in, then for a folder for the debriefs.")
        )
        assess.clicked.connect(lambda: self.assess_requested.emit())
        column.addWidget(Sentence("{0}", assess))
        column.addWidget(self.overrule)
        column.addLayout(self._result)

    def _change(self, name: str, text: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        change = partial(with_exercise, **values)
        self.edit_requested.emit(PlanEdit(text=text, change=change))

    @Slot()
    def _on_title(self) -> None:
        change = partial(_retitled, title=self._title.text())
        self.edit_requested.emit(PlanEdit(text=tr("Change the exercise's title"), change=change))

    @Slot(str)
    def _on_trainees(self, text: str) -> None:
        names = tuple(" ".join(line.split()) for line in text.splitlines() if line.strip())
        self._change("trainees", tr("Change the list of trainees"), names)


def _retitled(plan: Plan, *, title: str) -> Plan:
    return plan if plan.exercise.title == title else with_exercise(plan, title=title)
