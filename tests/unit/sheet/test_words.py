"""How the answer reads: the first line, the timetable, the order."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from sitepick.camp.model import Post
from sitepick.caution import Caution, joined_by_place
from sitepick.sheet.cautions import cautions_of_site, standing_cautions, tonight_cautions
from sitepick.sheet.order import OPEN, order_text
from sitepick.sheet.summary import alternate_words, answer_lines, caution_count
from sitepick.sheet.timetable import halt_times, timetable
from sitepick.sheet.words import (
    bearing_words,
    clock,
    count_words,
    kilometres,
    light_words,
    measure_words,
    sector_words,
    spaced_mgrs,
)
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight, with_named_end


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight()


def test_first_line_says_where_how_far_when_and_how_much_light_is_left(answer: Tonight) -> None:
    first, *sites, cautions = answer_lines(answer)
    assert first == (
        "Tonight: site 1, Bench north of the river. 2.4 km on skis and 6 min off the route, arrive 09:04, "
        "shelters up by 10:19, dark at 16:12. Alternate: site 2, Spruce rise, 850 m short of it."
    )
    assert len(sites) == len(answer.sites.sites)
    assert cautions == (
        f"{caution_count(answer)} cautions on the sheet and in the order; the gravest: The route crosses a lake: "
        "measure the ice first."
    )


def test_sheet_order_and_terminal_tell_the_same_cautions_the_gravest_first(answer: Tonight) -> None:
    told = tonight_cautions(answer)
    assert told[0].kind == "ice"
    order = order_text(answer).split("## Cautions")[1]
    at = [order.index(caution.text) for caution in (*told, *standing_cautions(answer))]
    assert at == sorted(at)
    assert order.count("\n- ") == len(at)


def test_cautions_of_the_alternate_name_it(answer: Tonight) -> None:
    pick, alternate, *rest = answer.sites.sites
    late = replace(alternate, cautions=(Caution(kind="march", text="Arrival is only 5 min before camp-by."),))
    told = tonight_cautions(replace(answer, sites=replace(answer.sites, sites=(pick, late, *rest))))
    assert "Site 2, the alternate: arrival is only 5 min before camp-by." in [caution.text for caution in told]


def test_what_stands_on_every_sheet_is_not_told_beside_the_same_kind(answer: Tonight) -> None:
    kinds = {caution.kind for caution in tonight_cautions(answer)}
    assert "fire" in kinds
    assert "fire" not in {caution.kind for caution in standing_cautions(answer)}
    assert {"ground", "rules"} <= {caution.kind for caution in standing_cautions(answer)}


def test_one_caution_at_several_places_is_told_once_with_all_of_them() -> None:
    def stream(place: str) -> Caution:
        return Caution(kind="water", text=f"The route crosses a stream {place} from the start.", place=place)

    [told] = joined_by_place([stream("1.0 km"), stream("2.5 km"), stream("2.5 km"), stream("4.0 km")])
    assert told.text == "The route crosses a stream 1.0 km, 2.5 km and 4.0 km from the start."


def test_no_site_is_told_with_reasons_and_what_to_relax() -> None:
    lines = answer_lines(made_tonight(site_count=0))
    assert lines[0].startswith("Tonight: no site found.")
    assert lines[1] == "Slope is over 5.7° on 71 % of the ground in reach. To relax: allow 8° to gain 40 ha."


def test_a_lone_site_has_no_alternate() -> None:
    assert alternate_words(made_tonight(site_count=1)) == "No alternate found."


def test_light_is_told_where_the_sun_keeps_no_hours(answer: Tonight) -> None:
    def under(kind: str) -> str:
        sun = replace(answer.march.sun, kind=kind)
        return light_words(replace(answer.march, sun=sun, useful_light_end=None))

    assert under("midnight sun") == "light all night"
    assert under("polar night") == "no daylight at all"


def test_cautions_of_the_march_count_only_as_far_as_the_unit_marches(answer: Tonight) -> None:
    pick = answer.sites.sites[0]
    later = replace(answer.march.legs[1], cautions=answer.march.legs[0].cautions)
    first = replace(answer.march.legs[0], cautions=())
    march = replace(answer.march, legs=(first, later))
    near = replace(pick, leave_distance_m=400.0)
    kinds = [caution.kind for caution in cautions_of_site(replace(answer, march=march), near)]
    assert "ice" not in kinds
    assert "ice" in [caution.kind for caution in cautions_of_site(answer, pick)]
    assert caution_count(answer) == 5


def test_timetable_runs_forward_and_ends_the_march_at_the_site(answer: Tonight) -> None:
    entries = timetable(answer)
    assert [entry.at for entry in entries] == sorted(entry.at for entry in entries)
    told = [entry.what for entry in entries]
    assert told[0] == "depart"
    assert any(what.startswith("arrive at site 1") for what in told)
    assert not any(what.startswith("Reach") for what in told)
    up = next(entry.at for entry in entries if entry.what == "shelters up")
    assert up == answer.sites.sites[0].arrive + timedelta(minutes=answer.plan.march.pitching_min)


def test_halts_begin_by_the_clock(answer: Tonight) -> None:
    assert [(clock(begin), minutes) for begin, minutes in halt_times(answer)] == [("08:25", 10.0)]


def test_order_goes_from_situation_to_cautions(answer: Tonight) -> None:
    titles = [line[3:] for line in order_text(answer).splitlines() if line.startswith("## ")]
    assert titles == [
        "Situation", "Task", "March", "Halt site", "Layout", "Security", "Sanitation and fire", "Timings",
        "Command and signals", "Casualties", "Cautions",
    ]  # fmt: skip


def test_order_places_every_shelter_with_its_door(answer: Tonight) -> None:
    text = order_text(answer)
    assert answer.camp is not None
    for placed in answer.camp.shelters:
        row = next(line for line in text.splitlines() if f"| {placed.shelter.name} |" in line)
        assert bearing_words(placed.door_bearing_deg) in row
        assert row.split("|")[5].split()[-1].isdigit()


def test_order_leaves_open_what_a_plan_cannot_know(answer: Tonight) -> None:
    signals = order_text(answer).split("## Command and signals")[1].split("##")[0]
    assert signals.count(OPEN) == 4


def test_order_without_a_site_gives_reasons_and_no_layout() -> None:
    text = order_text(made_tonight(site_count=0))
    assert "## Layout" not in text
    assert "To relax: allow 8° to gain 40 ha." in text


def test_order_keeps_its_tables_whatever_people_call_things() -> None:
    text = order_text(made_tonight(name="a|b *c* #d"))
    rows = [line for line in text.splitlines() if "Tent 1" in line]
    assert rows
    assert all(row.replace("\\|", "").count("|") == 7 for row in rows)


@pytest.mark.parametrize(
    ("told", "wanted"),
    [
        (kilometres(849.0), "850 m"),
        (kilometres(996.0), "1.0 km"),
        (kilometres(10_940.0), "10.9 km"),
        (bearing_words(359.6), "000°"),
        (bearing_words(7.4), "007°"),
        (count_words(1, "shelter"), "1 shelter"),
        (count_words(5, "shelter"), "5 shelters"),
        (spaced_mgrs("04QFJ1234567890"), "04Q FJ 12345 67890"),
        (spaced_mgrs("ZFB0554070788"), "Z FB 05540 70788"),
    ],
)
def test_amounts_read_as_people_say_them(told: str, wanted: str) -> None:
    assert told == wanted


def test_a_time_on_another_day_names_the_day(answer: Tonight) -> None:
    depart = answer.march.depart
    assert clock(depart + timedelta(hours=20), depart.date()) == "04:00 on 12 February"


def test_a_measure_not_known_is_told_as_such(answer: Tonight) -> None:
    assert measure_words(answer.sites.sites[2].measure("forest")) == "not known"
    assert measure_words(answer.sites.sites[0].measure("forest")) == "74 %"
    assert measure_words(answer.sites.sites[0].measure("slope")) == "3.1°"


def test_the_order_tells_where_the_routes_named_points_are() -> None:
    answer = with_named_end(made_tonight(), "Hut | upper")
    march = order_text(answer).split("## March")[1].split("##")[0]
    assert "| point of the route | grid reference |" in march
    assert "| Hut \\| upper | 34W" in march


def test_a_lone_post_watches_all_round_and_others_between_two_bearings() -> None:
    post = Post(
        name="Post 1", east_m=0.0, north_m=0.0, left_bearing_deg=359.7, right_bearing_deg=42.0, seen_frac=0.5
    )  # fmt: skip
    assert sector_words(post) == ("000°", "042°")
    assert sector_words(replace(post, right_bearing_deg=359.7)) == ("all round",)
