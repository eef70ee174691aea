"""The sheet's words and tables: timetable, shelters, cautions, reasons, data."""

from __future__ import annotations

from sitepick.camp.model import Camp
from sitepick.sheet.camp_plan import lettered_places
from sitepick.sheet.cautions import standing_cautions, tonight_cautions
from sitepick.sheet.day_words import dark_march_words, sky_words
from sitepick.sheet.fill_in import fill_in_block, leader_block
from sitepick.sheet.flow import BODY_MM, SMALL_MM, Block, Cell, Row, paragraph, stacked, table_row
from sitepick.sheet.model import Line, moved
from sitepick.sheet.needs_words import (
    chill_words,
    energy_words,
    fuel_words,
    load_words,
    sled_weights,
    tick_words,
    water_words,
)
from sitepick.sheet.norths import camp_norths, compass_words
from sitepick.sheet.palette import Palette
from sitepick.sheet.summary import answer_lines
from sitepick.sheet.timetable import halts_words, timetable
from sitepick.sheet.typeface import text_line, wrapped
from sitepick.sheet.words import (
    bearing_words,
    clock,
    count_words,
    grid_reference,
    limit_words,
    measure_words,
    shelter_name,
    zone_words,
)
from sitepick.sheet.work_block import post_block, work_blocks
from sitepick.sites.model import Site
from sitepick.tonight import Tonight

_CLOSER_MM = 0.4  # a smaller line to the one that it belongs to


def way_blocks(answer: Tonight, width_mm: float, palette: Palette) -> tuple[Block, ...]:
    """What stands under the first map: the day by the clock, and the cautions; without a pick first the reasons."""
    blocks = [
        _reasons_block(answer, width_mm, palette),
        _timetable_block(answer, width_mm, palette),
        _caution_block(answer, width_mm, palette),
    ]
    return tuple(block for block in blocks if block.rows)


def camp_blocks(answer: Tonight, camp: Camp, width_mm: float, palette: Palette) -> tuple[Block, ...]:
    """What stands under the camp's map: who sleeps where, what lies where, loads, light and cold."""
    blocks = [
        _shelter_block(answer, camp, width_mm, palette),
        _place_block(answer, camp, width_mm, palette),
        post_block(answer, camp, width_mm, palette),
        _night_block(answer, width_mm, palette),
        _needs_block(answer, width_mm, palette),
    ]
    return tuple(block for block in blocks if block.rows)


def other_blocks(answer: Tonight, width_mm: float, palette: Palette, *, is_note_told: bool) -> tuple[Block, ...]:
    """Everything else: work and duties, why this site, the sites in rank, what the answer was made from."""
    blocks = []
    if answer.camp is None:
        blocks += [_night_block(answer, width_mm, palette), _needs_block(answer, width_mm, palette)]
    elif answer.camp.work is not None:
        blocks += work_blocks(answer, answer.camp.work, width_mm, palette)
    blocks += [leader_block(answer, width_mm, palette), fill_in_block(answer, width_mm, palette)]
    if answer.sites.sites:
        pick = answer.sites.sites[0]
        blocks += [_measure_block(pick, width_mm, palette), _site_block(answer, width_mm, palette)]
    if not is_note_told:
        lines = wrapped(answer.plan.note, BODY_MM, width_mm)
        blocks.append(
            Block(title="The plan's note", rows=tuple(paragraph(one, width_mm, palette.text) for one in lines))
        )
    blocks.append(_data_block(answer, width_mm, palette))
    return tuple(block for block in blocks if block.rows)


def _reasons_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    if answer.sites.sites:
        return Block(title="", rows=())
    lines = answer_lines(answer)[1:]
    return Block(title="Why no site", rows=tuple(paragraph(line, width_mm, palette.text) for line in lines))


def _timetable_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    day = answer.march.depart.date()
    time_mm = 9.0
    rows = []
    for entry in timetable(answer):
        time, *date = clock(entry.at, day).split(" ", 1)
        what = f"{entry.what} ({date[0].removeprefix('on ')})" if date else entry.what
        colour = palette.text if entry.is_intent else palette.soft_text
        row = table_row((
            Cell(text=time, x_mm=0.0, width_mm=time_mm, colour=colour, is_bold=entry.is_intent),
            Cell(text=what, x_mm=time_mm, width_mm=width_mm - time_mm, colour=colour),
        ))  # fmt: skip
        rows.append(_with_small(row, entry.where, time_mm, width_mm, palette) if entry.where else row)
    notes = [halts_words(answer), f"Times are {zone_words(answer.march.depart)}."]
    rows += [paragraph(note, width_mm, palette.soft_text, size_mm=SMALL_MM) for note in notes if note]
    return Block(title=f"Timetable, {answer.march.depart.day} {answer.march.depart:%B %Y}", rows=tuple(rows))


