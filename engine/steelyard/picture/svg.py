"""A picture as a standalone SVG figure: the same records, written with svgwrite and plain attributes.

No script, no external reference, fonts by name with fallbacks (or embedded). The only user of svgwrite,
which is imported when the first figure is written: importing it costs more than a whole drawing.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from . import theme
from .record import EXPORTED, LAYERS, Picture, Record, Run
from .text import number
from .theme import RUN_ROLES, Shade

if TYPE_CHECKING:
    import svgwrite


def painted(picture: Picture, lit: str | None = None) -> tuple[Record, ...]:
    """The records an export paints: figure layers, and what is always shown or belongs to the lit thing."""
    return tuple(
        record
        for record in picture.records
        if record.layer in EXPORTED and (record.shown == "always" or (lit is not None and record.of == lit))
    )


def write(
    picture: Picture,
    shade: Shade = "light",
    title: str = "",
    desc: str = "",
    embed_fonts: Mapping[str, str] | None = None,
    lit: str | None = None,
) -> str:
    """The picture as SVG text.

    `title` falls back to "Free-body diagram". `embed_fonts` maps family names to `data:` URLs. `lit` draws one
    force with its constructions. Screen-only records are left out.
    """
    import svgwrite

    width, height = number(picture.width), number(picture.height)
    drawing = svgwrite.Drawing(size=(f"{width}px", f"{height}px"), debug=False)
    drawing.viewbox(0, 0, width, height)
    drawing.set_desc(title=title or "Free-body diagram", desc=desc or None)
    if embed_fonts:
        faces = "".join(f'@font-face{{font-family:"{name}";src:url({url})}}' for name, url in embed_fonts.items())
        drawing.defs.add(drawing.style(faces))
    drawing.add(
        drawing.rect(insert=(0, 0), size=(width, height), fill=theme.PALETTE[shade]["paper"], class_="sy-paper")
    )
    groups = {layer: drawing.g(id=f"layer-{layer}") for layer in LAYERS if layer in EXPORTED}
    for record in painted(picture, lit):
        groups[record.layer].add(_element(drawing, record, shade))
    for group in groups.values():
        if group.elements:
            drawing.add(group)
    return str(drawing.tostring())


def _element(drawing: svgwrite.Drawing, record: Record, shade: Shade) -> svgwrite.base.BaseElement:
    attributes = {**theme.attributes(record.role, shade), **dict(record.attrs)}
    if record.tag == "path":
        element = drawing.path(d=attributes.pop("d"))
    elif record.tag == "circle":
        element = drawing.circle(center=(attributes.pop("cx"), attributes.pop("cy")), r=attributes.pop("r"))
    else:
        element = drawing.text("")
        # Figures of equal width and height of capitals, as on the board.
        attributes["font-variant-numeric"] = "lining-nums tabular-nums"
        for run in record.runs:
            element.add(_run(drawing, run, shade))
    element.attribs["id"] = record.id
    element.attribs["class"] = f"sy-{record.role}"
    for name, value in attributes.items():
        element.attribs[name] = value
    if record.name:
        element.set_desc(title=record.name)
    return element


def _run(drawing: svgwrite.Drawing, run: Run, shade: Shade) -> svgwrite.text.TSpan:
    span = drawing.tspan(run.text)
    if run.role in RUN_ROLES:
        span.attribs.update(theme.attributes(run.role, shade))
    if run.dx:
        span.attribs["dx"] = number(run.dx)
    if run.dy:
        span.attribs["dy"] = number(run.dy)
    span.attribs["class"] = f"sy-{run.role}"
    return span
