"""The command line. It prints; it computes nothing. Everything heavy is imported inside the commands."""

from __future__ import annotations

import datetime
import json
import os
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from handwound import __version__
from handwound.errors import Fault, FileError, HandwoundError
from handwound.language import ENGLISH, languages, speaking
from handwound.quantities import MisreadError, read

if TYPE_CHECKING:
    from handwound.faces.pdf.gather import Paper
    from handwound.job import Job
    from handwound.parts.prediction import Prediction

# Before numpy is imported: a second thread of its linear algebra makes these small systems slower, not faster.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
SHEET = "build-sheet.pdf"
FOLDER = click.argument("folder", type=click.Path(path_type=Path), default=Path("."))
AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON with names and SI values instead of words.")
LIKE = click.option("--like", default="open-day", show_default=True, help="The example job; any other word lists them.")
PAPER = click.option("--paper", type=click.Choice(["a4", "us-letter"]), default="a4", show_default=True)
DATE = click.option("--date", type=click.DateTime(["%Y-%m-%d"]), help="The date in the head; default: today.")
LANGUAGE = click.option("--language", type=click.Choice(languages()), default=ENGLISH, show_default=True)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, "-V", "--version")
def cli() -> None:
    """From the wire, steel and card on your shelf to a loudspeaker driver you can build.

    A job is a folder: stock.toml is what you have, brief.toml what you wish for, design.toml what will be built.

    \b
    handwound demo              see the whole way on an example
    handwound start my-driver   make a job of your own from it
    handwound check my-driver   read the files, tell every fault at once
    handwound search my-driver  find the wires and layers that fit
    handwound predict my-driver compute what the build will do
    handwound motor my-driver   look into its motor: what each part is worth, pulls, hum
    handwound heat my-driver    follow its heat: from cold, on and off, with music, what helps
    handwound sound my-driver   listen to it: what moves, where it bends, boxes, how loud, one tone
    handwound sheet my-driver   print the build sheet as a PDF
    """


def told(command: Callable[..., Any]) -> Callable[..., Any]:
    """A maker's mistake becomes its sentences and exit status 2; with --json, JSON on the output."""

    @wraps(command)
    def run(*args: Any, **kwargs: Any) -> Any:
        try:
            return command(*args, **kwargs)
        except HandwoundError as error:
            _tell(error, kwargs.get("as_json", False))
        except BrokenPipeError:  # whoever read the output has gone: click ends quietly
            raise
        except OSError as error:
            where, said = error.filename or "the output", error.strerror or error
            fault = Fault(str(where), "a place that can be read and written", str(said))
            # an output that cannot be written cannot say so itself
            _tell(FileError([fault]), kwargs.get("as_json", False) and error.filename is not None)
        sys.exit(2)

    return run


def _tell(error: HandwoundError, as_json: bool = False) -> None:
    if as_json:
        faults = [vars(fault) for fault in error.faults] if isinstance(error, FileError) else []
        click.echo(json.dumps({"error": str(error), "faults": faults}, ensure_ascii=False, indent=1))
    else:
        click.echo(str(error), err=True)


@cli.command()
@click.argument("folder", required=False)
@LIKE
@AS_JSON
@told
def demo(folder: str | None, like: str, as_json: bool) -> None:
    """Take an example job from its shelf to a printed build sheet, in FOLDER (default: by the name of the example).

    A job of your own whose coils are chosen is left as it is.
    """
    from handwound.faces import records, words
    from handwound.job import Job

    folder = like if folder is None else folder
    job = Job.example(folder, like)
    say = (lambda text: None) if as_json else click.echo
    say(f"{words.opening(job)}\n")
    ranking = job.search(_progress())
    say(f"{words.ranking(ranking, most=3)}\n")
    if not ranking.candidates:
        sys.exit(2)
    job.choose(ranking.candidates[0])
    prediction, place = job.predict(), job.folder / SHEET
    _print(place, job, prediction)
    say(f"Build 1 is chosen.\n\n{words.build(job, prediction)}\n\n{words.files(job, place)}")
    if as_json:
        record = records.prediction(job.design, job.brief, prediction, job.stock)
        found = {"ranking": records.ranking(ranking), "prediction": record}
        click.echo(records.text({"folder": folder, "sheet": str(place), **found}))


