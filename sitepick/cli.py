"""The same job without a screen.

Exit codes: 0 done; 1 our fault; 2 usage; 3 bad input; 4 no site found; 130 stopped.
"""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sitepick import __version__
from sitepick.errors import PlanFileError, SettingsError, SitepickError
from sitepick.plan.file import local_path, looks_like_plan, read_plan, write_plan
from sitepick.plan.handout import PAPERS
from sitepick.plan.model import LEGENDS, MODES, GroundSource, MarchSettings, Plan, Route, Unit, Weather
from sitepick.plan.shelter import shelters_for
from sitepick.work import JobStopped, Watch

if TYPE_CHECKING:
    from sitepick.sheet import Sheet

DONE, OUR_FAULT, USAGE, BAD_INPUT, NO_SITE, STOPPED = 0, 1, 2, 3, 4, 130


def run(words: Sequence[str]) -> int:
    """Run one command.

    Parameters
    ----------
    words : sequence of str
        The command line without the program's name. Nothing, or a plan alone, opens the desk.

    Returns
    -------
    int
        The exit code.
    """
    words = list(words)
    if not words or (not words[0].startswith("-") and words[0] not in commands.commands):
        words.insert(0, "desk")
    try:
        code = commands.main(args=words, prog_name="sitepick", standalone_mode=False)
    except click.exceptions.Exit as ended:
        return ended.exit_code
    except click.ClickException as fault:
        fault.show()
        return USAGE
    except SitepickError as fault:
        click.echo(f"sitepick: {fault}", err=True)
        return BAD_INPUT
    except (JobStopped, KeyboardInterrupt, click.Abort):
        click.echo("sitepick: stopped; nothing was written.", err=True)
        return STOPPED
    except BrokenPipeError:
        sys.stderr.close()
        return DONE
    return code if isinstance(code, int) else DONE


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="sitepick %(version)s")
def commands() -> None:
    """Pick tonight's bivouac site for a unit on foot, snowshoes or skis, and lay out its camp.

    "sitepick" alone, or "sitepick PLAN", opens the desk. What it says comes from maps: local rules, the
    land owner's permission and trained judgement on the ground come first.
    """


@commands.command(hidden=True)
@click.argument("plan", required=False, type=str)
def desk(plan: str | None) -> int:
    """Open the desk (the sample plan when none is named)."""
    from sitepick.paint.preflight import window_fault

    path = local_path(plan, Path.cwd()) if plan is not None else None
    if path is not None:
        read_plan(path)
    fault = window_fault()
    if fault is not None:
        raise SitepickError(fault.what, fix=f"{fault.fix}, or use: sitepick tonight PLAN --out DIR")
    from sitepick.desk import open_desk

    return open_desk(path)


@commands.command()
@click.argument("plan", type=str)
@click.option(
    "--out",
    type=str,
    help="Folder for sheet.pdf, order.md and .txt, score.tif, and tonight.json, .gpkg, .geojson, .kml, .gpx.",
)
@click.option("--paper", type=click.Choice(PAPERS), help="Paper of the sheet; the plan's own when left out.")
@click.option("--layers", is_flag=True, help="Write every layer too, as GeoTIFF and PNG, in DIR/layers.")
@click.option("--json", "as_json", is_flag=True, help="Print tonight.json, and nothing else, on standard output.")
def tonight(plan: str, out: str | None, paper: str | None, layers: bool, as_json: bool) -> int:
    """Pick tonight's site and lay out the camp, without a screen."""
    if out is None and (layers or not as_json):
        raise click.UsageError("name a folder with --out DIR" + ("" if layers else ", or ask for --json"))
    plan_read = read_plan(local_path(plan, Path.cwd()))
    with _watched() as watch:
        from sitepick.exercise.withheld import refuse_trainees_copy
        from sitepick.sheet import answer_lines, day_lines, tonight_document, write_handout, write_layers
        from sitepick.sheet.handout import LAYERS_NAME
        from sitepick.tonight import tonight as find_tonight

        refuse_trainees_copy(plan_read)
        answer = find_tonight(plan_read, watch=watch)
        draw_pdf, no_sheet = _sheet_drawer()
        if out is not None:
            folder = local_path(out, Path.cwd())
            write_handout(
                answer, folder, draw_pdf=draw_pdf, watch=watch, no_sheet_because=no_sheet or "", paper_name=paper
            )
            if layers:
                write_layers(
                    answer.plan, answer.ground, answer.terrain, folder / LAYERS_NAME, answer=answer,
                    draw_png=_picture_drawer(), watch=watch,
                )  # fmt: skip
    if no_sheet is not None and out is not None:
        click.echo(f"sitepick: no sheet.pdf: {no_sheet}", err=True)
    if as_json:
        click.echo(json.dumps(tonight_document(answer), ensure_ascii=False, indent=1))
    else:
        for line in (*answer_lines(answer), *day_lines(answer)):
            click.echo(line)
    return DONE if answer.sites.sites else NO_SITE


