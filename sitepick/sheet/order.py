"""``order.md``: the order in words, in the sequence that a leader gives it. What the plan doesn't know stays open."""

from __future__ import annotations

from sitepick.camp.model import Camp
from sitepick.march.needs import Needs
from sitepick.plan.camp_edits import tick_of
from sitepick.plan.handout import SECTION_TITLES, OrderNotes
from sitepick.plan.model import Plan
from sitepick.sheet.cautions import standing_cautions, tonight_cautions
from sitepick.sheet.day_words import dark_march_words, moon_words
from sitepick.sheet.fill_in import CASUALTIES, SIGNALS
from sitepick.sheet.leg_words import leg_headings
from sitepick.sheet.named_points import named_points
from sitepick.sheet.needs_words import (
    HEATER_WORDS,
    STOWING_RULE,
    energy_words,
    food_words,
    fuel_words,
    kit_words,
    leg_words,
    load_words,
    open_words,
    sled_lines,
    taken_kit,
    tick_words,
    water_words,
)
from sitepick.sheet.norths import camp_norths, north_words
from sitepick.sheet.pace import pace_lines
from sitepick.sheet.plain import plain_text
from sitepick.sheet.summary import alternate_words, answer_facts, answer_lines, answer_name, firmness_words
from sitepick.sheet.timetable import halts_words, timetable, turn_back_words
from sitepick.sheet.words import (
    along_words,
    bearing_words,
    clock,
    count_words,
    grid_reference,
    kilometres,
    light_words,
    limit_words,
    measure_words,
    mode_words,
    people_words,
    sector_words,
    shelter_name,
    way_back_words,
    zone_words,
)
from sitepick.sites.model import Site
from sitepick.sky import SunDay
from sitepick.tonight import Tonight
from sitepick.units import compass_word

OPEN = "____________________"
LEADER_ADDS = "The leader adds:"


def order_text(answer: Tonight) -> str:
    """The order as Markdown.

    Parameters
    ----------
    answer : Tonight

    Returns
    -------
    str
        Situation, task, march, halt site, layout, security, rules, timings, signals, casualties and
        cautions. Lines to fill in by hand stand where a plan can't know.
    """
    plan = answer.plan
    parts = [
        f"# {_safe(plan.name)}: order for the night of {_date(answer)}",
        f"**{_safe(answer_name(answer))}** {_safe(answer_facts(answer))} {_safe(alternate_words(answer))}".rstrip(),
    ]
    if plan.note:
        parts.append(f"*{_safe(plan.note)}*")
    return "\n\n".join([*parts, *_with_notes(plan.handout.notes, dict(_sections(answer)))]) + "\n"


def plain_order_text(answer: Tonight) -> str:
    """The same order as plain text, for a radio operator, a small screen or a printer that knows no Markdown."""
    return plain_text(order_text(answer))


def _sections(answer: Tonight) -> list[tuple[str, str]]:
    """Every section by the name that the leader's notes know it by, in the sequence in which they are told."""
    told = [("situation", _situation(answer)), ("task", _task(answer)), ("march", _march(answer))]
    if answer.needs is not None:
        told += [("supplies", _supplies(answer, answer.needs)), ("before_leaving", _kit(answer))]
    told.append(("halt_site", _halt_site(answer)))
    if answer.camp is not None:
        told += [("layout", _layout(answer, answer.camp)), ("security", _security(answer, answer.camp))]
        told += zip(("work", "duties"), _work(answer, answer.camp), strict=False)
        told.append(("sanitation", _rules(answer.camp)))
    return [
        *told, ("timings", _timings(answer)), ("signals", _signals()), ("casualties", _casualties(answer)),
        ("cautions", _cautions(answer)),
    ]  # fmt: skip


def _with_notes(notes: OrderNotes, sections: dict[str, str]) -> list[str]:
    """The sections, each with the leader's own lines at its end; a section that only they fill gets its title."""
    told = []
    for name in SECTION_TITLES:
        lines = [f"- {_safe(line)}" for line in notes.lines(name)]
        text = sections.get(name)
        if text is None and lines:
            text = f"## {SECTION_TITLES[name]}"
        if text is not None:
            told.append("\n\n".join([text, *([f"{LEADER_ADDS}\n\n" + "\n".join(lines)] if lines else [])]))
    return told