@cli.command()
@click.argument("folder")
@LIKE
@told
def start(folder: str, like: str) -> None:
    """Make a new job FOLDER from an example, ready to be changed."""
    from handwound.job import Job

    job = Job.start(folder, like)
    click.echo(f"{job.folder} is made. Begin with stock.toml, what is on your shelf.")
    click.echo(f"Then: handwound check {job.folder}")


@cli.command()
@FOLDER
@AS_JSON
@told
def check(folder: Path, as_json: bool) -> None:
    """Read all files of the job and tell every fault at once."""
    from handwound.job import Job

    job = Job(folder)
    faults = job.check()
    if faults:
        raise FileError(faults)
    if as_json:
        click.echo(json.dumps({"faults": []}))
    else:
        click.echo(f"{folder}: all files can be used.")


@cli.command()
@FOLDER
@click.option("--choose", type=click.IntRange(1), help="Write this build of the list into design.toml.")
@AS_JSON
@told
def search(folder: Path, choose: int | None, as_json: bool) -> None:
    """Try every wire of the stock in each coil; list what keeps all limits, the loudest first."""
    from handwound.faces import records, words
    from handwound.job import Job

    job = Job(folder)
    ranking = job.search(_progress())
    most = len(ranking.candidates)
    if choose is not None and most and choose > most:
        raise HandwoundError(f"--choose: must be 1 to {most}; found {choose}.")
    click.echo(records.text(records.ranking(ranking)) if as_json else words.ranking(ranking))
    if not most:
        if choose is not None:
            click.echo(f"{job.folder / 'design.toml'} is as it was.", err=True)
        sys.exit(2)
    if choose is not None:
        job.choose(ranking.candidates[choose - 1])
        click.echo(f"Build {choose} stands in {job.folder / 'design.toml'}.", err=as_json)


@cli.command()
@FOLDER
@AS_JSON
@told
def predict(folder: Path, as_json: bool) -> None:
    """Compute everything the chosen build will do, each number with its 5-95 % band."""
    from handwound.faces import records, words
    from handwound.job import Job

    job = Job(folder)
    prediction = job.predict()
    if as_json:
        record = records.prediction(job.design, job.brief, prediction, job.stock)
        click.echo(records.text(record))
    else:
        click.echo(words.prediction(job, prediction))


@cli.command()
@FOLDER
@AS_JSON
@told
def motor(folder: Path, as_json: bool) -> None:
    """Look into the motor: what each part is worth, pulls, inductance, hum."""
    from handwound.faces import records, words
    from handwound.job import Job

    found = Job(folder).motor()
    click.echo(records.text(records.motor(found)) if as_json else words.motor(found))


@cli.command()
@FOLDER
@click.option("--on", "on", metavar="TIME", help='Switched on again and again for this long, as "10 min"; with --off.')
@click.option("--off", "off", metavar="TIME", help='The rest between, as "20 min".')
@click.option("--hours", metavar="TIME", default="8 h", show_default=True, help="How long it is followed from cold.")
@click.option("--wav", type=click.Path(path_type=Path), help="A sound file that is played in place of usual music.")
@click.option("--level", metavar="LEVEL", help='Peaks of what is played beside the amplifier\'s highest, as "-6 dB".')
@AS_JSON
@told
def heat(
    folder: Path, on: str | None, off: str | None, hours: str, wav: Path | None, level: str | None, as_json: bool
) -> None:
    """Follow the heat: from cold, how long it may run, ways to feed it, on and off, music, what would help."""
    from handwound.faces import records, words
    from handwound.job import Job

    if (on is None) != (off is None):
        raise HandwoundError("--on and --off: must be given together; found one of them.")
    asked = (_read("--on", "t_on", on), _read("--off", "t_rest", off)) if on and off else None
    t_run = _read("--hours", "t_run", hours)
    loud = None if level is None else _read("--level", "level", level)
    found = Job(folder).heat(t_run, asked, wav, loud)
    click.echo(records.text(records.heat(found)) if as_json else words.heat(found))


