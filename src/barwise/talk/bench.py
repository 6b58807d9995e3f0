"""The way from a meter's listener to the bench: its HTTP interface, by session and token as any program's."""

from __future__ import annotations

import json
from http.client import HTTPException
from http.cookiejar import CookieJar
from typing import Any
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode, urlsplit
from urllib.request import HTTPCookieProcessor, Request, build_opener

from barwise.errors import BarwiseError

PATIENCE_S = 5.0
_SIGN_IN_AGAIN = (401, 403)


class AwayError(BarwiseError):
    """The bench does not answer just now."""


class Bench:
    """The bench at an address; in the shop's network with an account.

    Parameters
    ----------
    server : str
        Such as ``http://127.0.0.1:8437``.
    name, password : str
        Of the account; empty at the shop's own computer.
    """

    def __init__(self, server: str, name: str = "", password: str = "") -> None:
        parts = urlsplit(server)
        if parts.scheme not in ("http", "https") or not parts.netloc:
            raise BarwiseError(f"--server: found {server}, expected an address such as http://127.0.0.1:8437")
        self.server = f"{parts.scheme}://{parts.netloc}"
        self._name, self._password = name, password
        self._begin()

    def report(self, said: dict[str, Any]) -> dict[str, Any]:
        """Report what the meter does; what the bench answers.

        Raises
        ------
        AwayError
            If it does not answer: ask again.
        BarwiseError
            If it refuses, in its own words.
        """
        if not self._token():
            self._sign_in()
        try:
            return self._posted("/api/v1/meter", said)
        except HTTPError as error:
            if error.code not in _SIGN_IN_AGAIN:
                raise self._refusal(error) from None
        self._begin()
        self._sign_in()
        try:
            return self._posted("/api/v1/meter", said)
        except HTTPError as error:
            raise self._refusal(error) from None

    def _begin(self) -> None:
        self._cookies = CookieJar()
        self._opener = build_opener(HTTPCookieProcessor(self._cookies))

    def _token(self) -> str:
        return next((one.value or "" for one in self._cookies if one.name == "csrftoken"), "")

    def _sign_in(self) -> None:
        """A token; and a session where there are accounts."""
        where = "/sign-in" if self._name else "/who"
        try:
            self._open(Request(self.server + where))
            if self._name:
                fields = {"username": self._name, "password": self._password}
                sent = urlencode({**fields, "csrfmiddlewaretoken": self._token()}).encode()
                self._open(Request(self.server + where, sent, self._headers()))
        except HTTPError as error:
            raise self._refusal(error) from None
        if self._name and not any(one.name == "sessionid" for one in self._cookies):
            raise BarwiseError(f"{self.server}: found no account {self._name} with that password")

    def _posted(self, path: str, said: dict[str, Any]) -> dict[str, Any]:
        headers = {**self._headers(), "Content-Type": "application/json", "X-CSRFToken": self._token()}
        answer = self._open(Request(self.server + path, json.dumps(said).encode(), headers))
        try:
            found = json.loads(answer)
        except ValueError:
            found = None
        if not isinstance(found, dict):
            raise BarwiseError(f"{self.server}: found something else there, expected barwise")
        return found

    def _headers(self) -> dict[str, str]:
        return {"Origin": self.server, "Referer": f"{self.server}/", "Accept": "application/json"}

    def _open(self, request: Request) -> bytes:
        try:
            with self._opener.open(request, timeout=PATIENCE_S) as answer:
                came: bytes = answer.read()
                return came
        except HTTPError:
            raise
        except (URLError, HTTPException, OSError) as error:
            raise AwayError(f"{self.server} does not answer ({error})"[:200]) from None

    def _refusal(self, error: HTTPError) -> BarwiseError:
        if error.code >= 500:
            return AwayError(f"{self.server} cannot answer ({error.code})")
        try:
            said = str(json.loads(error.read())["error"])
        except (ValueError, KeyError, TypeError, OSError):
            said = (
                f"{self.server}: found {error.code}, expected to be let in; in the network, --name an account"
            )
        return BarwiseError(said)