@commands.command()
@click.argument("plan", type=str)
@click.option(
    "--out",
    type=str,
    help="Folder for comparison.pdf, journey.json, journey.gpkg, and a sheet and an order for each night.",
)
@click.option("--paper", type=click.Choice(PAPERS), help="Paper of the sheets; the plan's own when left out.")
@click.option("--json", "as_json", is_flag=True, help="Print journey.json, and nothing else, on standard output.")
def journey(plan: str, out: str | None, paper: str | None, as_json: bool) -> int:
    """Cut the plan's routes into days and hold them side by side, with a sheet for each night of every route."""
    if out is None and not as_json:
        raise click.UsageError("name a folder with --out DIR, or ask for --json")
    plan_read = read_plan(local_path(plan, Path.cwd()))
    with _watched() as watch:
        from sitepick.exercise.withheld import refuse_trainees_copy
        from sitepick.journey import plan_journey, with_days
        from sitepick.sheet import journey_document, journey_lines, write_journey

        refuse_trainees_copy(plan_read)
        draw_pdf, no_sheet = _sheet_drawer()
        if out is not None:
            folder = local_path(out, Path.cwd())
            answer = write_journey(plan_read, folder, draw_pdf=draw_pdf, watch=watch, paper_name=paper)
        else:
            answer = with_days(plan_journey(plan_read, watch=watch), watch=watch)
    if no_sheet is not None and out is not None:
        click.echo(f"sitepick: no sheets: {no_sheet}", err=True)
    if as_json:
        click.echo(json.dumps(journey_document(answer), ensure_ascii=False, indent=1))
    else:
        for line in journey_lines(answer):
            click.echo(line)
    return DONE if any(route.is_whole for route in answer.routes) else NO_SITE


@commands.command()
@click.argument("plan", type=str)
@click.option("--out", type=str, required=True, help="Folder for pack.pdf, trainees' plan files and answers.csv.")
def pack(plan: str, out: str) -> int:
    """Write what trainees are handed: a map without answers, a blank answer sheet, copies of the plan."""
    plan_read = read_plan(local_path(plan, Path.cwd()))
    with _watched() as watch:
        from sitepick.exercise.handout import write_pack
        from sitepick.exercise.trainee import trainee_plan
        from sitepick.ground import read_ground
        from sitepick.terrain import read_terrain

        copy = trainee_plan(plan_read)
        land = read_ground(copy, watch=watch)
        terrain = read_terrain(copy, land, watch=watch)
        draw_pdf, no_sheet = _sheet_drawer()
        folder = local_path(out, Path.cwd())
        written = write_pack(plan_read, land, terrain, folder, draw_pdf=draw_pdf, watch=watch)
    if no_sheet is not None:
        click.echo(f"sitepick: no pack.pdf: {no_sheet}", err=True)
    for path in written:
        click.echo(str(path))
    return DONE


@commands.command()
@click.argument("plan", type=str)
@click.argument("picks", nargs=-1, type=str)
@click.option("--out", type=str, required=True, help="Folder for class.csv, class.pdf, assessment.json and debriefs.")
def assess(plan: str, picks: tuple[str, ...], out: str) -> int:
    """Hold trainees' picks against the ground: their plan files, tables (CSV), GPX, or folders of these.

    Picks that were taken down by hand in the plan count too.
    """
    plan_read = read_plan(local_path(plan, Path.cwd()))
    paths = [local_path(text, Path.cwd()) for text in picks]
    with _watched() as watch:
        from sitepick.exercise.answers import assess_files
        from sitepick.exercise.handout import class_lines, write_assessment

        standard, result = assess_files(plan_read, paths, watch=watch)
        draw_pdf, no_sheet = _sheet_drawer()
        folder = local_path(out, Path.cwd())
        write_assessment(plan_read, standard, result, folder, draw_pdf=draw_pdf, watch=watch)
    if no_sheet is not None:
        click.echo(f"sitepick: no debriefs: {no_sheet}", err=True)
    for line in class_lines(result):
        click.echo(line)
    return DONE