@cli.command()
@FOLDER
@click.option(
    "--tone", metavar="FREQUENCY", help='A single note that shall be loud, as "440 Hz"; default: the brief\'s.'
)
@click.option("--through", metavar="RESISTANCE", help='All that is in series with the driver for it, as "8 Ω".')
@AS_JSON
@told
def sound(folder: Path, tone: str | None, through: str | None, as_json: bool) -> None:
    """Listen to it: what moves and holds it, where it bends, what is heard, boxes, how loud, one tone."""
    from handwound.faces import records, words
    from handwound.job import Job

    f_tone = None if tone is None else _read("--tone", "f_tone", tone)
    R_source = None if through is None else _read("--through", "R_source", through)
    found = Job(folder).sound(f_tone, R_source)
    click.echo(records.text(records.sound(found)) if as_json else words.sound(found))


def _read(option: str, name: str, written: str) -> float:
    """What was written behind an option, in SI units."""
    try:
        return read(name, written).value
    except MisreadError as error:
        raise HandwoundError(f"{option}: {error}") from None


@cli.command()
@FOLDER
@click.option("-o", "--output", type=click.Path(path_type=Path), help=f"Default: {SHEET} in the job's folder.")
@PAPER
@DATE
@LANGUAGE
@click.option("--page", metavar="ADDRESS", help="Where the codes lead: this computer, as a telephone finds it.")
@click.option(
    "--cut",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Write every template there, too, as SVG and DXF, for a laser, a knife cutter or a printed jig.",
)
@told
def sheet(
    folder: Path,
    output: Path | None,
    paper: Paper,
    date: datetime.datetime | None,
    language: str,
    page: str | None,
    cut: Path | None,
) -> None:
    """Print the build sheet of the chosen build into a PDF."""
    from handwound.faces.pdf.codes import checked
    from handwound.job import Job

    address = None if page is None else checked(page)
    job = Job(folder)
    if cut is not None:
        from handwound.faces.cut.write import check_folder

        check_folder(cut, job.brief.name)
    place, found = output or job.folder / SHEET, job.predict()
    _print(place, job, found, paper, date, language, address)
    click.echo(f"{place} is ready to print.")
    if cut is not None:
        from handwound.faces.cut.write import write_outlines
        from handwound.sheet.template.templates import templates

        with speaking(language):
            made, removed = write_outlines(cut, templates(job.design, job.brief, found), job.brief.name)
        click.echo(f"{len(made)} files are ready to cut in {cut}.")
        if removed:
            names = ", ".join(path.name for path in removed)
            click.echo(f"Removed, for this build has no such piece any more: {names}.")


def _print(
    place: Path,
    job: Job,
    found: Prediction,
    paper: Paper = "a4",
    date: datetime.datetime | None = None,
    language: str = ENGLISH,
    address: str | None = None,
) -> None:
    from handwound.faces.pdf.codes import HERE
    from handwound.faces.pdf.gather import Print
    from handwound.faces.pdf.write import write_pdf

    how = Print((date or datetime.datetime.now()).date(), paper, address or HERE)
    write_pdf(place, job.design, job.brief, found, how, language, job.stock)


def _progress() -> Callable[[int, int, str], None]:
    """One line on the error output that is written over; silent where that cannot be done."""
    can = sys.stderr.isatty() and (os.name == "nt" or os.environ.get("TERM", "dumb") != "dumb")

    def show(done: int, of: int, words: str) -> None:
        if can:
            bar = "#" * round(20 * done / of)
            click.echo(f"\r\x1b[K[{bar:<20}] {words}", err=True, nl=done == of)

    return show


def main() -> None:
    """The entry point."""
    cli()