def _with_small(row: Row, text: str, x_mm: float, width_mm: float, palette: Palette) -> Row:
    """A row with a smaller line below it."""
    below = paragraph(text, width_mm - x_mm, palette.text, size_mm=SMALL_MM)
    strokes = tuple(moved(stroke, x_mm, row.height_mm - _CLOSER_MM) for stroke in below.strokes)
    return Row(height_mm=row.height_mm + below.height_mm - _CLOSER_MM, strokes=(*row.strokes, *strokes))


def _shelter_block(answer: Tonight, camp: Camp, width_mm: float, palette: Palette) -> Block:
    grid = answer.ground.grid
    references = [grid_reference(grid, placed.east_m, placed.north_m).rsplit(" ", 2) for placed in camp.shelters]
    squares = sorted({square for square, _, _ in references})
    rows = [_shelter_row(("", "shelter", "section", "heads", " ".join(squares), "door"), palette.soft_text, width_mm)]
    for number, (placed, (square, east, north)) in enumerate(zip(camp.shelters, references, strict=True), start=1):
        place = f"{east} {north}" if len(squares) == 1 else f"{square} {east} {north}"
        told = (
            str(number), shelter_name(placed.shelter), placed.shelter.section, str(placed.shelter.people),
            place, bearing_words(placed.door_bearing_deg),
        )  # fmt: skip
        rows.append(_shelter_row(told, palette.text, width_mm))
    notes = [
        f"At least {camp.spacing_m:.1f} m middle to middle"
        + (f"; the closest two stand {camp.min_distance_m:.1f} m apart." if len(camp.shelters) > 1 else ".")
        + f" Doors are true bearings. {compass_words(camp_norths(answer))}".rstrip()
    ]
    if camp.missing:
        names = ", ".join(shelter.name for shelter in camp.missing)
        notes[:0] = [f"No place found for {count_words(len(camp.missing), 'shelter')}: {names}.", *camp.what_gives]
    rows += [paragraph(note, width_mm, palette.soft_text, size_mm=SMALL_MM) for note in notes]
    return Block(title=f"Shelters on site {camp.site_rank}", rows=tuple(rows))


def _shelter_row(texts: tuple[str, ...], colour: str, width_mm: float) -> Row:
    """Number, name, section, heads, place and door; the name and the section share what is left."""
    number_mm, heads_mm, place_mm, door_mm, gap_mm = 2.8, 6.0, 13.6, 6.2, 1.0
    names_mm = (width_mm - number_mm - heads_mm - place_mm - door_mm - 5 * gap_mm) / 2
    cells = []
    x_mm = 0.0
    for index, (text, room_mm) in enumerate(
        zip(texts, (number_mm, names_mm, names_mm, heads_mm, place_mm, door_mm), strict=True)
    ):
        cells.append(
            Cell(
                text=text,
                x_mm=x_mm,
                width_mm=room_mm,
                colour=colour,
                is_bold=index == 0,
                to_right=index in (3, 5),
                line_max=6 if index in (1, 2) else None,
            )
        )
        x_mm += room_mm + gap_mm
    return table_row(tuple(cells), size_mm=SMALL_MM)


def _place_block(answer: Tonight, camp: Camp, width_mm: float, palette: Palette) -> Block:
    grid = answer.ground.grid
    letter_mm = 4.2
    place_mm = 25.0
    rows = tuple(
        table_row((
            Cell(text=letter, x_mm=0.0, width_mm=letter_mm, colour=palette.text, is_bold=True),
            Cell(text=name, x_mm=letter_mm, width_mm=width_mm - letter_mm - place_mm - 1.0, colour=palette.text),
            Cell(text=grid_reference(grid, east_m, north_m), x_mm=width_mm - place_mm, width_mm=place_mm,
                 colour=palette.text, to_right=True),
        ), size_mm=SMALL_MM)
        for letter, name, east_m, north_m in lettered_places(camp)
    )  # fmt: skip
    return Block(title="Other places", rows=rows)


