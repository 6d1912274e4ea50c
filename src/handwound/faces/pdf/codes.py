"""A short code for each reading, and the square that a telephone reads: it opens that entry of the local page."""

from __future__ import annotations

import io
import re
import unicodedata
from typing import Any
from urllib.parse import urlsplit

import segno

from handwound.errors import HandwoundError
from handwound.sheet.said import say

HERE = "http://127.0.0.1:8765"
"""Where the page of this computer is; a telephone needs the computer's own name or number in its place."""
LONGEST = 60
"""So long may an address be that its square is still read from a strip. [letters]"""
NAME = 16
"""Letters of the job's name in the address: enough to see that a sheet is of another job."""


def checked(address: str) -> str:
    """An address under which a page can be opened, without a slash at its end."""
    if len(address) > LONGEST or not address.isascii() or re.search(r"\s", address) or not _is_place(address):
        raise HandwoundError(
            f'--page: must be the address of the page, such as "http://workshop.local:8765", of {LONGEST} letters at '
            f'most; found "{address}".'
        )
    return address.rstrip("/")


def _is_place(address: str) -> bool:
    try:
        parts = urlsplit(address)
        return bool(parts.scheme in ("http", "https") and parts.hostname and parts.port != 0) and not (
            parts.query or parts.fragment
        )
    except ValueError:  # a port that is none, a bracket left open
        return False


def entry(address: str, code: str, job: str) -> str:
    """The address of one entry: ``http://127.0.0.1:8765/enter/FC2?of=open-day``."""
    plain = unicodedata.normalize("NFKD", job).encode("ascii", "ignore").decode().lower()
    short = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:NAME].strip("-")
    return f"{address}/enter/{code}" + (f"?of={short}" if short else "")


def square(address: str, code: str, job: str) -> dict[str, Any]:
    """The code as letters and as a square with its quiet zone of four modules, ISO/IEC 18004, level M."""
    drawn = io.BytesIO()
    made = segno.make_qr(entry(address, code, job), error="m", boost_error=False)
    made.save(drawn, kind="svg", xmldecl=False, border=4, omitsize=True)
    return {"code": code, "svg": drawn.getvalue().decode(), "alt": say("code {code} for the page", code=code)}
