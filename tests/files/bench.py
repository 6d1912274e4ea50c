"""A small sound job for the tests to spoil: its three files, and how to write them with one thing changed."""

from __future__ import annotations

from pathlib import Path

from handwound.errors import Fault
from handwound.files.brief import read_brief
from handwound.files.design import check_together, read_design
from handwound.files.stock import read_stock
from handwound.parts.design import Brief, Design, Stock

STOCK = """\
[[wire]]
name = "thick"
d_cu = "0.50 ± 0.01 mm"
d_o = "0.55 mm"
l_reel = "300 m"

[[wire]]
name = "thin"
size = "0.20"
grade = 1

[[steel]]
name = "bar"
form = "bar"
d_out = "25 mm"
length = "120 mm"

[[steel]]
name = "pipe"
form = "pipe"
d_out = "60 mm"
wall = "4 mm"
length = "46 mm"

[[steel]]
name = "plate"
form = "plate"
width = "68 mm"
t = "6 mm"
count = 2

[[sheet]]
name = "card"
material = "card 160"

[[sheet]]
name = "foam"
material = "sponge foam 2"

[[adhesive]]
name = "epoxy"
kind = "slow epoxy"

[[supply]]
name = "bench"
V_max = "12 V"
I_max = "2 A"

[[amplifier]]
name = "amp"
P_max = "15 W"
Z_least = "4 Ω"

[[bit]]
name = "leads"
m = "0.6 g"
"""
BRIEF = """\
name = "test"
iron = "pot"
supply = "bench"
amplifier = "amp"
Z_rated = "8 Ω"
D_outline = "130 mm"
L_want = "84 dB"
f_low = "120 Hz"
T_touch = "60 °C"
c_min = "0.2 mm"
x_pk = "2 mm"
"""
DESIGN = """\
[iron]
name = "pot"
plate = "top"

[[iron.ring]]
name = "back"
from = "plate"

[[iron.ring]]
name = "shell"
from = "pipe"
on = "back"
joint = "0 mm"

[[iron.ring]]
name = "top"
from = "plate"
d_in = "28 mm"
on = "shell"
joint = "0 mm"

[[iron.ring]]
name = "pole"
from = "bar"
t = "52 mm"
on = "back"
joint = "0 mm"

[field_coil]
wire = "thick"
n_l = 20
D_f = "29 mm"
t_f = "0.5 mm"
t_fl = "1.5 mm"
h_w = "42 mm"
z_w = "8 mm"
k_p = 0.97

[voice_coil]
wire = "thin"
n_l = 2
former = "card"
D_fi = "25.6 mm"
t_f = "0.15 mm"
l_f = "25 mm"
h_w = "12 mm"

[diaphragm]
form = "disc"
sheet = "card"
d_out = "90 mm"

[surround]
sheet = "foam"
d_in = "90 mm"
d_out = "118 mm"

[moving]
bits = ["leads"]
glue = "epoxy"
"""
TEXTS = {"stock.toml": STOCK, "brief.toml": BRIEF, "design.toml": DESIGN}


def write(folder: Path, name: str = "", old: str = "", new: str = "") -> int:
    """Write the job with the first ``old`` in one file changed to ``new``; answers the line where that stands."""
    for each, text in TEXTS.items():
        if each == name:
            assert old in text, f"{old!r} must stand in {name}"
            text = text.replace(old, new, 1)
        (folder / each).write_bytes(text.encode())
    return TEXTS[name].partition(old)[0].count("\n") + 1 if name else 0


def read(folder: Path) -> tuple[Stock, Brief, Design]:
    """The whole job, as a face would read it."""
    stock = read_stock(folder / "stock.toml")
    return stock, read_brief(folder / "brief.toml", stock), read_design(folder / "design.toml", stock)


def together(folder: Path) -> list[Fault]:
    """What is wrong between brief and design."""
    _, brief, design = read(folder)
    return check_together(design, folder / "design.toml", brief, folder / "brief.toml")