@commands.command()
@click.argument("what", nargs=-1, required=True, type=str, metavar="PLAN|FILE...")
@click.option("--layers", type=str, help="Folder for every layer as a cloud-optimised GeoTIFF and a PNG.")
@click.option("--legend", type=str, help="Legend that a cover file is held against.")
def ground(what: tuple[str, ...], layers: str | None, legend: str | None) -> int:
    """Tell what these files are and whether they will serve."""
    from sitepick.ground import examine_files, read_ground
    from sitepick.plan.exercise_edits import acting_plan
    from sitepick.terrain.lookers import observer_cautions

    paths = [local_path(text, Path.cwd()) for text in what]
    plan = _plan_among(paths)
    if plan is None:
        if layers is not None:
            raise click.UsageError("--layers needs a plan: it says where the ground is wanted")
        with _watched():
            facts = examine_files(paths, legend=legend)
        for fact in facts:
            click.echo(f"{fact.path} ({fact.role}): {fact.text}")
            for told in fact.faults or ("It will serve.",):
                click.echo(f"  {told}")
        return DONE if all(fact.serves for fact in facts) else BAD_INPUT
    with _watched() as watch:
        land = read_ground(plan, watch=watch)
        written: tuple[Path, ...] = ()
        if layers is not None:
            from sitepick.sheet import write_layers
            from sitepick.terrain import read_terrain

            terrain = read_terrain(plan, land, watch=watch)
            folder = local_path(layers, Path.cwd())
            written = write_layers(plan, land, terrain, folder, draw_png=_picture_drawer(), watch=watch)
    for fact in land.files:
        click.echo(f"{fact.path} ({fact.role}): {fact.text}")
    grid = land.grid
    click.echo(f"Ground: {grid.cols} x {grid.rows} cells of {grid.cell_m:g} m in {grid.crs}.")
    for caution in (*land.cautions, *observer_cautions(acting_plan(plan), land)):
        click.echo(f"Caution: {caution.text}")
    for path in written:
        click.echo(str(path))
    return DONE


@commands.command()
@click.argument("plan", type=str)
@click.option("--elevation", multiple=True, required=True, help="Elevation raster; again for each tile.")
@click.option("--cover", multiple=True, required=True, help="Land-cover raster; again for each tile.")
@click.option("--legend", required=True, help=f"One of {', '.join(LEGENDS)}, or a legend of your own (.csv).")
@click.option(
    "--route", help="File that holds the route (GPX, GeoJSON, GeoPackage, KML); more lines in it become other routes."
)
@click.option("--people", type=int, default=30, show_default=True)
@click.option("--depart", help="Departure, such as 2027-02-11T08:00+01:00; tomorrow at 08:00 when left out.")
@click.option("--mode", type=click.Choice(MODES), default="ski", show_default=True)
@click.option("--sled/--no-sled", default=False, help="A loaded sled behind.")
@click.option("--wind-from", type=float, help="True bearing that the wind comes from, degrees.")
@click.option("--wind-kmh", type=float, help="Wind speed in the open, km/h.")
@click.option("--temperature", type=float, help="Lowest temperature of the night, °C.")
@click.option("--snow-cm", type=float, help="Snow depth, cm.")
@click.option("--spacing", type=float, help="Least distance between shelters, m.")
@click.option("--force", is_flag=True, help="Replace a plan that is there already.")
def new(plan: str, **given: Any) -> int:
    """Make a plan from files."""
    path = local_path(plan, Path.cwd())
    _check_target(path, is_forced=given["force"])
    with _watched() as watch:
        made, told = _plan_from(path, given)
        from sitepick.ground import read_ground

        land = read_ground(made, watch=watch)
    write_plan(made, path)
    for fact in land.files:
        click.echo(f"{fact.path} ({fact.role}): {fact.text}")
    for line in told:
        click.echo(line)
    for caution in land.cautions:
        click.echo(f"Caution: {caution.text}")
    if given["route"] is None:
        click.echo("The route is a straight line over the middle of the ground: draw your own on the desk.")
        click.echo(f"Wrote {path}. Next: sitepick {plan}")
        return DONE
    click.echo(f"Wrote {path}. Next: sitepick tonight {plan} --out DIR, or sitepick {plan} for the desk.")
    return DONE