def _caution_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    told = tonight_cautions(answer)
    rows = [_barred(number, caution.text, width_mm, palette) for number, caution in enumerate(told, start=1)]
    titles = [f"Cautions {number} to {len(told)}" for number in range(1, len(told))]
    titles += [f"Caution {len(told)}"] if told else []
    rows += [paragraph(caution.text, width_mm, palette.text, size_mm=SMALL_MM) for caution in standing_cautions(answer)]
    titles += ["Always"] * (len(rows) - len(told))
    return Block(title="Cautions: go and look", rows=tuple(rows), titles_from=tuple(titles))


def _night_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    """Sun, moon, cold and wind on the open ground."""
    weather = answer.plan.weather
    texts = [_upper_first(sky_words(answer.march)), dark_march_words(answer.march)]
    if weather.temperature_c is not None:
        cold = f"Lowest of the night {weather.temperature_c:.0f} °C.".replace("-", "−")
        if weather.mean_wind_kmh is not None:
            felt = chill_words(answer.plan)
            cold += f" Wind {weather.mean_wind_kmh:.0f} km/h on open ground{felt}."
        texts.append(cold)
    rows = [paragraph(text, width_mm, palette.text, size_mm=SMALL_MM) for text in texts if text]
    return Block(title="Light and cold", rows=tuple(rows))


def _upper_first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _needs_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    """Effort, water, fuel and loads in small type."""
    needs = answer.needs
    if needs is None:
        return Block(title="", rows=())
    texts = [
        energy_words(needs),
        f"{water_words(needs, answer.plan.unit.people)} {fuel_words(needs)}",
        f"{load_words(needs)} {tick_words(answer.plan)}",
        sled_weights(needs),
    ]
    rows = [paragraph(text, width_mm, palette.text, size_mm=SMALL_MM) for text in texts if text]
    return Block(title="Effort and supplies", rows=tuple(rows))


def _barred(number: int, text: str, width_mm: float, palette: Palette) -> Row:
    """A paragraph with a bar and its number at its left."""
    bar_mm, indent_mm = 1.8, 6.4
    row = paragraph(text, width_mm - indent_mm, palette.text)
    bar = Line(points_mm=((0.6, 0.3), (0.6, row.height_mm - 0.9)), width_mm=0.9, colour=palette.caution_bar)
    told = text_line(str(number), (bar_mm, 0.78 * BODY_MM), BODY_MM, palette.text, is_bold=True)
    return Row(height_mm=row.height_mm, strokes=(bar, told, *(moved(stroke, indent_mm, 0.0) for stroke in row.strokes)))


def _measure_block(site: Site, width_mm: float, palette: Palette) -> Block:
    edges = (0.0, 0.39 * width_mm, 0.61 * width_mm)
    widths = (edges[1] - 1.0, edges[2] - edges[1] - 0.5, width_mm - edges[2])

    def row(texts: tuple[str, str, str], colour: str) -> Row:
        cells = zip(texts, edges, widths, strict=True)
        return table_row(tuple(Cell(text=text, x_mm=x, width_mm=room, colour=colour) for text, x, room in cells))

    head = row(("measure", "value", "limit"), palette.soft_text)
    first, *others = [
        row((measure.label, measure_words(measure), limit_words(measure)), palette.text) for measure in site.measures
    ]
    rows = (paragraph(site.reason, width_mm, palette.text), stacked(head, first), *others)
    return Block(title=f"Why site {site.rank}", rows=rows)


def _site_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    day = answer.march.depart.date()
    rows = tuple(
        table_row((
            Cell(text=str(site.rank), x_mm=0.0, width_mm=4.0, colour=palette.text, is_bold=True),
            Cell(text=f"{site.name}; {site.score:.0f} of 100, arrive {clock(site.arrive, day)}, room for "
                      f"{count_words(site.capacity, 'shelter')}; "
                      f"{grid_reference(answer.ground.grid, site.east_m, site.north_m)}",
                 x_mm=4.0, width_mm=width_mm - 4.0, colour=palette.text),
        ))
        for site in answer.sites.sites
    )  # fmt: skip
    return Block(title="Sites in rank", rows=rows)


def _data_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    grid = answer.ground.grid
    texts = [f"{file.role.capitalize()}: {file.text}" for file in answer.ground.files]
    texts.append(
        f"Cover legend: {answer.ground.legend.title}. Working cells {grid.cell_m:g} m; "
        f"{100 * answer.sites.unknown_share:.1f} % of the ground in reach is not known."
    )
    rows = tuple(paragraph(text, width_mm, palette.soft_text, size_mm=SMALL_MM) for text in texts)
    return Block(title="What this was made from", rows=rows)
