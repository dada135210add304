"""Warning triangles: how far from the coach, by the kind of road, near a curve or hill, in town, with a leak."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.quantities import PRACTICE, figure, not_negative, ranged, shown
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

FOOT_M = 0.3048
NEAR_FT, MIDDLE_FT, FAR_FT = 10.0, 100.0, 200.0
VIEW_FT = 500.0
"""A curve, hill or obstruction within this distance moves one device (392.22(b)(2)(iv))."""
WITHIN_MIN = 10.0
PACE_FT = 2.5
"""A walking pace (common practice, no source)."""

PLANNER = "49 CFR 392.22(b)(1), FMCSA Safety Planner (published)"
DIVIDED = "49 CFR 392.22(b)(2)(v) (published, secondary)"
VIEW = "392.22(b)(2)(iv) (published, secondary)"
Road = Literal["two-way", "divided", "one-way"]


def triangle_distances(
    road: Road,
    *,
    blocked_view: Quantity[Any] | None = None,
    blocked_side: Literal["behind", "ahead"] = "behind",
    district: bool = False,
    dark_and_poorly_lit: bool = True,
    leak: bool = False,
) -> Estimate:
    """Where the three warning devices go.

    Args:
        road: "two-way", "divided" or "one-way".
        blocked_view: distance to a curve, hill or other obstruction [length].
        blocked_side: whether that is behind the coach or ahead of it.
        district: whether it is a business or residential district.
        dark_and_poorly_lit: whether it is dark there with poor street lighting; asked in a district only.
        leak: whether fuel or gas leaks.

    Returns:
        The farthest distance in feet; `also` has all three, the moved one with its range.

    Raises:
        DimensionalityError: the distance is no length.
        ValueError: a negative distance or an unknown road.

    Source: 49 CFR 392.22.
    """
    if road not in ("two-way", "divided", "one-way"):
        raise ValueError(f"I don't know the road '{road}'. Say two-way, divided or one-way.")
    view = None if blocked_view is None else not_negative(blocked_view, "m", "the distance") / FOOT_M
    two_way = road == "two-way"
    places = (
        [
            figure("on the traffic side, toward approaching traffic", NEAR_FT, "ft"),
            figure("behind, toward the traffic coming in your lane", MIDDLE_FT, "ft"),
            figure("ahead, the other way", MIDDLE_FT, "ft"),
        ]
        if two_way
        else [figure("behind, toward traffic", distance, "ft") for distance in (NEAR_FT, MIDDLE_FT, FAR_FT)]
    )
    said = (
        "Three: 10 feet on the traffic side toward approaching traffic, 100 feet behind, 100 feet ahead."
        if two_way
        else "Three behind, toward traffic: 10, 100 and 200 feet."
    )
    sources = [PLANNER if two_way else DIVIDED]
    # On a divided or one-way road nobody comes from ahead, so a hill there hides nothing.
    moved = view is not None and view <= VIEW_FT + 1e-6 and (two_way or blocked_side == "behind")
    if moved and view is not None:
        spot = min(max(view, MIDDLE_FT), VIEW_FT)
        index = 2 if blocked_side == "ahead" else (1 if two_way else 2)
        places[index] = figure(f"{blocked_side}, at the curve or hill", spot, "ft", MIDDLE_FT, VIEW_FT)
        said = _moved(two_way, blocked_side, spot)
        sources.append(VIEW)
    extra = _extra(district, dark_and_poorly_lit, leak)
    farthest = max(places, key=lambda place: place.value)
    return ranged(
        "farthest triangle",
        farthest.value,
        "ft",
        farthest.low,
        farthest.high,
        working=tuple(
            f"{place.name}: {shown(place.value)} ft, about {shown(place.value / PACE_FT, 3)} paces." for place in places
        ),
        assumptions=(
            "flashers on at once, devices out within 10 minutes",
            f"a pace of {shown(PACE_FT)} ft ({PRACTICE})",
            *(() if view is None or moved else ("the view is clear for 500 feet where traffic comes from",)),
        ),
        source="; ".join([*sources, *(("392.22(b)(2)(iii), (vi) (published, secondary)",) if extra else ())]),
        verdict=" ".join([said, *extra]),
        also=tuple(places),
    )


def _moved(two_way: bool, side: str, spot: float) -> str:
    where = (
        f"one 100 to 500 feet {side}, at the curve or hill about {shown(spot)} feet away, so that it is seen in time"
    )
    if not two_way:
        return f"Three behind, toward traffic: 10 and 100 feet, and {where}."
    other = "ahead" if side == "behind" else "behind"
    return f"Three: 10 feet on the traffic side toward approaching traffic, 100 feet {other}, and {where}."


def _extra(district: bool, dark: bool, leak: bool) -> list[str]:
    lines = []
    if leak:
        lines.append("Fuel or gas leaks: no flares or anything with a flame.")
    if district:
        lines.append(
            "In a town they are needed, for it is dark and poorly lit."
            if dark
            else "In a town with good light they are not required; put them out if you are hard to see."
        )
    return lines
