"""Fields of the Camp page: what the camp has, how it is watched, what is done on arrival and through the night."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from sitepick.desk.fields import ChoiceField, NumberField, describe
from sitepick.desk.fold import Fold
from sitepick.desk.hour_field import HourField
from sitepick.desk.page import GAP_PX
from sitepick.desk.plan_field import PlanField
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr
from sitepick.plan.camp_edits import with_camp_values
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.model import Plan
from sitepick.plan.security import SecuritySettings
from sitepick.plan.setting import setting_of
from sitepick.plan.work_order import WorkSettings

_SETTINGS: dict[str, type] = {
    "facilities": FacilitySettings, "security": SecuritySettings, "work": WorkSettings, "layout": LayoutSettings,
}  # fmt: skip


def camp_number(part: str, name: str, *, decimals: int = 0, step: float = 5.0, is_count: bool = False) -> PlanField:
    """A number out of one of the camp's parts, with its limits and help."""
    setting = setting_of(_SETTINGS[part], name)
    return PlanField(
        NumberField(setting, decimals=decimals, step=step),
        text=tr("Change {label}", label=tr(setting.label)),
        read=partial(_read, part=part, name=name),
        change=partial(_change_count if is_count else _change, part=part, name=name),
    )


def camp_choice(part: str, name: str, label: str, *, no: str, yes: str) -> PlanField:
    """One of two phrases for something the camp has or hasn't."""
    return PlanField(
        ChoiceField(label, ((False, no), (True, yes))),
        text=tr("Change {label}", label=label),
        read=partial(_read, part=part, name=name),
        change=partial(_change, part=part, name=name),
    )


def _read(plan: Plan, *, part: str, name: str) -> object:
    return getattr(getattr(plan.camp, part), name)


def _change(plan: Plan, value: object, *, part: str, name: str) -> Plan:
    return with_camp_values(plan, part, **{name: value})


def _change_count(plan: Plan, value: object, *, part: str, name: str) -> Plan:
    return with_camp_values(plan, part, **{name: int(value)})  # type: ignore[call-overload]


