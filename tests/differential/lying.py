"""Roofs, slabs and coverings of one model, held against the independent kernel."""

from body import body_items
from plate import SAME_PITCH_DEG, expected_plates, same_pitch_area

CLASSES = ("IfcRoof", "IfcSlab", "IfcCovering")
NAMED = ("no framed cavity", "not a cavity", "measured by its parts")
"""Words of the reasons that leave an element out for what it is, not for its shape."""


def compare_plates(model, takeoff, report, library, tolerance):
    """Every element that lies and has a body of its own, or a reason to be left out."""
    elements = []
    for element in (element for name in CLASSES for element in model.by_type(name)):
        key = element.GlobalId, f"#{element.id()}"
        reason = takeoff.left_out.get(key)
        if not body_items(element):
            report.skipped["no body of its own"] += 1
        elif key in takeoff.plates:
            elements.append((element, takeoff.plates[key]))
        elif reason and any(words in reason for words in NAMED):
            report.skipped[f"left out: {reason}"] += 1
        else:
            report.plates += 1
            report.fail(element, f"has a body and gives no area: {reason}")
    found = expected_plates(model, [element for element, _ in elements], library)
    for element, parts in elements:
        plate = found[element.id()]
        if isinstance(plate, str):
            report.skipped[plate] += 1
            continue
        report.plates += 1
        report.varying += plate.varies
        difference, text = apart(parts, plate, element)
        report.note(element, difference)
        if difference > tolerance[plate.arcs]:
            report.fail(element, f"{text}; difference {difference:.2e}")


def apart(parts, plate, element):
    """How far the takeoff and the kernel are apart, relative to gross, and both in words."""
    at = plate.at[0]
    gross, opening = sum(part.gross for part in parts), sum(part.opening for part in parts)
    scale = max(at.gross, 1e-9)
    off = [abs(gross - opening - at.net) / scale]
    if plate.is_flat or not element.HasOpenings:
        off.append(abs(gross - at.gross) / scale)
    if plate.is_flat:
        off += [float(len(parts) > 1), _pitch_off(parts, plate)]
    else:
        off += [_missing_share(parts, plate, pitch) for pitch in sorted({round(part.pitch, 2) for part in parts})]
    shape = f"flat, {plate.pitch:.4f} degrees" if plate.is_flat else "folded"
    text = (f"{len(parts)} parts, gross {gross:.7f}, opening {opening:.7f} m2; kernel, {shape}: gross {at.gross:.7f}, "
            f"net {at.net:.7f} m2")
    return max(off), text


def _pitch_off(parts, plate):
    """0 where every part has the pitch; else by how much, in degrees."""
    off = max(abs(part.pitch - plate.pitch) for part in parts)
    return off if off > SAME_PITCH_DEG else 0.0


def _missing_share(parts, plate, pitch):
    """Area that the parts have at a pitch and the kernel's faces have not, relative to gross."""
    ours = sum(part.gross for part in parts if abs(part.pitch - pitch) < SAME_PITCH_DEG / 2.0)
    return max(ours - same_pitch_area(plate, pitch), 0.0) / plate.at[0].gross
