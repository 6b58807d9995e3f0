"""What this computer says of itself: its names and addresses in the shop, and its time zone."""

from __future__ import annotations

import os
import socket
import zoneinfo
from pathlib import Path

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
# Reserved for documentation (RFC 5737): asking for the way there sends nothing.
_ANYWHERE = ("192.0.2.1", 9)
_UNSPECIFIED = ("0.0.0.0", "127.0.1.1")


def own_names() -> tuple[str, ...]:
    """Names and addresses under which the shop's tablets reach this computer, without asking the network."""
    name = socket.gethostname().lower()
    names = dict.fromkeys((*LOOPBACK, name, f"{name.split('.')[0]}.local", *own_addresses()))
    return tuple(one for one in names if one)


def own_addresses() -> tuple[str, ...]:
    """IPv4 addresses of this computer in the shop's network, the likeliest first."""
    found: dict[str, None] = {}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way_out:
        try:
            way_out.connect(_ANYWHERE)
            found[way_out.getsockname()[0]] = None
        except OSError:
            pass
    return tuple(address for address in found if address not in (*LOOPBACK, *_UNSPECIFIED))


def time_zone(localtime: Path = Path("/etc/localtime")) -> str:
    """Name of the shop's time zone, such as ``Europe/Rome``: from TZ, else from the system, else UTC."""
    named = os.environ.get("TZ", "").lstrip(":")
    parts = localtime.resolve().parts
    if "zoneinfo" in parts:
        where = len(parts) - 1 - parts[::-1].index("zoneinfo")
        linked = "/".join(parts[where + 1 :])
    else:
        linked = ""
    return next((zone for zone in (named, linked) if _is_zone(zone)), "UTC")


def _is_zone(name: str) -> bool:
    try:
        zoneinfo.ZoneInfo(name)
    except (ValueError, OSError, zoneinfo.ZoneInfoNotFoundError):
        return False
    return bool(name)