def _situation(answer: Tonight) -> str:
    plan, weather, sun = answer.plan, answer.plan.weather, answer.march.sun
    from_deg, wind_kmh = weather.main_wind_from_deg, weather.mean_wind_kmh
    if wind_kmh is None:
        wind = "not known"
    elif from_deg is None:
        wind = f"{wind_kmh:.0f} km/h, quarter not known"
    else:
        often = "on the mean, most often " if weather.wind_rose else ""
        wind = f"{wind_kmh:.0f} km/h {often}from the {compass_word(from_deg)} ({from_deg:.0f}°)"
    known = (
        ("Unit", f"{people_words(answer)}, {mode_words(plan.march.mode)}"
                 f"{', with sleds' if plan.march.has_sled else ''}"),
        ("Wind", wind),
        ("Temperature", _known(weather.temperature_c, "°C", "lowest of the night")),
        ("Snow", _known(weather.snow_cm, "cm", "on open ground")),
        ("Light", f"{_sun(sun)}; {light_words(answer.march)}"),
        ("Moon", f"{moon_words(answer.march) or 'not known'}. {dark_march_words(answer.march)}".rstrip()),
        ("Ground not known", f"{100 * answer.sites.unknown_share:.1f} % of the ground in reach"),
        ("Others in the area", OPEN),
    )  # fmt: skip
    return _section("situation", [f"- {name}: {text}" for name, text in known])


def _task(answer: Tonight) -> str:
    if not answer.sites.sites:
        return _section(
            "task", ["No site was found for tonight. The leader decides:", *_bullets(answer_lines(answer)[1:])]
        )
    pick = answer.sites.sites[0]
    return _section("task", [
        f"March to site {pick.rank}, {_safe(pick.name)}, and be under shelter, all "
        f"{answer.plan.unit.people}, before the light goes.",
    ])  # fmt: skip


def _march(answer: Tonight) -> str:
    march, plan = answer.march, answer.plan
    day = march.depart.date()
    lines = [
        f"- Route: {_safe(plan.route.name)}, {kilometres(march.route_length_m)} in all; "
        f"{kilometres(march.reach_along_route_m)} of it are in reach by {clock(march.arrive_at_reach_end, day)}"
        f"{', where it is blocked' if march.is_blocked else ''}; camp-by is {clock(march.camp_by, day)}.",
        f"- Times are {zone_words(march.depart)}.",
        f"- Bearings: {north_words(camp_norths(answer), march.depart)}",
    ]
    lines += [f"- {line}" for line in pace_lines(answer)]
    halts = halts_words(answer)
    if halts:
        lines.append(f"- {halts}")
    turn = turn_back_words(march)
    if turn:
        lines.append(f"- {turn}")
    lines += ["", "| from | to | depart | arrive | distance | up | down | bearing and end |",
              "|---|---|---|---|---|---|---|---|"]  # fmt: skip
    lines += [
        f"| {_safe(leg.start_name)} | {_safe(leg.end_name)} | {clock(leg.depart, day)} | {clock(leg.arrive, day)} "
        f"| {kilometres(leg.distance_m)} | {leg.climb_m:.0f} m | {leg.descent_m:.0f} m | {its.words} |"
        for leg, its in zip(march.legs, leg_headings(answer), strict=True)
    ]
    points = named_points(answer)
    if points:
        lines += ["", "| point of the route | grid reference |", "|---|---|"]
        lines += [
            f"| {_safe(point.name)} | {grid_reference(answer.ground.grid, point.east_m, point.north_m)} |"
            for point in points
        ]
    return _section("march", lines)


def _supplies(answer: Tonight, needs: Needs) -> str:
    people = answer.plan.unit.people
    told = (
        energy_words(needs), food_words(needs, people), water_words(needs, people), fuel_words(needs), HEATER_WORDS,
        load_words(needs),
    )  # fmt: skip
    lines = [f"- {_safe(text)}" for text in told]
    lines += ["", "| from | to | effort | open to the wind |", "|---|---|---|---|"]
    lines += [
        f"| {_safe(leg.start_name)} | {_safe(leg.end_name)} | {leg_words(leg)} | {open_words(leg)} |"
        for leg in needs.legs
    ]
    if needs.sleds:
        lines += ["", STOWING_RULE, "", *(f"- {_safe(text)}" for text in sled_lines(needs))]
    return _section("supplies", lines)


def _kit(answer: Tonight) -> str:
    lines = [tick_words(answer.plan)]
    if taken_kit(answer.plan):
        lines.append("")
    lines += [f"- {'☑' if item.is_ticked else '☐'} {_safe(kit_words(item))}" for item in taken_kit(answer.plan)]
    return _section("before_leaving", lines)


