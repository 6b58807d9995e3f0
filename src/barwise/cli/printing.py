"""``barwise print``: the rebuild record, a blank bench sheet or a tag label of a job, as PDF."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwise.errors import InputError
from barwise.files.on_disk import write_whole
from barwise.web.data_folder import chosen_folder, data_folder
from barwise.web.started import plain_words, prepare

if TYPE_CHECKING:
    from barwise.record.models import Job
    from barwise.report.paper.typesetting import Paper

print = typer.Typer(  # noqa: A001  the command's name
    help="Print a job: the record for the customer, a bench sheet to write on, a tag label.",
    no_args_is_help=True,
)

Number = Annotated[str, typer.Argument(metavar="JOB", help="Number of the job.")]
Where = Annotated[Path | None, typer.Option("--data", help="Folder of the shop; else its usual one.")]
To = Annotated[Path, typer.Option("-o", "--output", help="The PDF to write.")]
PaperSaid = Annotated[str, typer.Option("--paper", help="a4 or letter; else the shop's.")]


@print.command()
def record(job: Number, output: To, data: Where = None, paper: PaperSaid = "") -> None:
    """The rebuild record: two pages for the customer, the whole file behind them."""

    def made(found: Job) -> bytes:
        from barwise.report.paper.printed_record import record_pdf

        return record_pdf(found, _paper(paper))

    _print(job, output, data, made)


@print.command("bench-sheet")
def bench_sheet(job: Number, output: To, data: Where = None, paper: PaperSaid = "") -> None:
    """Every check of the job's route with its limit, its cautions and empty boxes."""

    def made(found: Job) -> bytes:
        from barwise.report.paper.bench_sheet import bench_sheet_pdf

        return bench_sheet_pdf(found, _paper(paper))

    _print(job, output, data, made)


@print.command()
def label(
    job: Number,
    output: To,
    data: Where = None,
    address: Annotated[
        str, typer.Option(help="Of the shop's server, such as http://bench.local:8321, for the code.")
    ] = "",
) -> None:
    """A tag label, 62 by 40 mm, with a code that opens the job, or holds its number."""

    def made(found: Job) -> bytes:
        from barwise.report.paper.tag_label import label_pdf

        return label_pdf(found, address)

    _print(job, output, data, made)


def _print(number: str, output: Path, data: Path | None, made: Callable[[Job], bytes]) -> None:
    folder = data_folder() if data is None else chosen_folder(data)
    prepare(folder)
    from barwise.record.jobs import job_numbered

    with plain_words(folder):
        pdf = made(job_numbered(number))
    try:
        write_whole(output, pdf)
    except OSError as error:
        raise InputError("output", f"{output} ({error.strerror})", "a file that can be written") from None
    typer.echo(f"{output}: {len(pdf) / 1000:.0f} kB")


def _paper(said: str) -> Paper | None:
    from barwise.report.paper.typesetting import paper_named

    return paper_named(said, "--paper") if said else None
