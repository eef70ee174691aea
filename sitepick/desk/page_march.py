"""March: when and how the unit moves, in what weather, and what comes of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from sitepick.caution import joined_by_place
from sitepick.desk.delay_rows import DelayRows
from sitepick.desk.display import shown
from sitepick.desk.fields import MomentField
from sitepick.desk.hour_field import HourField
from sitepick.desk.load_fields import SUPPLY_CAUTIONS
from sitepick.desk.pace_fields import FinerPoints, pace_choice
from sitepick.desk.page import inner_column, page_column, rule, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import PlanField, plan_choice, plan_number
from sitepick.desk.rose_rows import RoseRows
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.words import (
    MODE_PHRASES,
    clock,
    effort_sentence,
    length,
    loads_sentence,
    march_day_sentences,
    route_sentence,
    sun_sentence,
)
from sitepick.plan.avalanche import LEVEL_WORDS
from sitepick.plan.edits import with_values
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.march.model import Leg
    from sitepick.tonight import Tonight

_UNKNOWN = marked("not known")
_NOT_READ = marked("not read")


class MarchPage(QWidget):
    """The March page.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, tr("March"))
        depart = PlanField(
            MomentField(tr("departure"), tr("Date and time, in the plan's own time zone.")),
            text=tr("Change departure"),
            read=lambda plan: plan.march.depart,
            change=lambda plan, value: with_values(plan, "march", depart=value),
        )
        mode = plan_choice("march", "mode", translated(MODE_PHRASES))
        sled = plan_choice(
            "march", "has_sled", ((True, tr("with a loaded sled")), (False, tr("without a sled"))), label=tr("sled")
        )
        trail = plan_choice("march", "trail_broken", ((True, tr("broken")), (False, tr("unbroken"))), label=tr("trail"))
        breaking = pace_choice(
            "breaking",
            (("rotation", tr("the head of the column, in turns")), ("lead_party", tr("a party that leaves before it"))),
            label=tr("who breaks the trail"),
            help_text=tr("A lead party goes without sleds; the order says when it leaves."),
        )
        towed = pace_choice(
            "is_towed", ((False, tr("ride")), (True, tr("hang on behind, on skis"))), label=tr("people by vehicle")
        )
        speed = plan_number("march", "level_kmh", decimals=1, step=0.2, empty_text=tr("the usual speed"))
        halt_every, halt = plan_number("march", "halt_every_min", step=5.0), plan_number("march", "halt_min", step=5.0)
        delay = plan_number("march", "delay_min", step=5.0)
        first_halt = plan_number("march", "first_halt_after_min", step=5.0)
        error = plan_number("march", "pace_error_frac", decimals=2, step=0.05)
        in_dark = plan_choice(
            "march",
            "camp_in_dark",
            ((False, tr("while it is light")), (True, tr("also in the dark"))),
            label=tr("end of the march"),
        )
        hour = PlanField(
            HourField(
                tr("hour of camp-by"),
                tr("Needed where the day has no dusk."),
                tr("the end of light less the pitching time"),
            ),
            text=tr("Change the hour of camp-by"),
            read=lambda plan: plan.march.camp_by_hour,
            change=lambda plan, value: with_values(plan, "march", camp_by_hour=value),
        )
        long_halt = plan_number("march", "long_halt_min", step=5.0)
        long_halt_at = PlanField(
            HourField(
                tr("hour of the long halt"),
                tr("To eat and melt water; it takes in the short halts that it meets."),
                tr("no hour: it is left out"),
            ),
            text=tr("Change the hour of the long halt"),
            read=lambda plan: plan.march.long_halt_at,
            change=lambda plan, value: with_values(plan, "march", long_halt_at=value),
        )
        tracks = plan_choice(
            "march",
            "tracks_packed",
            ((True, tr("packed, as quick as a broken trail")), (False, tr("not packed, as slow as an unbroken trail"))),
            label=tr("mapped tracks"),
        )
        ice = plan_number("march", "ice_cm", step=1.0, empty_text=tr("not checked"))
        snow = plan_number("weather", "snow_cm", step=5.0, empty_text=tr(_UNKNOWN))
        density = plan_number("weather", "snow_density_kg_m3", step=50.0)
        wind_from = plan_number("weather", "wind_from_deg", step=5.0, empty_text=tr(_UNKNOWN))
        wind = plan_number("weather", "wind_kmh", step=5.0, empty_text=tr(_UNKNOWN))
        temperature = plan_number("weather", "temperature_c", step=1.0, empty_text=tr(_UNKNOWN))
        levels = [
            (k, tr("level {level}, {word}", level=k, word=tr(word))) for k, word in enumerate(LEVEL_WORDS, start=1)
        ]
        level = plan_choice("avalanche", "bulletin_level", [(None, tr(_NOT_READ)), *levels])
        fresh_day = plan_number("avalanche", "fresh_24h_cm", step=5.0, empty_text=tr(_UNKNOWN))
        fresh_days = plan_number("avalanche", "fresh_72h_cm", step=5.0, empty_text=tr(_UNKNOWN))
        self._fields = (
            depart, mode, sled, trail, breaking, towed, speed, halt_every, halt, delay, ice, snow,
            wind_from, wind, temperature, first_halt, error, hour, in_dark, level, fresh_day, fresh_days,
            long_halt, long_halt_at, tracks, density,
        )  # fmt: skip
        self._route = text_label("", "sentence")
        column.addWidget(self._route)
        column.addWidget(
            Sentence(
                tr("Leave on {0}, moving {1} {2}. The trail is {3}."), depart.field, mode.field, sled.field, trail.field
            )
        )
        self._breaking = Sentence(tr("It is broken by {0}."), breaking.field)
        self._towed = Sentence(tr("People {0}."), towed.field)
        self._load = text_label("", "reason")
        for told in (self._breaking, self._towed, self._load):
            column.addWidget(told)
        column.addWidget(Sentence(tr("Mapped tracks are {0}."), tracks.field))
        column.addWidget(
            Sentence(
                tr("On the level the unit makes {0}; it halts every {1} for {2} and loses {3} for other reasons."),
                speed.field,
                halt_every.field,
                halt.field,
                delay.field,
            )
        )
        column.addWidget(
            Sentence(
                tr(
                    "The first halt comes after {0}. The speed may be off by a share of {1}: early and late "
                    "reach are drawn at that."
                ),
                first_halt.field,
                error.field,
            )
        )
        column.addWidget(
            Sentence(tr("A longer halt to eat takes {0} and begins at {1}."), long_halt.field, long_halt_at.field)
        )
        column.addWidget(Sentence(tr("In camp by {0} at the latest, and {1}."), hour.field, in_dark.field))
        self._delays = DelayRows()
        self._delays.edit_requested.connect(self.edit_requested)
        column.addWidget(self._delays)
        column.addWidget(Sentence(tr("Clear ice, measured on lakes and rivers: {0}."), ice.field))
        column.addWidget(text_label(tr("Weather for the night"), "heading"))
        self._one_wind = Sentence(tr("Wind from {0} at {1}."), wind_from.field, wind.field)
        column.addWidget(self._one_wind)
        self._rose = RoseRows()
        self._rose.edit_requested.connect(self.edit_requested)
        column.addWidget(self._rose)
        column.addWidget(
            Sentence(tr("Down to {0}, snow {1} deep, its density {2}."), temperature.field, snow.field, density.field)
        )
        column.addWidget(
            Sentence(
                tr("Avalanche bulletin: {0}; fresh snow {1} in one day and {2} in three."),
                level.field,
                fresh_day.field,
                fresh_days.field,
            )
        )
        self._finer = FinerPoints()
        self._finer.edit_requested.connect(self.edit_requested)
        column.addWidget(self._finer)
        column.addWidget(rule())
        self._found, self._cautions = inner_column(), inner_column()
        column.addLayout(self._found)
        column.addLayout(self._cautions)
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show how and when the unit moves."""
        self._route.setText(route_sentence(plan.route))
        march = plan.march
        self._breaking.setVisible(not march.trail_broken)
        self._towed.setVisible(march.mode == "vehicle")
        self._load.setVisible(march.mode != "vehicle")
        self._load.setText(shown().said(loads_sentence(plan)))
        for field in self._fields:
            field.show_plan(plan)
        self._finer.show_plan(plan)
        self._one_wind.setVisible(not plan.weather.wind_rose)
        self._rose.show_plan(plan)
        self._delays.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show how far the unit gets, leg by leg."""
        march = answer.march
        texts = [
            sun_sentence(march),
            tr(
                "By {camp_by} the unit is {reach_along_route_m} along the route of {route_length_m}; "
                "{late_reach_m} if slow, {early_reach_m} if fast.",
                camp_by=clock(march.camp_by),
                reach_along_route_m=length(march.reach_along_route_m),
                route_length_m=length(march.route_length_m),
                late_reach_m=length(march.late_reach_m),
                early_reach_m=length(march.early_reach_m),
            ),
            *march_day_sentences(march),
        ]
        lead_at = march.lead_party_departs(_needed_m(answer))
        if lead_at is not None:
            texts.append(
                tr(
                    "The lead party leaves at {lead_at} to break {needed_m} of the trail.",
                    lead_at=clock(lead_at),
                    needed_m=length(_needed_m(answer)),
                )
            )
        needs = answer.needs
        if needs is not None:
            texts.append(effort_sentence(needs))
        show_texts(self._found, texts + [_leg_text(leg) for leg in march.legs], "reason")
        on_the_way = () if needs is None else tuple(one for one in needs.cautions if one.kind not in SUPPLY_CAUTIONS)
        cautions = march.cautions + on_the_way + tuple(caution for leg in march.legs for caution in leg.cautions)
        show_cautions(self._cautions, joined_by_place(cautions))


def _needed_m(answer: Tonight) -> float:
    """How far the route must be broken: to where the pick leaves it."""
    found = answer.sites.sites
    return found[0].leave_distance_m if found else answer.march.reach_along_route_m


def _leg_text(leg: Leg) -> str:
    return tr(
        "{depart} {start_name} – {arrive} {end_name}: {distance_m}, {climb_m:.0f} m up, {descent_m:.0f} m down",
        depart=clock(leg.depart),
        start_name=leg.start_name,
        arrive=clock(leg.arrive),
        end_name=leg.end_name,
        distance_m=length(leg.distance_m),
        climb_m=leg.climb_m,
        descent_m=leg.descent_m,
    )