def _halt_site(answer: Tonight) -> str:
    if not answer.sites.sites:
        return _section("halt_site", ["None found."])
    lines = []
    for site in answer.sites.pick_and_alternate():
        lines += _site_lines(answer, site, "Pick" if site.rank == 1 else "Alternate")
    firm = firmness_words(answer)
    lines += [_safe(firm), ""] if firm else []
    return _section("halt_site", lines)


def _site_lines(answer: Tonight, site: Site, title: str) -> list[str]:
    reference = grid_reference(answer.ground.grid, site.east_m, site.north_m)
    day = answer.march.depart.date()
    lines = [
        f"**{title}: site {site.rank}, {_safe(site.name)}**, {reference}. {_safe(along_words(answer, site))}, "
        f"arrive {clock(site.arrive, day)}. {way_back_words(site)}"
        f"Room for {count_words(site.capacity, 'shelter')}. {_safe(site.reason)}",
        "",
        "| measure | value | limit | score | weight |",
        "|---|---|---|---|---|",
    ]
    lines += [
        f"| {_safe(measure.label)} | {measure_words(measure)} | {limit_words(measure)} "
        f"| {100 * measure.score:.0f} of 100 | {100 * measure.weight:.0f} % |"
        for measure in site.measures
    ]
    return [*lines, ""]


def _layout(answer: Tonight, camp: Camp) -> str:
    grid = answer.ground.grid
    entry = grid_reference(grid, camp.entry_east_m, camp.entry_north_m)
    lines = [
        f"- Shelters stand {camp.spacing_m:.1f} m apart or more, middle to middle"
        + (f"; the closest two {camp.min_distance_m:.1f} m." if len(camp.shelters) > 1 else "."),
        f"- Way in: {entry}. One track in, nobody walks elsewhere.",
        "- Doors are true bearings.",
        "",
        "| | shelter | section | people | grid reference | door |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {number} | {_safe(shelter_name(placed.shelter))} "
        f"| {_safe(placed.shelter.section)} | {placed.shelter.people} "
        f"| {grid_reference(grid, placed.east_m, placed.north_m)} | {bearing_words(placed.door_bearing_deg)} |"
        for number, placed in enumerate(camp.shelters, start=1)
    ]
    if camp.missing:
        names = ", ".join(_safe(shelter.name) for shelter in camp.missing)
        lines += ["", f"**No place found for {count_words(len(camp.missing), 'shelter')}: {names}.**"]
        lines += ["", *(f"- {_safe(text)}" for text in camp.what_gives)]
    if camp.facilities:
        lines += ["", "| place | grid reference | why there |", "|---|---|---|"]
        lines += [
            f"| {_safe(facility.name)} | {grid_reference(grid, facility.east_m, facility.north_m)} "
            f"| {_safe(facility.reason)} |"
            for facility in camp.facilities
        ]
    return _section("layout", lines)


def _security(answer: Tonight, camp: Camp) -> str:
    lines = ["- On arrival: security all round first, then shelter, latrine, water, and a fire where allowed."]
    security = camp.security
    if security is None:
        lines += [f"- Posts: {OPEN}", f"- Alarm and where to gather: {OPEN}"]
        return _section("security", [*lines, f"- Watch roster: {OPEN}"])
    grid = answer.ground.grid
    lines += [f"- {_safe(sentence)}" for sentence in security.sentences]
    lines.append(f"- Alarm: {OPEN}; everyone gathers at "
                 f"{grid_reference(grid, security.alarm_east_m, security.alarm_north_m)}.")  # fmt: skip
    if security.posts:
        lines += ["", "| post | grid reference | from | to | of its sector seen |", "|---|---|---|---|---|"]
        lines += [
            f"| {_safe(post.name)} | {grid_reference(grid, post.east_m, post.north_m)} "
            f"| {' | '.join((*sector_words(post), '')[:2])} "
            f"| {100 * post.seen_frac:.0f} % |"
            for post in security.posts
        ]
    return _section("security", lines)


