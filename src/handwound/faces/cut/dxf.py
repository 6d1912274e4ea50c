"""An outline as DXF R2010: millimetres, one layer for each role, arcs as bulges, full circles as circles."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING

from handwound.faces.cut.owner import plain, sign, with_job
from handwound.sheet.drawing.svg import printable
from handwound.sheet.template.outline import Line, Role, Template
from handwound.sheet.template.shape import is_circle, reach

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

MM = 1e3
LAYERS: dict[Role, tuple[str, int, str]] = {
    "cut": ("CUT", 1, "CONTINUOUS"), "fold": ("FOLD", 5, "DASHED"), "mark": ("MARK", 7, "CONTINUOUS"),
}  # fmt: skip
"""Name, colour and line of the layer of each role: red, blue, black."""
DASHES = [3.7, 2.5, -1.2]
"""The whole of a dash, then what is drawn and what is not. [mm]"""


def dxf_bytes(template: Template, job_name: str) -> bytes:
    """The file of a template of a job, the same bytes each time."""
    import ezdxf
    from ezdxf import units

    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # else it writes the time and numbers drawn by lot
    try:
        document = ezdxf.new("R2010", units=units.MM)
        _fill(document, with_job(template, job_name))
        document.header.custom_vars.append("made by", sign(job_name))
        document.header.custom_vars.append("job", plain(job_name))
        stream = io.StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept
    return document.encode(stream.getvalue())


def _fill(document: Drawing, template: Template) -> None:
    from ezdxf.enums import TextEntityAlignment

    document.linetypes.add("DASHED", DASHES, description="scored")
    for name, colour, linetype in LAYERS.values():
        document.layers.add(name, color=colour, linetype=linetype)
    space = document.modelspace()
    x, y, x_2, y_2 = (MM * each for each in reach(template))
    space.reset_extents((x, y, 0), (x_2, y_2, 0))
    for line in template.lines:
        _line(space, line)
    for words in template.words:
        text = space.add_text(
            printable(words.text), height=0.72 * MM * words.height, rotation=math.degrees(words.angle),
            dxfattribs={"layer": "MARK"},
        )  # fmt: skip
        text.set_placement((MM * words.x, MM * words.y), align=TextEntityAlignment.MIDDLE_CENTER)


def _line(space: Modelspace, line: Line) -> None:
    layer = {"layer": LAYERS[line.role][0]}
    if is_circle(line):
        (x, y, _), (x_2, y_2, _) = line.corners
        middle = MM * (x + x_2) / 2, MM * (y + y_2) / 2
        space.add_circle(middle, MM * math.dist((x, y), (x_2, y_2)) / 2, dxfattribs=layer)
    else:
        corners = [(MM * x, MM * y, b) for x, y, b in line.corners]
        space.add_lwpolyline(corners, format="xyb", close=line.closed, dxfattribs=layer)
