"""The printed templates measured on the picture of the page, at 300 dots an inch: the PDF is drawn by poppler.

A line's place is the centre of its darkness along a scan across it, so it is known far better than to a dot (0.085 mm).
What it must be is known from the driver's sizes, not from the page.
"""

from __future__ import annotations

import datetime
import io
import math
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pypdf
import pytest
from PIL import Image

from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print
from handwound.job import Job
from handwound.sheet.template.pages import HEIGHT, Page, pages
from handwound.sheet.template.templates import templates
from tests import examples
from tests.sheet import demo

pytestmark = pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no poppler")
DPI = 300
DOT = 25.4 / DPI
PAPER = {"a4": 210.0, "us-letter": 215.9}
"""Width of the paper [mm]: ISO 216; ANSI/ASME Y14.1 (from memory)."""
DAY = datetime.date(2026, 11, 29)
CIRCLE = re.compile(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"[^>]*stroke="#000000"')
STRIP = re.compile(r'd="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)Z"[^>]*width="0.35"')
JOIN = re.compile(
    r'd="M([\d.]+) ([\d.]+)L([\d.]+) \2"[^>]*/><path d="M([\d.]+) [\d.]+L\4 [\d.]+"[^>]*/><text[^>]*>(\w+)<'
)


class Scan:
    """One page as darkness 0 to 1; places in millimetres from the left upper corner of the template's drawing."""

    def __init__(self, picture: Image.Image, paper: str, high: float) -> None:
        self.dark = 1 - np.asarray(picture.convert("L"), dtype=float) / 255
        self.x_0 = PAPER[paper] / 2 - 90
        self.y_0 = 0.0
        # the line of the bar, 9 mm above the foot of the drawing, is the only long line there
        rows = self.dark[:, round((self.x_0 + 1) / DOT) : round((self.x_0 + 100) / DOT)].mean(axis=1)
        found = [k for k in range(len(rows) - 1, 0, -1) if rows[k] > 0.6][0]
        near = np.arange(found - 3, found + 4)
        self.y_0 = float((near + 0.5) @ rows[near] / rows[near].sum()) * DOT - (high - 9.0)

    def place(self, x: float, y: float, dx: float, dy: float, reach: float = 0.7) -> float:
        """How far from (x, y), along the unit vector (dx, dy), the middle of a line lies. [mm]"""
        way = np.linspace(-reach, reach, 141)
        u, v = (self.x_0 + x + way * dx) / DOT - 0.5, (self.y_0 + y + way * dy) / DOT - 0.5
        i, j = np.floor(v).astype(int), np.floor(u).astype(int)
        s, t = v - i, u - j
        d = self.dark
        dark = (1 - s) * ((1 - t) * d[i, j] + t * d[i, j + 1]) + s * ((1 - t) * d[i + 1, j] + t * d[i + 1, j + 1])
        return float(way @ dark / dark.sum()) if dark.max() > 0.25 else math.nan


def scans(pdf: bytes, paper: str, title: str, high: float) -> Iterator[Scan]:
    """The pages on which a title stands, in their order."""
    for k, page in enumerate(pypdf.PdfReader(io.BytesIO(pdf)).pages, 1):
        if title in " ".join(page.extract_text().replace("\xa0", " ").split()):
            command = ["pdftoppm", "-r", str(DPI), "-f", str(k), "-l", str(k), "-gray", "-png"]
            made = subprocess.run(command, input=pdf, capture_output=True, check=True).stdout
            yield Scan(Image.open(io.BytesIO(made)), paper, high)


def bar_length(scan: Scan, high: float) -> float:
    """Between the fine crosses at the ends of the bar, read above and below its line."""
    ends = [2.0 + np.mean([scan.place(2.0, high - 9 + dy, 1, 0) for dy in (-2.4, 2.4)]),
            102.0 + np.mean([scan.place(102.0, high - 9 + dy, 1, 0) for dy in (-2.4, 2.4)])]  # fmt: skip
    return ends[1] - ends[0]


def diameter(scan: Scan, x: float, y: float, r: float) -> float:
    """The middle one of the diameters at 90 angles: other lines may cross some of them."""
    found = []
    for theta in np.linspace(0, math.pi, 90, endpoint=False):
        c, s = math.cos(theta), math.sin(theta)
        ends = (scan.place(x + w * r * c, y + w * r * s, w * c, w * s, 0.3) for w in (1, -1))
        found.append(2 * r + sum(ends))
    return float(np.nanmedian(found))


@pytest.fixture(scope="module", params=[(like, paper) for like in examples.CHOSEN for paper in PAPER], ids="-".join)
def sheet(request, tmp_path_factory):
    """An example's templates, and its pages of templates as printed."""
    like, paper = request.param
    job = Job(examples.started(tmp_path_factory.mktemp("true") / like, like))
    found = job.predict()
    pdf = write.sheet_pdf(job.design, job.brief, found, Print(DAY, paper))
    laid = pages(templates(job.design, job.brief, found), paper)
    return job, laid, list(scans(pdf, paper, "Cut out, true size", HEIGHT[paper])), HEIGHT[paper]


def test_the_bar_of_every_page_is_100_mm(sheet) -> None:
    _, laid, printed, high = sheet
    assert len(printed) == len(laid) > 1
    for scan in printed:
        assert bar_length(scan, high) == pytest.approx(100.0, abs=0.1)


def test_circles_and_strips_are_as_large_as_the_driver_asks(sheet) -> None:
    """Closed forms by hand: the former's strip is pi (D_fi + t_f) by l_f, the surround's rings are its free circles."""
    job, laid, printed, _ = sheet
    coil, surround = job.design.voice_coil, job.design.surround
    wanted = {1e3 * float(surround.d_in), 1e3 * float(surround.d_out)}
    strip = 1e3 * math.pi * (coil.D_fi + coil.t_f), 1e3 * coil.l_f
    circles, strips = [], []
    for page, scan in zip(laid, printed, strict=True):
        circles += [(2 * r, diameter(scan, x, y, r)) for x, y, r in drawn_circles(page)]
        strips += list(measured_strips(page, scan))
    assert len(circles) > 4 and all(read == pytest.approx(d, abs=0.1) for d, read in circles)
    for d in wanted:
        assert min(abs(read - d) for _, read in circles) < 0.1
    assert min(max(abs(w - strip[0]), abs(h - strip[1])) for w, h in strips) < 0.1


def drawn_circles(page: Page) -> list[tuple[float, float, float]]:
    return [(float(x), float(y), float(r)) for x, y, r in CIRCLE.findall(page.svg) if float(r) > 5]


def measured_strips(page: Page, scan: Scan) -> Iterator[tuple[float, float]]:
    """Width and height of every plain rectangle, each side read at three places beside its middle."""
    for match in STRIP.findall(page.svg):
        xs, ys = sorted(map(float, match[::2])), sorted(map(float, match[1::2]))
        if xs[0] != xs[1] or ys[0] != ys[1] or xs[3] - xs[0] < 20 or ys[3] - ys[0] < 5:
            continue
        left, right, top, low = xs[0], xs[3], ys[0], ys[3]
        shares = (0.31, 0.43, 0.69)
        across = [left + s * (right - left) for s in shares]
        along = [top + s * (low - top) for s in shares]
        wide = np.nanmedian([scan.place(right, y, 1, 0, 0.3) - scan.place(left, y, 1, 0, 0.3) for y in along])
        high = np.nanmedian([scan.place(x, low, 0, 1, 0.3) - scan.place(x, top, 0, 1, 0.3) for x in across])
        yield right - left + float(wide), low - top + float(high)


@pytest.mark.parametrize("paper", PAPER)
def test_tiles_join_within_a_fifth_of_a_millimetre(paper) -> None:
    """A cone of more than three pages: laid by their crosses, all tiles show one circle, the outer rim of the sector.

    Its radius is known from the frustum in closed form: rho = (d / 2) / sin(alpha).
    """
    design, brief, made = demo.job()
    wide = replace(design.diaphragm, d_in=26e-3, d_out=300e-3, h_c=50e-3)
    design = replace(design, diaphragm=wide, surround=replace(design.surround, d_in=300e-3, d_out=330e-3))
    brief = replace(brief, D_outline=0.35)
    cone = [each for each in templates(design, brief, made) if each.key == "cone"]
    laid = pages(cone, paper)
    pdf = write.sheet_pdf(design, brief, made, Print(DAY, paper))
    printed = list(scans(pdf, paper, "Cone (DI), tile", HEIGHT[paper]))
    assert len(laid) == len(printed) > 2
    places: dict[str, list[tuple[int, complex]]] = {}
    for k, (page, scan) in enumerate(zip(laid, printed, strict=True)):
        for x_1, y, x_2, x, letter in JOIN.findall(page.svg):
            x, y = (float(x_1) + float(x_2)) / 2, float(y)
            dx = np.mean([scan.place(x, y + s, 1, 0) for s in (-2.2, 2.2)])
            dy = np.mean([scan.place(x + s, y, 0, 1) for s in (-2.2, 2.2)])
            places.setdefault(letter, []).append((k, complex(x + dx, y + dy)))
    origin = laid_by_crosses(places, len(laid))
    rim = np.array([z for k, page in enumerate(laid) for z in rim_points(page, printed[k], origin[k])])
    assert len(rim) > 200
    middle, radius = circle_through(rim)
    slope = math.atan2(50.0, 137.0)
    assert radius == pytest.approx(150.0 / math.cos(slope), abs=0.2)
    # a few rays meet the rim where the lap's edge or a letter crosses it
    assert np.quantile(np.abs(np.abs(rim - middle) - radius), 0.98) < 0.05


def laid_by_crosses(places: dict[str, list[tuple[int, complex]]], count: int) -> dict[int, complex]:
    """Where each tile lies when its crosses lie on those of the same letter; two crosses of a join agree."""
    origin = {0: 0j}
    while len(origin) < count:
        for (k, a), (n, b) in (pair for pair in places.values() if len(pair) == 2):
            if k in origin:
                origin.setdefault(n, origin[k] + a - b)
            elif n in origin:
                origin.setdefault(k, origin[n] + b - a)
    for (k, a), (n, b) in (pair for pair in places.values() if len(pair) == 2):
        assert abs(origin[k] + a - origin[n] - b) < 0.2
    return origin


def rim_points(page: Page, scan: Scan, origin: complex) -> Iterator[complex]:
    """Where the outer rim runs on one tile, as measured; where to look for it is told by the cross in its middle."""
    drawn = page.svg[: page.svg.index('class="joins"')]
    (x_1, y, x_2) = map(float, re.findall(r'd="M([-\d.]+) ([-\d.]+)L([-\d.]+) \2"', drawn)[-1])
    middle, radius = complex((x_1 + x_2) / 2, y), 150.0 / math.cos(math.atan2(50.0, 137.0))
    for theta in np.linspace(0, 2 * math.pi, 720, endpoint=False):
        way = complex(math.cos(theta), math.sin(theta))
        z = middle + radius * way
        if 3 < z.real < 177 and 3 < z.imag < scan_high(page) - 3:
            off = scan.place(z.real, z.imag, way.real, way.imag)
            if not math.isnan(off):
                yield origin + z + off * way


def scan_high(page: Page) -> float:
    """Height of the tile on its page. [mm]"""
    found = re.search(r'<clipPath id="clip1"><rect x="0" y="0" width="180" height="([\d.]+)"', page.svg)
    assert found
    return float(found[1])


def circle_through(points: np.ndarray) -> tuple[complex, float]:
    """Middle and radius of the circle of least squares: z z* - 2 Re(m* z) = r² - |m|²."""
    A = np.column_stack([2 * points.real, 2 * points.imag, np.ones(len(points))])
    a, b, c = np.linalg.lstsq(A, np.abs(points) ** 2, rcond=None)[0]
    return complex(a, b), math.sqrt(c + a * a + b * b)
