"""The journey's wires: its page, the strip of days, the map, and what is written of it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from sitepick.desk import plan_files
from sitepick.desk.day_strip import journey_strip
from sitepick.desk.day_way import day_way
from sitepick.desk.translation import marked, tr

if TYPE_CHECKING:
    from pathlib import Path

    from sitepick.desk.main_window import MainWindow
    from sitepick.journey.model import Journey

NAMED_COUNT = 4  # files that are told by name
AGED = marked("The plan has changed since: work the journey out again.")


def connect_journey(window: MainWindow) -> None:
    """Tie the pieces of a window that know of a journey to each other.

    Parameters
    ----------
    window : MainWindow
        Its pieces made.
    """
    page, asker, strip = window.field_book.journey, window.journey_asker, window.journey_strip

    def show_journey(journey: Journey) -> None:
        page.show_journey(journey)
        strip.show_route(journey, page.route_index)

    def show_route(index: int) -> None:
        if asker.journey is not None:
            strip.choose(0)
            strip.show_route(asker.journey, index)
            window.map.show_day_way(None)

    def show_day(number: int) -> None:
        """Show a day on the map and on the day line."""
        if asker.journey is not None:
            one = asker.journey.routes[page.route_index]
            window.day_line.show_strip(
                journey_strip(one.days[number - 1]), tr("Day {number} of the journey.", number=number)
            )
            window.map.show_day_way(day_way(one, number))
            page.show_day(number)

    def write() -> None:
        folder = plan_files.ask_folder(window, window.keeper.folder)
        if folder is not None:
            asker.write(folder)

    def tell_written(paths: tuple[Path, ...]) -> None:
        if not paths:
            window.notices.show_text(tr("Nothing was written."))
            return
        folder, names = paths[0].parent, ", ".join(path.name for path in paths[:NAMED_COUNT])
        told = tr("The journey lies in {folder}: {names}.", folder=folder, names=names)
        if len(paths) > NAMED_COUNT:
            told = tr("The journey lies in {folder}: {names} and more.", folder=folder, names=names)
        window.notices.show_text(told)

    page.work_requested.connect(asker.ask)
    page.write_requested.connect(write)
    page.route_chosen.connect(show_route)
    strip.day_chosen.connect(show_day)
    window.map.ask_requested.connect(page.rows.show_clicked)
    asker.answered.connect(show_journey)
    asker.written.connect(tell_written)
    asker.progressed.connect(page.show_state)
    asker.ended.connect(page.show_state)
    asker.aged.connect(partial(page.show_state, tr(AGED)))
    asker.refused.connect(window.notices.show_error)
    asker.broken.connect(window.broken)
    window.answer_line.stop_requested.connect(asker.stop)
