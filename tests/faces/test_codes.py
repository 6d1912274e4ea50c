"""The codes of the readings: read back from the printed page by a reader of somebody else."""

from __future__ import annotations

import io
from urllib.parse import urlsplit

import pytest
import typst
import zxingcpp
from PIL import Image

from handwound.errors import HandwoundError
from handwound.faces.pdf import codes

ADDRESSES = (codes.HERE, "http://workshop.local:8765", "https://192.168.178.23:8765/benches/three")


def decoded(svg: str, size: float, dpi: int) -> list[str]:
    """What a reader sees in the square, printed so many millimetres wide. Second method: ZXing, by zxing-cpp."""
    page = f"#set page(width: auto, height: auto, margin: 4mm)\n#image(bytes(sys.inputs.svg), width: {size}mm)"
    made = typst.compile(page.encode(), format="png", ppi=dpi, sys_inputs={"svg": svg})
    picture = Image.open(io.BytesIO(made[0] if isinstance(made, list) else made)).convert("L")
    return [found.text for found in zxingcpp.read_barcodes(picture)]


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("job", ["open-day", "a driver for the yard behind the school", "Größe #1 & more", "日本", ""])
def test_a_square_opens_its_entry(address, job) -> None:
    """At the size of the strips, on a printer of 300 dots an inch and on one of 150."""
    made = codes.square(address, "FCL10", job)
    wanted = codes.entry(address, "FCL10", job)
    assert decoded(made["svg"], 11.5, 300) == [wanted] and decoded(made["svg"], 11.5, 150) == [wanted]
    parts = urlsplit(wanted)
    assert parts.path.endswith("/enter/FCL10") and wanted.isascii() and " " not in wanted


def test_the_job_is_told_in_few_letters() -> None:
    assert codes.entry(codes.HERE, "FC2", "open-day") == "http://127.0.0.1:8765/enter/FC2?of=open-day"
    assert codes.entry(codes.HERE, "FC2", "Größe #1!").endswith("?of=groe-1"), "ß has no plain letter"
    assert codes.entry(codes.HERE, "FC2", "日本").endswith("/enter/FC2")


@pytest.mark.parametrize(
    "address",
    ["", "workshop.local", "ftp://a.b", "http://", "http://a b", "javascript:alert(1)", "http://a/?x=1", "http://a#b",
     "http://" + "a" * 60, "http://ä.de", "http://a:99999", "http://[::1"],
)  # fmt: skip
def test_an_address_that_opens_nothing_is_refused(address) -> None:
    with pytest.raises(HandwoundError, match="--page: must be the address of the page"):
        codes.checked(address)


def test_an_address_keeps_no_slash_at_its_end() -> None:
    assert codes.checked("http://workshop.local:8765/") == "http://workshop.local:8765"
