"""Geometry and mass balance of a lane with a sloping face. Every yield per foot follows from these."""

from math import radians, sin, tan

DAYS_A_WEEK = 7.0


def layer_volume(layer_thickness: float, lane_width: float, bed_height: float, face_slope: float) -> float:
    """Volume of one layer laid square to the face [m³].

    The face is bed_height ÷ sin(slope) long. Lengths [m], face_slope [deg] from the ground.
    >>> round(layer_volume(0.05, 1.2, 0.45, 45.0), 4)
    0.0382
    """
    return layer_thickness * lane_width * bed_height / sin(radians(face_slope))


def advance(layer_thickness: float, face_slope: float, volume_kept: float) -> float:
    """How far the face moves along the ground at one feeding [m]: kept thickness ÷ sin(slope).

    A layer laid square to the face and settled to volume_kept of its volume moves every point of the face level by that
    much.
    >>> round(advance(0.05, 45.0, 0.5), 4)
    0.0354
    """
    return volume_kept * layer_thickness / sin(radians(face_slope))


def face_foot(bed_height: float, face_slope: float) -> float:
    """Length along the ground that the sloping face covers [m]."""
    return bed_height / tan(radians(face_slope))


def dry_matter_ratio(dry_matter_kept: float, feed_moisture: float, castings_moisture: float) -> float:
    """Weight of castings for a weight of feed, at their moistures [-]: kept dry matter, re-wetted.

    >>> round(dry_matter_ratio(0.6, 0.7, 0.7), 3)
    0.6
    """
    return dry_matter_kept * (1 - feed_moisture) / (1 - castings_moisture)


def days_to_clear(slice_length: float, gap: float, advance_per_day: float) -> float:
    """Days until the face has moved a slice and the gap on [day]."""
    return (slice_length + gap) / advance_per_day if advance_per_day > 0 else float("inf")