def _work(answer: Tonight, camp: Camp) -> list[str]:
    """Work on arrival, the night's duties, what to look at; nothing where no work was laid out."""
    work = camp.work
    if work is None:
        return []
    day = answer.march.depart.date()
    done = {None: "", True: ", before dark", False: ", after dark: lamps ready on arrival"}[work.is_done_by_dark]
    lines = [f"Done by {clock(work.ready, day)}{done}. Work keeps people warm: nobody stands idle.", ""]
    lines += ["| from | to | what | who | people |", "|---|---|---|---|---|"]
    lines += [
        f"| {clock(job.begin, day)} | {clock(job.end, day)} | {_safe(job.what)} | {_safe(job.who)} | {job.people} |"
        for job in work.jobs
    ]
    told = (
        (work.snow_l, "l of clean snow to melt"), (work.fuel_l, "l of fuel to melt it"),
        (work.boughs_m3, "m³ of boughs"), (work.firewood_m3, "m³ of firewood"),
    )  # fmt: skip
    needed = [f"{value:.1f} {words}" if value < 10.0 else f"{value:.0f} {words}" for value, words in told if value]
    if needed:
        lines += ["", f"To fetch: {', '.join(needed)}."]
    lines += ["", "To look at on arrival:", "", *(_tick_line(answer.plan, tick) for tick in work.ticks)]
    parts = [_section("work", lines)]
    if work.turns:
        rows = [
            f"| {clock(turn.begin, day)} | {clock(turn.end, day)} | {_safe(turn.duty)} | {_safe(turn.who)} |"
            for turn in work.turns
        ]
        parts.append(_section("duties", ["| from | to | duty | who |", "|---|---|---|---|", *rows]))
    return parts


def _tick_line(plan: Plan, what: str) -> str:
    """A thing to look at, with what was found there so far."""
    tick = tick_of(plan, what)
    return f"- [{'x' if tick.is_done else ' '}] {_safe(what)}: {_safe(tick.found) if tick.found else OPEN}"


def _rules(camp: Camp) -> str:
    kinds = {facility.kind for facility in camp.facilities}
    return _section("sanitation", [
        f"- Latrine: {'as placed above' if 'latrine' in kinds else OPEN}; nobody goes elsewhere. Waste is carried "
        "out in bags unless local rules allow other ways.",
        "- Drinking water is drawn upstream of everything else, or melted; yellow and trodden snow never.",
        "- No tree is cut and no fire lit without the land owner's leave and under the fire rules of the day.",
        "- No fire under snow-laden branches. A stove burns only with the vents open and someone awake beside it.",
    ])  # fmt: skip


def _timings(answer: Tonight) -> str:
    day = answer.march.depart.date()
    return _section("timings", [f"- {clock(entry.at, day)} {_safe(entry.what)}" for entry in timetable(answer)])


def _signals() -> str:
    return _section("signals", [f"- {what}: {OPEN}" for what in SIGNALS])


def _casualties(answer: Tonight) -> str:
    lines = []
    if answer.camp is not None:
        camp = answer.camp
        entry = grid_reference(answer.ground.grid, camp.entry_east_m, camp.entry_north_m)
        if camp.work is not None:
            lines.append(f"- {_safe(camp.work.way_out)}")
        lines.append(f"- The way in: {entry}.")
    lines += [f"- {what}: {OPEN}" for what in CASUALTIES]
    return _section("casualties", lines)


def _cautions(answer: Tonight) -> str:
    every = tonight_cautions(answer) + standing_cautions(answer)
    return _section("cautions", [f"- **{_safe(caution.kind)}**: {_safe(caution.text)}" for caution in every])


def _section(name: str, lines: list[str]) -> str:
    return f"## {SECTION_TITLES[name]}\n\n" + "\n".join(lines).rstrip()


def _bullets(lines: tuple[str, ...]) -> list[str]:
    return [f"- {_safe(line)}" for line in lines]


def _known(value: float | None, unit: str, what: str) -> str:
    return "not known" if value is None else f"{value:.0f} {unit}, {what}".replace("-", "−")


def _sun(sun: SunDay) -> str:
    told = [
        f"{word} {moment:%H:%M}" for word, moment in (("up", sun.sunrise), ("down", sun.sunset)) if moment is not None
    ]
    if told:
        return f"sun {', '.join(told)}"
    return "the sun does not set" if sun.noon_altitude_deg > 0.0 else "the sun does not rise"


def _date(answer: Tonight) -> str:
    depart = answer.march.depart
    return f"{depart.day} {depart:%B %Y}"


def _safe(text: str) -> str:
    """A person's own words, so that no sign in them breaks a table or starts a heading."""
    flat = " ".join(text.split())
    return "".join(f"\\{sign}" if sign in "\\`*_[]<>|#" else sign for sign in flat)
