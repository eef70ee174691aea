"""The map by mouse and keyboard: pan, zoom, draw the route, choose a site, ask."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sitepick.desk.edit import PlanEdit
from sitepick.desk.ground_reading import sun_row
from sitepick.desk.look import Look, look_named
from sitepick.desk.map_cards import ASK, MOVE, ROUTE
from sitepick.desk.map_signs import DISC_GAP_PX, disc_places
from sitepick.desk.map_view import MapView
from sitepick.tonight import Tonight

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def view(qtbot: QtBot, look: Look, answer: Tonight) -> MapView:
    view = MapView(look)
    qtbot.addWidget(view)
    view.resize(800, 600)
    view.show()
    qtbot.waitExposed(view)
    view.show_plan(answer.plan)
    view.show_answer(answer)
    view.show_all()
    return view


def wheel(view: MapView, place: QPointF, notches: int) -> None:
    event = QWheelEvent(
        place, view.mapToGlobal(place), QPoint(), QPoint(0, 120 * notches), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


def drag(qtbot: QtBot, view: MapView, begin: QPoint, *ends: QPoint) -> None:
    qtbot.mousePress(view, LEFT, pos=begin)
    for end in ends:
        qtbot.mouseMove(view, end)
    qtbot.mouseRelease(view, LEFT, pos=ends[-1])


def point_px(view: MapView, answer: Tonight, index: int) -> QPoint:
    lon, lat = answer.plan.route.points[index]
    east_m, north_m = answer.ground.grid.from_lonlat(lon, lat)
    x_px, y_px = view.frame.to_px(float(east_m), float(north_m))
    return QPoint(round(x_px), round(y_px))


def heard_edits(view: MapView) -> list[PlanEdit]:
    edits: list[PlanEdit] = []
    view.edit_requested.connect(edits.append)
    return edits


@pytest.mark.shape
def test_a_drag_moves_the_ground_with_the_pointer(qtbot: QtBot, view: MapView):
    before = view.frame.to_ground(300, 200)
    drag(qtbot, view, QPoint(300, 200), QPoint(340, 230), QPoint(380, 250))
    assert view.frame.to_ground(380, 250) == pytest.approx(before)


@pytest.mark.shape
@pytest.mark.parametrize("notches", [3, -2])
def test_the_wheel_zooms_and_the_ground_under_the_pointer_stays(view: MapView, notches: int):
    place = QPointF(211.0, 433.0)
    before, scale = view.frame.to_ground(place.x(), place.y()), view.frame.m_per_px
    wheel(view, place, notches)
    assert view.frame.to_ground(place.x(), place.y()) == pytest.approx(before)
    assert (view.frame.m_per_px < scale) == (notches > 0)


def test_arrows_pan_plus_and_minus_zoom_home_shows_all(qtbot: QtBot, view: MapView):
    home = view.frame
    qtbot.keyClick(view, Qt.Key.Key_Right)
    qtbot.keyClick(view, Qt.Key.Key_Up)
    assert view.frame.east_m > home.east_m
    assert view.frame.north_m > home.north_m
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.frame.m_per_px < home.m_per_px
    qtbot.keyClick(view, Qt.Key.Key_Minus)
    assert view.frame.m_per_px == pytest.approx(home.m_per_px)
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert view.frame == home


def test_home_holds_the_whole_route_and_every_site(view: MapView, answer: Tonight):
    for site in answer.sites.sites:
        for east_m, north_m in site.outline_m.exterior.coords:
            x_px, y_px = view.frame.to_px(east_m, north_m)
            assert 0 < x_px < view.width()
            assert 0 < y_px < view.height()


def test_the_pointer_reads_the_ground(qtbot: QtBot, view: MapView, answer: Tonight):
    grid = answer.ground.grid
    east_m, north_m = grid.cell_centre_m(100, 60)
    x_px, y_px = view.frame.to_px(east_m, north_m)
    qtbot.mouseMove(view, QPoint(round(x_px), round(y_px)))
    told = view._reading.accessibleName()
    assert f"Height {answer.ground.elevation_m[100, 60]:.0f} m" in told
    assert "Cover bog" in told


def test_the_sun_is_told_where_the_pointer_rests(qtbot: QtBot, view: MapView, answer: Tonight):
    east_m, north_m = answer.ground.grid.cell_centre_m(110, 75)
    x_px, y_px = view.frame.to_px(east_m, north_m)
    qtbot.mouseMove(view, QPoint(round(x_px), round(y_px)))
    assert "Sun …" in view._reading.accessibleName()
    with qtbot.waitSignal(view._sun.told, timeout=30_000):
        pass
    pointed_m = view.frame.to_ground(round(x_px), round(y_px))
    label, value = sun_row(answer, *pointed_m)
    assert f"{label} {value}" in view._reading.accessibleName()
    assert "h, " in value or value == "none"


def test_a_click_on_a_sites_disc_chooses_it(qtbot: QtBot, view: MapView, answer: Tonight):
    chosen: list[int] = []
    view.site_chosen.connect(chosen.append)
    x_px, y_px = disc_places(view.frame, answer.sites.sites)[2]
    qtbot.mouseClick(view, LEFT, pos=QPoint(round(x_px), round(y_px)))
    assert chosen == [2]


def test_choosing_a_site_brings_it_to_the_middle(view: MapView, answer: Tonight):
    site = answer.sites.sites[2]
    view.show_site(3)
    assert (view.frame.east_m, view.frame.north_m) == (site.east_m, site.north_m)


@pytest.mark.shape
def test_dragging_a_point_of_the_route_moves_it_in_one_gesture(qtbot: QtBot, view: MapView, answer: Tonight):
    edits = heard_edits(view)
    view.choose_verb(ROUTE)
    begin = point_px(view, answer, 0)
    drag(qtbot, view, begin, begin + QPoint(10, 20), begin + QPoint(30, 50))
    assert {edit.text for edit in edits} == {"Move point 1"}
    assert len({edit.gesture for edit in edits}) == 1
    moved = edits[-1].change(answer.plan).route.points
    assert moved[1] == answer.plan.route.points[1]
    east_m, north_m = answer.ground.grid.from_lonlat(*moved[0])
    end = begin + QPoint(30, 50)
    assert view.frame.to_px(float(east_m), float(north_m)) == pytest.approx((end.x(), end.y()), abs=0.1)


def test_a_click_beside_the_route_adds_a_point_at_its_end(qtbot: QtBot, view: MapView, answer: Tonight):
    edits = heard_edits(view)
    view.choose_verb(ROUTE)
    qtbot.mouseClick(view, LEFT, pos=QPoint(400, 80))
    points = edits[0].change(answer.plan).route.points
    assert points[:2] == answer.plan.route.points
    assert len(points) == 3


def test_a_click_on_the_line_puts_a_point_between(qtbot: QtBot, view: MapView, answer: Tonight):
    edits = heard_edits(view)
    view.choose_verb(ROUTE)
    first, last = point_px(view, answer, 0), point_px(view, answer, 1)
    qtbot.mouseClick(view, LEFT, pos=(first + last) / 2)
    points = edits[0].change(answer.plan).route.points
    assert (points[0], points[2]) == answer.plan.route.points


def test_the_route_can_be_drawn_by_keyboard(qtbot: QtBot, view: MapView, answer: Tonight):
    edits = heard_edits(view)
    qtbot.keyClick(view, Qt.Key.Key_R)
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    qtbot.keyClick(view, Qt.Key.Key_Up)
    assert edits[-1].text == "Move point 1"
    assert edits[-1].change(answer.plan).route.points[0][1] > answer.plan.route.points[0][1]
    qtbot.keyClick(view, Qt.Key.Key_Delete)
    assert edits[-1].text == "Remove point 1"


def test_escape_lets_the_point_go_then_ends_drawing(qtbot: QtBot, view: MapView):
    verbs: list[str] = []
    view.verb_changed.connect(verbs.append)
    qtbot.keyClick(view, Qt.Key.Key_R)
    qtbot.keyClick(view, Qt.Key.Key_PageDown)
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert verbs == [ROUTE]
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert verbs == [ROUTE, MOVE]


def test_asking_tells_the_place_clicked_and_enter_the_middle(qtbot: QtBot, view: MapView):
    asked: list[tuple[float, float]] = []
    view.ask_requested.connect(lambda east_m, north_m: asked.append((east_m, north_m)))
    view.choose_verb(ASK)
    qtbot.mouseClick(view, LEFT, pos=QPoint(120, 400))
    qtbot.keyClick(view, Qt.Key.Key_Return)
    assert asked[0] == pytest.approx(view.frame.to_ground(120, 400))
    assert asked[1] == pytest.approx((view.frame.east_m, view.frame.north_m))


def test_the_answer_to_a_question_stands_beside_the_place(view: MapView):
    view.show_why(view.frame.east_m, view.frame.north_m, "Too steep.")
    assert view._why.isVisible()
    assert "Too steep." in view._why.accessibleName()
    assert view.rect().contains(view._why.geometry())


def test_a_time_pointed_at_is_marked_on_the_route(view: MapView, answer: Tonight):
    march = answer.march
    view.show_moment(march.depart)
    assert view._route_mark_m == pytest.approx(tuple(march.route_m[0]))
    view.show_moment(None)
    assert view._route_mark_m is None


@pytest.mark.shape
@pytest.mark.parametrize("name", ["day", "dark"])
def test_route_and_reach_are_drawn_in_the_looks_colours(qtbot: QtBot, view: MapView, answer: Tonight, name: str):
    look = look_named(name)
    view.show_look(look)
    image = view.grab().toImage()
    first, last = point_px(view, answer, 0), point_px(view, answer, 1)
    dpr = image.devicePixelRatio()
    third = first + (last - first) / 3
    column = [image.pixelColor(round(third.x() * dpr), round((third.y() + off) * dpr)) for off in range(-3, 4)]
    distance = min(
        np.abs(np.array(colour.getRgb()[:3]) - np.array(look.intent.getRgb()[:3])).max() for colour in column
    )
    assert distance <= 12


def test_a_plan_elsewhere_moves_the_map_there(view: MapView, answer: Tonight):
    far = replace(answer.plan.route, points=((15.0, 78.2), (15.1, 78.2)))
    view.show_plan(replace(answer.plan, route=far))
    assert view._grid is not None
    assert view._grid.crs == "EPSG:32633"
    lon, lat = view._grid.to_lonlat(view.frame.east_m, view.frame.north_m)
    assert (float(lon), float(lat)) == pytest.approx((15.05, 78.2), abs=0.02)


def test_discs_of_neighbouring_sites_stand_clear_of_each_other(view: MapView, answer: Tonight):
    first, second, third = answer.sites.sites
    crowded = (
        first,
        replace(second, east_m=first.east_m + 5.0, north_m=first.north_m),
        replace(third, east_m=first.east_m, north_m=first.north_m),
    )
    places = list(disc_places(view.frame, crowded).values())
    assert places[0] == view.frame.to_px(first.east_m, first.north_m)
    for one, (x, y) in enumerate(places):
        for other_x, other_y in places[:one]:
            assert np.hypot(x - other_x, y - other_y) >= DISC_GAP_PX - 1e-6
