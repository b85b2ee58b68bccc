"""What a bag as a whole must be: every club once and known, its swings sound together, a club for the tee."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from simcaddie.errors import Fault
from simcaddie.files.clubs import club_name, swing_name
from simcaddie.files.nodes import Document, Location
from simcaddie.files.player_model import MAX_MISHITS, SwingKeys
from simcaddie.files.told import fault, listed, near
from simcaddie.golfer.defaults import CLUBS
from simcaddie.golfer.pattern import usable
from simcaddie.golfer.player import Player

__all__ = ["check_bag", "check_player"]

_SWING_KEYS = {"carry"} | {info.alias or name for name, info in SwingKeys.model_fields.items()}


def _clubs(document: Document) -> list[tuple[int, Mapping[str, Any]]]:
    bag = document.data.get("bag")
    items = enumerate(bag if isinstance(bag, list) else [])
    return [(number, item) for number, item in items if isinstance(item, dict)]


def _names(document: Document) -> list[str]:
    return [club_name(item["club"]) for _, item in _clubs(document) if isinstance(item.get("club"), str)]


def check_bag(document: Document) -> list[Fault]:
    """Return the faults that clubs have by their names, also where other parts of the file are unsound."""
    faults: list[Fault] = []
    seen: dict[str, int] = {}
    for number, item in _clubs(document):
        here: Location = ("bag", number)
        if isinstance(item.get("club"), str):
            name = club_name(item["club"])
            first = seen.setdefault(name.casefold(), number)
            if first != number:
                found = f"{name} again, first as no. {first + 1}"
                faults.append(fault(document, (*here, "club"), "every club once", found))
            faults += _check_name(document, here, name, item)
        faults += _check_swings(document, here, item)
    return faults + _check_longest(document)


def _check_name(document: Document, here: Location, name: str, item: Mapping[str, Any]) -> list[Fault]:
    if name.casefold() == "putter":
        expected = "every club but the putter (putting has its own key, `putting`)"
        return [fault(document, (*here, "club"), expected, "the putter")]
    if name in CLUBS or item.get("loft") is not None:
        return []
    close = near(name, CLUBS)
    hint = f" (did you mean `{close}`?)" if close else ""
    return [fault(document, (*here, "club"), f"a club it knows, or a `loft` beside the name{hint}")]


def _check_swings(document: Document, here: Location, item: Mapping[str, Any]) -> list[Fault]:
    swings = item.get("swings")
    if swings is None:
        expected = "the key `swings`, or `carry` for the full swing"
        return [fault(document, here, expected, "neither")] if item.get("carry") is None else []
    faults = [
        fault(document, (*here, key), "this key within one of the `swings`", f"`{key}` beside them")
        for key in item
        if key in _SWING_KEYS
    ]
    seen: dict[str, str] = {}
    for name in swings if isinstance(swings, dict) else ():
        first = seen.setdefault(swing_name(name), name)
        if first != name:
            found = f"`{name}` besides `{first}`"
            faults.append(fault(document, (*here, "swings", name), "every swing once", found))
    return faults


def _check_longest(document: Document) -> list[Fault]:
    """Return a fault for every lie whose longest club isn't in the bag."""
    names, lies = _names(document), document.data.get("lies")
    faults = []
    for kind, lie in (lies if isinstance(lies, dict) else {}).items():
        longest = lie.get("longest") if isinstance(lie, dict) else None
        if isinstance(longest, str) and club_name(longest) not in names and names:
            close = None if club_name(longest) in CLUBS else near(longest, names)
            hint = f" (did you mean `{close}`?)" if close else f" ({listed(names)})"
            faults.append(fault(document, ("lies", kind, "longest"), f"a club that is in the bag{hint}"))
    return faults


def check_player(document: Document, player: Player) -> list[Fault]:
    """Return the faults that show only once the defaults are filled in."""
    faults = []
    for number, club in enumerate(player.bag):
        written = document.data["bag"][number].get("swings") or {}
        names = {swing_name(name): name for name in written}
        for swing in club.swings:
            place = ("bag", number, "swings", names[swing.name]) if names else ("bag", number)
            if (total := swing.fat + swing.thin) > MAX_MISHITS + 1e-9:
                expected = f"fat and thin of at most {MAX_MISHITS:g} together"
                faults.append(fault(document, place, expected, f"{total:.3g}, defaults included"))
    for kind, touch in player.touch.items():
        if (total := touch.fat + touch.thin + touch.fail) > MAX_MISHITS + 1e-9:
            expected = f"fat, thin and fail of at most {MAX_MISHITS:g} together"
            faults.append(fault(document, ("touch", kind), expected, f"{total:.3g}, defaults included"))
    if not any(usable(player, swing, player.lies["tee"]) for swing in player.swings):
        expected = "at least one club that may be used from the tee"
        faults.append(fault(document, ("lies", "tee"), expected, "none"))
    return faults