def _check_target(path: Path, *, is_forced: bool) -> None:
    """Refuse to write over anything but a plan, and over a plan only when told to."""
    if not path.parent.is_dir():
        raise PlanFileError("there is no such folder", where=str(path.parent), fix="make it first, or check the name")
    if not path.exists():
        return
    if not is_forced:
        raise PlanFileError(
            "there is a file of this name already", where=str(path), fix="choose another name, or add --force"
        )
    try:
        read_plan(path)
    except PlanFileError as fault:
        raise PlanFileError("the file of this name is no plan", where=str(path), fix="choose another name") from fault


def _plan_from(path: Path, given: dict[str, Any]) -> tuple[Plan, tuple[str, ...]]:
    """The plan, and what was said about its route's file."""
    folder = Path.cwd()
    legend: str | Path = given["legend"]
    if legend not in LEGENDS and str(legend).lower().endswith(".csv"):
        legend = local_path(str(legend), folder)
    source = GroundSource(
        elevation=tuple(local_path(text, folder) for text in given["elevation"]),
        cover=tuple(local_path(text, folder) for text in given["cover"]),
        legend=legend,
    )
    routes, told = _routes(given["route"], source)
    plan = Plan(
        name=path.stem,
        ground=source,
        unit=Unit(people=given["people"], shelters=shelters_for(_at_least_one(given["people"]))),
        weather=Weather(
            wind_from_deg=given["wind_from"], wind_kmh=given["wind_kmh"],
            temperature_c=given["temperature"], snow_cm=given["snow_cm"],
        ),
        march=MarchSettings(depart=_departure(given["depart"]), mode=given["mode"], has_sled=given["sled"]),
        route=routes[0],
        alternatives=routes[1:],
    )  # fmt: skip
    if given["spacing"] is not None:
        plan = replace(plan, camp=replace(plan.camp, spacing_m=given["spacing"]))
    return plan, told


def _at_least_one(people: int) -> int:
    if not 1 <= people <= 400:
        raise SettingsError(f"people is {people}, outside 1 to 400", fix="give a value within the limits")
    return people


def _routes(text: str | None, source: GroundSource) -> tuple[tuple[Route, ...], tuple[str, ...]]:
    from sitepick.ground import check_route_lies_on, read_routes, route_across

    if text is None:
        return (route_across(source),), ()
    path = local_path(text, Path.cwd())
    read = read_routes(path)
    check_route_lies_on(read.routes[0], source, path)
    told = [f"{path} (route): {note}" for note in read.notes]
    return read.routes, (*told, *(f"Caution: {caution.text}" for caution in read.cautions))


def _departure(text: str | None) -> datetime:
    if text is None:
        tomorrow = datetime.now().astimezone() + timedelta(days=1)
        return tomorrow.replace(hour=8, minute=0, second=0, microsecond=0)
    try:
        depart = datetime.fromisoformat(text)
    except ValueError as fault:
        raise SettingsError(
            f"the departure {text!r} is not a date and time", fix="write it like 2027-02-11T08:00+01:00"
        ) from fault
    return depart if depart.tzinfo is not None else depart.astimezone()


def _plan_among(paths: list[Path]) -> Plan | None:
    """The plan, when the only file named is one; any other GeoJSON is a vector file to examine."""
    if len(paths) != 1 or paths[0].suffix.lower() not in (".geojson", ".json"):
        return None
    return read_plan(paths[0]) if looks_like_plan(paths[0]) else None


def _sheet_drawer() -> tuple[Callable[[Sheet, Path], None] | None, str | None]:
    """What draws the PDF; without Qt's libraries nothing does, and why."""
    from sitepick.paint.preflight import drawing_fault

    fault = drawing_fault()
    if fault is not None:
        return None, f"{fault.what}; {fault.fix}."
    from sitepick.paint import write_pdf

    return write_pdf, None


def _picture_drawer() -> Callable[[Sheet, int, Path, float], None] | None:
    """What draws a picture with its legend; without Qt's libraries there is none."""
    from sitepick.paint.preflight import drawing_fault

    if drawing_fault() is not None:
        return None
    from sitepick.paint import write_png

    return write_png


@contextmanager
def _watched() -> Iterator[Watch]:
    """A watch that shows progress on a terminal and that Ctrl-C stops."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    console = Console(stderr=True)
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), console=console, transient=True, disable=not console.is_terminal
    )
    task = bar.add_task("starting", total=None)

    def show(step: str, done_count: int, total_count: int) -> None:
        bar.update(task, description=step, completed=done_count, total=total_count or None)

    watch = Watch(show)

    def stop(number: int, frame: object) -> None:
        if watch.is_stopped:
            raise KeyboardInterrupt
        watch.stop()

    before = {number: signal.signal(number, stop) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        with bar:
            yield watch
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
