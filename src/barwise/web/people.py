"""The shop's people: accounts for the network, each with a role, and who is at the bench.

Accounts change only at the shop's computer: on its screen by whoever is at the bench, or by a command of its
user. The log says whom it happened to and who did it.
"""

from __future__ import annotations

import getpass
from dataclasses import dataclass

from django.contrib.auth.models import Group, User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from barwise.errors import BarwiseError
from barwise.record.changes import log
from barwise.record.models import Person
from barwise.web.roles import ROLES

LONGEST_NAME = 120


@dataclass(frozen=True)
class Account:
    """One account, for showing.

    Parameters
    ----------
    name, role : str
    open : bool
        Whether it may sign in.
    """

    name: str
    role: str
    open: bool


def accounts() -> list[Account]:
    """Every account, by name."""
    users = User.objects.prefetch_related("groups").order_by("username")
    return [Account(user.username, _role(user), user.is_active) for user in users]


@transaction.atomic
def add(name: str, role: str, password: str, by: Person | None = None) -> None:
    """Make an account, and the person it belongs to unless the bench knows that name already.

    Raises
    ------
    BarwiseError
        If the name is taken or not a name, the role is unknown, or the password is too weak.
    """
    name = checked_name(name)
    if User.objects.filter(username__iexact=name).exists():
        raise BarwiseError(f"{name} has an account already: barwise people role changes its role")
    user = User(username=name)
    _set_password(user, password)
    _set_role(user, role)
    person, _made = Person.objects.get_or_create(name=name, defaults={"role": role})
    person.user, person.role, person.active = user, role, True
    person.save()
    _log("account added", f"{name} may sign in, as {role}.", by)


@transaction.atomic
def change_role(name: str, role: str, by: Person | None = None) -> None:
    """Give an account another role. Raises BarwiseError as `add`."""
    user = _account(name)
    _set_role(user, role)
    Person.objects.filter(user=user).update(role=role)
    _log("account's role changed", f"{user.get_username()} is {role} now.", by)


@transaction.atomic
def change_password(name: str, password: str, by: Person | None = None) -> None:
    """Give an account another password; its sessions end. Raises BarwiseError as `add`."""
    user = _account(name)
    _set_password(user, password)
    _log("account's password changed", f"{user.get_username()} has a new password.", by)


@transaction.atomic
def change_open(name: str, *, is_open: bool, by: Person | None = None) -> None:
    """Close an account, which ends its sessions, or open it again. What it did stays under its name."""
    user = _account(name)
    user.is_active = is_open
    user.save(update_fields=["is_active"])
    Person.objects.filter(user=user).update(active=is_open)
    may = "may sign in again" if is_open else "may not sign in any more"
    _log("account opened" if is_open else "account closed", f"{user.get_username()} {may}.", by)


@transaction.atomic
def free(by: Person | None = None) -> int:
    """End every wait after wrong passwords; how many there were."""
    from axes.utils import reset

    ended = int(reset())
    _log("waits ended", "Nobody has to wait after wrong passwords.", by)
    return ended


def password_changed(user: User) -> None:
    """Write down that somebody gave themselves another password."""
    person = Person.objects.filter(user=user).first()
    log("password changed", f"{user.get_username()} has a new password, by their own hand.", person)


def at_bench() -> list[Person]:
    """People who may stand at the bench, by name."""
    return list(Person.objects.filter(active=True).exclude(role="reader").order_by("name"))


@transaction.atomic
def known_at_bench(name: str) -> Person:
    """The person of this name, new if nobody has it yet.

    Raises
    ------
    BarwiseError
        If it is no name, or belongs to somebody whose account is closed.
    """
    name = checked_name(name)
    found = Person.objects.filter(name__iexact=name).first()
    if found is None:
        found = Person.objects.create(name=name, role="bench")
        log("person added", f"{name} is at the bench for the first time.", found)
    if not found.active:
        raise BarwiseError(f"{found.name} is not with the shop any more: take another name")
    return found


def checked_name(name: str) -> str:
    """A person's name without stray spaces. Raises BarwiseError if there is none."""
    name = " ".join(name.split())
    if not name or not name.isprintable():
        raise BarwiseError("name: found nothing that can be read, expected a name")
    if len(name) > LONGEST_NAME:
        raise BarwiseError(f"name: found {len(name)} characters, expected at most {LONGEST_NAME}")
    return name


def _log(what: str, line: str, by: Person | None) -> None:
    at = "at the shop's computer" if by else f"at the shop's computer, by a command of {_user_here()}"
    log(what, f"{line} ({at})", by)


def _user_here() -> str:
    """Who is signed in to this computer."""
    try:
        return getpass.getuser()
    except (KeyError, ImportError, OSError):
        return "an unknown user"


def _account(name: str) -> User:
    try:
        return User.objects.get(username__iexact=name)
    except User.DoesNotExist:
        raise BarwiseError(f"{name} has no account: barwise people list shows who has") from None


def _set_role(user: User, role: str) -> None:
    if role not in ROLES:
        raise BarwiseError(f"role: found {role}, expected {', '.join(ROLES)}")
    user.groups.set([Group.objects.get(name=role)])


def _role(user: User) -> str:
    return next((group.name for group in user.groups.all() if group.name in ROLES), "none")


def _set_password(user: User, password: str) -> None:
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise BarwiseError(f"password: {' '.join(error.messages)}") from None
    user.set_password(password)
    user.save()
