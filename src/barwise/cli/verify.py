"""``barwise verify``: whether a job's file, or the whole shop, is as it was signed, and what is not."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from barwise.errors import InputError
from barwise.files.signing_key import grouped, named_key
from barwise.files.verifying import WHAT, Verdict
from barwise.files.verifying import verify as verify_file

if TYPE_CHECKING:
    from barwise.record.seals import Standing

NOT_WHOLE = 1
"""Exit code where something was altered, or nothing proves that it was not."""

File = Annotated[Path | None, typer.Argument(metavar="FILE", help=f"{WHAT[0].upper()}{WHAT[1:]}.")]
Where = Annotated[Path | None, typer.Option("--data", help="Folder of a shop: all of its jobs.")]
Key = Annotated[str, typer.Option(help="Fingerprint of the key that must have signed, or a file of it.")]
AsJson = Annotated[bool, typer.Option("--json", help="The answer as JSON.")]


def verify(file: File = None, data: Where = None, key: Key = "", as_json: AsJson = False) -> None:
    """Tell a whole record from an altered one, and say what was altered, without a network.

    Ends with 0 where all is as it was signed, 1 where something was altered or nothing proves that it
    was not, 2 where the file cannot be read.
    """
    demanded = named_key(key) if key else ""
    if (file is None) == (data is None):
        raise InputError(
            "verify", "neither or both" if file else "nothing", "a FILE, or --data with a shop's folder"
        )
    if file is not None:
        found = verify_file(file, demanded)
        answer = answered(found, str(file))
        typer.echo(json.dumps(answer, ensure_ascii=False) if as_json else "\n".join(lines(found, str(file))))
        whole = found.word == "whole"
    else:
        assert data is not None  # one of the two
        whole = _shop(data, demanded, as_json=as_json)
    if not whole:
        raise typer.Exit(NOT_WHOLE)


def lines(found: Verdict, name: str) -> list[str]:
    """The answer in words."""
    said = [name, _headline(found)]
    said += [f"  {one.line}" for one in found.altered]
    if found.sealed is not None:
        signed = found.sealed.signed
        at = f"{signed['signed_at'][:16].replace('T', ' ')} UTC"
        whole = "" if found.altered else "Whole, as it was signed: "
        shop = found.shop or "a shop without a name"
        said.append(f"{whole}job {found.job} of {shop}, sealed {at} by the shop's clock.")
        said.append(f"Key: {grouped(signed['key'])}")
        said.append(_trust(found))
    return said + list(found.notes)


def answered(found: Verdict, name: str) -> dict[str, Any]:
    """The answer as JSON."""
    signed = None if found.sealed is None else found.sealed.signed
    return {
        "verdict": found.word,
        "file": name,
        "kind": found.kind,
        "job": found.job,
        "shop": found.shop,
        "signed_at": None if signed is None else signed["signed_at"],
        "key": None if signed is None else signed["key"],
        "key_demanded": found.demanded,
        "key_known": found.key_known,
        "readings": None if found.sealed is None else len(found.sealed.job["readings"]),
        "digest": None if found.sealed is None else found.sealed.digest,
        "alterations": [{**vars(one), "line": one.line} for one in found.altered],
        "notes": list(found.notes),
    }


def _headline(found: Verdict) -> str:
    if found.altered:
        return f"ALTERED, {len(found.altered)} thing{'s' if len(found.altered) > 1 else ''}:"
    if found.sealed is None:
        return "NOT PROVEN: nothing is signed"
    if found.demanded and not found.key_known:
        return "NOT PROVEN: whole, but signed by another key than the one asked for"
    return "verified"


def _trust(found: Verdict) -> str:
    if found.key_known:
        return "That is the key asked for, or one it vouches for."
    if found.demanded:
        return "That is not the key asked for, and no key asked for vouches for it."
    return "That it is this shop's key you must know from elsewhere: its labels, its papers, the shop itself."


def _shop(data: Path, demanded: str, *, as_json: bool) -> bool:
    from barwise.web.data_folder import chosen_folder
    from barwise.web.started import plain_words, prepare

    folder = chosen_folder(data)
    if not folder.database.exists():
        raise InputError("--data", str(data), "the folder of a shop, with its database")
    prepare(folder)
    from barwise.record.models import Job
    from barwise.record.seals import check_job

    with plain_words(folder):
        every = [(str(job.number), check_job(job, demanded)) for job in Job.objects.order_by("id")]
    if as_json:
        typer.echo(json.dumps(_shop_answer(every, str(data)), ensure_ascii=False))
    else:
        typer.echo("\n".join(_shop_lines(every)))
    return not any(_is_wrong(one) for _, one in every)


def _is_wrong(one: Standing) -> bool:
    """Altered, or sealed here by another key than the one asked for; never sealed is no alteration."""
    found = one.verdict
    if one.seal is None:
        return found.word == "altered"
    return found.word == "altered" or (found.sealed is not None and found.word != "whole")


def _shop_answer(every: list[tuple[str, Standing]], name: str) -> dict[str, Any]:
    wrong = any(_is_wrong(one) for _, one in every)
    jobs = [{**answered(one.verdict, number), "sealed_here": one.seal is not None} for number, one in every]
    return {"verdict": "altered" if wrong else "whole", "file": name, "kind": "database", "jobs": jobs}


def _shop_lines(every: list[tuple[str, Standing]]) -> list[str]:
    from barwise.record.brought_seals import in_words

    said: list[str] = []
    for number, one in every:
        found = one.verdict
        if found.altered:
            said += [f"Job {number}: {_headline(found)}", *(f"  {wrong.line}" for wrong in found.altered)]
        elif _is_wrong(one):
            said.append(f"Job {number}: {_headline(found)}")
        if one.brought is not None:
            said.append(f"Job {number} was brought in: {in_words(one.brought)}.")
    sealed = sum(one.verdict.sealed is not None for _, one in every)
    elsewhere = sum(one.verdict.sealed is not None and one.seal is None for _, one in every)
    wrong = sum(_is_wrong(one) for _, one in every)
    count = "1 job" if len(every) == 1 else f"{len(every)} jobs"
    held = f"{wrong} NOT as signed or chained" if wrong else "all as signed, the others as chained"
    by_others = f" ({elsewhere} by another shop)" if elsewhere else ""
    said.append(f"{count}, {sealed} of them sealed{by_others}: {held}.")
    return said
