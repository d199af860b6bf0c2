"""What a section says in words: for those who cannot see it, and beneath it."""

from slabwright.publish.drawing.drawn import NOMINAL_MM, DrawnLayer, mark_mm, mm
from slabwright.publish.drawing.lettering import cleaned
from slabwright.publish.drawing.section_frame import Frame


def described(frame: Frame) -> str:
    """The whole drawing in one sentence."""
    slab = frame.slab
    if not slab.layers:
        return "An empty tin, in broken lines."
    layers = ", ".join(_said(layer) for layer in slab.layers)
    total = "in all of a height not known"
    if slab.height_mm is not None:
        total = f"{mm(slab.height_mm)} mm in all"
    tin = ""
    if slab.tin_depth_mm is not None:
        tin = f" in a tin {mark_mm(slab.tin_depth_mm)} mm deep"
        if frame.over_mm:
            tin += f", {mm(frame.over_mm)} mm over its rim"
    cut = ""
    if slab.piece_mm is not None:
        trim = f"trimmed by {mark_mm(slab.trim_mm)} mm and " if slab.trim_mm else ""
        cut = f", {trim}cut into pieces {mark_mm(slab.piece_mm)} mm wide"
    findings = ""
    if slab.marks:
        said = ", ".join(
            f"{mark.severity} {mark.number} on {cleaned(slab.layers[mark.layer].name)}"
            for mark in slab.marks
        )
        findings = f"; to watch: {said}"
    return (
        f"From the bottom: {layers}; {total}{tin}{cut}{findings}; "
        f"drawn {frame.scale} at its own size."
    )


def notes(frame: Frame) -> tuple[str, ...]:
    """What must be said beneath the drawing, so that nobody is misled."""
    if not frame.layers:
        return ("Nothing lies in the tin yet.",)
    out = []
    if frame.slab.tin_depth_mm is None:
        out.append("The tin’s depth was not given: no rim is drawn.")
    if any(not it.known for it in frame.layers):
        out.append(
            f"Broken outline: depth not known, drawn as {NOMINAL_MM:g} mm. "
            "What lies on it stands too high or too low."
        )
    return tuple(out)


def _said(layer: DrawnLayer) -> str:
    name = cleaned(layer.name)
    if layer.depth_mm is None:
        return f"{name}, depth not known"
    likely = layer.range_mm
    size = f"{mm(layer.depth_mm)} mm {name}"
    extra = ["assumed"] if layer.assumed else []
    if likely:
        extra.append(f"likely {mm(likely[0])} to {mm(likely[1])} mm")
    return f"{size} ({', '.join(extra)})" if extra else size