class CampFields(QWidget):
    """Sentences on the camp's facilities, posts and work; what is rarely changed is folded away.

    Signals
    -------
    edit_requested(PlanEdit)
    dead_ground_toggled(bool)
        Show what no post sees on the map.
    """

    edit_requested = Signal(object)
    dead_ground_toggled = Signal(bool)

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP_PX)
        self._fields = (*self._layout(), *self._facilities(), *self._security(), *self._work())
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's values."""
        for field in self._fields:
            field.show_plan(plan)

    def _layout(self) -> tuple[PlanField, ...]:
        slope, wind = (
            camp_number("layout", name, decimals=decimals, step=step)
            for name, decimals, step in (("slope_cost", 2, 0.1), ("wind_cost", 1, 0.5))
        )
        fold = Fold(
            tr("What makes one place for a shelter better"),
            tr("Shelters stand close together on the best of the site."),
        )
        fold.column.addWidget(
            Sentence(
                tr(
                    "A place one degree leveller is worth a walk longer by {0} to the middle of the camp, one "
                    "without any of the open wind {1}."
                ),
                slope.field,
                wind.field,
            )
        )
        self._column.addWidget(fold)
        return slope, wind

    def _facilities(self) -> tuple[PlanField, ...]:
        cooking = camp_choice(
            "facilities", "has_common_cooking", tr("cooking"), no=tr("in each shelter"), yes=tr("in one place")
        )
        fire = camp_choice(
            "facilities", "has_open_fire", tr("open fire"), no=tr("no open fire is lit"), yes=tr("a fire is lit")
        )
        pick_up = camp_choice(
            "facilities",
            "has_pick_up",
            tr("landing or pick-up"),
            no=tr("no clearing is looked for"),
            yes=tr("a clearing is wanted"),
        )
        seats = camp_number("facilities", "people_per_seat", step=1.0, is_count=True)
        water, cook, tents, walk, waste, sparks, fuel, width = (
            camp_number("facilities", name)
            for name in (
                "latrine_from_water_m", "latrine_from_cooking_m", "latrine_from_shelters_m", "latrine_walk_max_m",
                "waste_from_water_m", "fire_from_shelters_m", "fuel_from_fire_m", "pick_up_clear_m",
            )
        )  # fmt: skip
        self._column.addWidget(
            Sentence(tr("Food is cooked {0}; {1}; for a landing {2}."), cooking.field, fire.field, pick_up.field)
        )
        fold = Fold(tr("Distances of latrine, waste, fire and fuel"), tr("Common practice; local rules come first."))
        for part in (
            Sentence(
                tr(
                    "A latrine keeps {0} from water, {1} from a common cooking place and {2} from shelters; "
                    "nobody walks more than {3} to one. One seat serves {4} people."
                ),
                water.field,
                cook.field,
                tents.field,
                walk.field,
                seats.field,
            ),
            Sentence(
                tr("Waste lies {0} from water, a fire {1} from shelters, fuel {2} from both."),
                waste.field,
                sparks.field,
                fuel.field,
            ),
            Sentence(tr("A landing takes a clearing {0} wide."), width.field),
        ):
            fold.column.addWidget(part)
        self._column.addWidget(fold)
        return cooking, fire, pick_up, seats, water, cook, tents, walk, waste, sparks, fuel, width

    def _security(self) -> tuple[PlanField, ...]:
        posts = camp_number("security", "post_count", step=1.0, is_count=True)
        out_to, clear = camp_number("security", "watch_out_to_m"), camp_number("security", "perimeter_clear_m")
        posts.field.setSpecialValueText(tr("as many posts as help"))  # type: ignore[union-attr]
        self._dead = QCheckBox(tr("Hatch the ground that no post sees"))
        describe(
            self._dead, tr("hatch the ground that no post sees"), tr("On the map; among trees more is heard than seen.")
        )
        self._dead.toggled.connect(self.dead_ground_toggled)
        self._column.addWidget(
            Sentence(
                tr("The camp is watched by {0} out to {1} past its edge, which runs {2} outside everything in it."),
                posts.field,
                out_to.field,
                clear.field,
            )
        )
        self._column.addWidget(self._dead)
        return posts, out_to, clear

    def _work(self) -> tuple[PlanField, ...]:
        boughs = camp_choice(
            "work", "may_cut_boughs", tr("boughs"), no=tr("No boughs are cut"), yes=tr("Boughs may be cut")
        )
        wood = camp_choice(
            "work",
            "may_gather_firewood",
            tr("firewood"),
            no=tr("no firewood is gathered"),
            yes=tr("firewood may be gathered"),
        )
        turn, hours = (
            camp_number("work", "sentry_turn_min"),
            camp_number("work", "sentry_hours_max", decimals=1, step=0.5),
        )
        setting = tr("The unit rises at this hour; duties of the night end then.")
        wake = PlanField(
            HourField(tr("hour of rising"), setting),
            text=tr("Change the hour of rising"),
            read=partial(_read, part="work", name="wake_at"),
            change=partial(_change, part="work", name="wake_at"),
        )
        self._column.addWidget(
            Sentence(tr("{0} and {1}, as local rules and the land owner allow."), boughs.field, wood.field)
        )
        self._column.addWidget(
            Sentence(
                tr("A turn on a post takes {0}, nobody stands more than {1} a night; the unit rises at {2}."),
                turn.field,
                hours.field,
                wake.field,
            )
        )
        fold = Fold(tr("Times of the work on arrival"), tr("Person-minutes of each job; common practice."))
        latrine, water, cubic, trail = (
            camp_number("work", name)
            for name in ("latrine_person_min", "water_person_min", "wood_person_min", "trail_person_min")
        )
        fold.column.addWidget(
            Sentence(
                tr("A latrine takes {0}, water {1}, a cubic metre of wood or boughs {2}, a trail past the site {3}."),
                latrine.field,
                water.field,
                cubic.field,
                trail.field,
            )
        )
        self._column.addWidget(fold)
        return boughs, wood, turn, hours, wake, latrine, water, cubic, trail
