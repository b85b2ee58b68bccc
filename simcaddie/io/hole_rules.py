"""What must be true of a hole as a whole, in words: told by ``check``, and by the page on which holes are traced.

Each rule is (expected, found); what differs from case to case stands between braces. ``OWNERS`` says which column of
the table of surfaces a kind must have for each key that not all areas have.
"""

from __future__ import annotations

from typing import Final

from simcaddie.base.surfaces import GREEN, SURFACES

__all__ = ["HERE", "LARGEST", "MIN_AREA", "MOST_GROUND", "OWNERS", "RULES", "THERE"]

MIN_AREA: Final = 0.01  # square units; less is no ground
LARGEST: Final = 1200.0  # yd across and up: a grid of 6 million cells, where no hole we know takes 2
MOST_GROUND: Final = 20e6  # sq yd of all areas' boxes: seconds to paint
OWNERS: Final = {"marking": "penalty", "height": "canopy", "density": "canopy", "tilt": "putting"}
HERE: Final = "[{x}, {y}], which is in {ground}"
THERE: Final = "[{x}, {y}], which is {ground}"  # out of bounds
RULES: Final[dict[str, tuple[str, str]]] = {
    "points": ("at least 3 different points", "{count}"),
    "flat": ("an outline that encloses some ground", "points in one line"),
    "crossing": ("an outline that doesn't cross or touch itself", "that it does at [{x}, {y}]"),
    "bent": (
        "points that a smooth curve can run through without crossing itself",
        "that it does near [{x}, {y}]",
    ),
    "inner": ("a ring within the outline, apart from other rings", "one that reaches over"),
    "marking": ("`marking: red` or `marking: yellow` for {title}", "none"),
    **{
        f"owner {key}": (
            f"this key only with {' or '.join(f'`kind: {each.name}`' for each in SURFACES if getattr(each, column))}",
            "`kind: {kind}`",
        )
        for key, column in OWNERS.items()
    },
    "greens": (f"an area with `kind: {GREEN}`", "none"),
    "pin": ("a place on a green", "{place}"),
    "tee": ("ground that a tee can stand on", "{place}"),
    "spot": ("a place to play from", "{place}"),
    "lie": ("the lie green on a green, and nowhere else", "'{lie}' on {title}"),
    "height": ("one height for each place", "the place of no. {first} again"),
    "line": ("at least 2 different points", "{count}"),
    "size": (
        f"all that is drawn, tees, pins and spots within {LARGEST:g} by {LARGEST:g} yards",
        "{wide} by {tall} yards with this",
    ),
    "span": (
        f"areas whose outlines together span at most {MOST_GROUND / 1e6:g} million square yards",
        "{span} million",
    ),
    "entries": ("at least 1 entry", "0"),
    "name": ("a name of 1 to 80 letters", "'{text}'"),
}
