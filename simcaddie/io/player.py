"""Player files: their keys, the names of clubs, what a bag must be as a whole, and the record, in yards.

What a file leaves out is filled in by ``player/defaults.py``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Any, Final, Literal, TypeVar

from pydantic import BeforeValidator, Discriminator, Field, Tag, WithJsonSchema, model_validator

from simcaddie.base.errors import Fault
from simcaddie.base.surfaces import SURFACES, TEE, Lie, TouchLie
from simcaddie.base.units import YARDS_PER
from simcaddie.io.faults import fault, listed, near, raise_faults, sound
from simcaddie.io.fields import Format, Name, OneOf, Part, Source, Units, Within, told, unlike
from simcaddie.io.yaml_reader import Document, Location, PathLike, load
from simcaddie.player.defaults import CLUBS, club_defaults, make_swing, mishit_split
from simcaddie.player.pattern import usable
from simcaddie.player.skill import lies_of, skill_of, touch_of
from simcaddie.player.swing import Club, Player, Posterior, Putting, RangeToCourse, Swing
from simcaddie.weather.reach import can_carry

__all__ = ["LENGTHS", "PLAYED", "PlayerFile", "club_name", "player_of", "read_player", "swing_name"]

MAX_MISHITS: Final = 0.9  # some balls must come off
PLAYED: Final = tuple(kind.name for kind in SURFACES if kind.swung)

LENGTHS: Final = ("fail_carry", "near")  # of lies and touch, in the file's units

Pair = tuple[float, float | None]  # mean, sd


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _pair(low: float, high: float, widest: float, words: str) -> Any:
    """Return a reader of ``mean``, ``[mean]`` or ``[mean, sd]`` within bounds."""

    def read(value: Any) -> Pair:
        numbers = value if isinstance(value, list) else [value]
        if not 1 <= len(numbers) <= 2 or not all(_number(item) for item in numbers):
            raise unlike(f"{words}: a number, or [average, spread]", value)
        if not low <= numbers[0] <= high:
            raise unlike(f"{words} from {low:g} to {high:g}", value)
        if len(numbers) == 2 and not 0 <= numbers[1] <= widest:
            raise unlike(f"a spread from 0 to {widest:g}", value)
        return float(numbers[0]), float(numbers[1]) if len(numbers) == 2 else None

    return read


def _pair_schema(low: float, high: float, widest: float) -> WithJsonSchema:
    mean, spread = ({"type": "number", "minimum": a, "maximum": b} for a, b in ((low, high), (0, widest)))
    several = {"type": "array", "prefixItems": [mean, spread], "items": False, "minItems": 1}
    return WithJsonSchema({"anyOf": [mean, several]})


Carry = Annotated[Pair, BeforeValidator(_pair(1, 450, 100, "an average carry")), _pair_schema(1, 450, 100)]
Side = Annotated[Pair, BeforeValidator(_pair(-150, 150, 150, "an average side")), _pair_schema(-150, 150, 150)]
Run = Annotated[Pair, BeforeValidator(_pair(0, 150, 100, "an average run")), _pair_schema(0, 150, 100)]

Share = Annotated[float, Within(0, MAX_MISHITS)]
Loft = Annotated[float, Within(4, 80)]


class Fails(Part):
    """Chances of the two mishits."""

    fat: Share | None = Field(None, description="chance of a fat strike")
    thin: Share | None = Field(None, description="chance of a thin or topped strike")

    @model_validator(mode="after")
    def _some_come_off(self) -> Fails:
        if (self.fat or 0.0) + (self.thin or 0.0) > MAX_MISHITS:
            raise unlike(f"fat and thin of at most {MAX_MISHITS:g} together", (self.fat or 0.0) + (self.thin or 0.0))
        return self


def _which(value: Any) -> str:
    return "parts" if isinstance(value, dict | Fails) else "number"


_MISHIT_WORDS: Final = f"a chance from 0 to {MAX_MISHITS:g}, or {{fat: …, thin: …}}"
Mishits = Annotated[
    Annotated[float, Within(0, MAX_MISHITS), told(_MISHIT_WORDS), Tag("number")] | Annotated[Fails, Tag("parts")],
    Discriminator(_which),
]
Worth = Annotated[float, Within(0.001, 1_000_000)]
Spread = Annotated[float, Within(above=4, high=1_000_000)]


class PosteriorFile(Part):
    """How surely a swing's numbers are known: what each is worth in balls; `fit` writes it."""

    carry: Worth = Field(description="of the average carry")
    side: Worth = Field(description="of the average side")
    spread: Spread = Field(description="of the spread of carry, and of side where that has none of its own")
    side_spread: Spread | None = Field(None, description="of the spread of side")
    mishits: Worth = Field(description="of the chances of fat and thin")


class SwingKeys(Part):
    """The numbers of a swing; all but the carry have defaults."""

    side: Side | None = Field(None, description="average and spread to the right of the aim line, in `units`")
    correlation: Annotated[float, Within(above=-1, below=1)] = Field(0.0, description="of carry and side")
    run: Run | None = Field(None, description="average and spread of bounce and roll on ordinary turf, in `units`")
    mishits: Mishits | None = Field(None, description="chance of a mishit, or one each for fat and thin")
    launch: Annotated[float, Within(1, 70)] | None = Field(None, description="degrees above the ground")
    landing: Annotated[float, Within(5, 85)] | None = Field(None, description="angle of descent in degrees")
    spin: Annotated[float, Within(0, 15000)] | None = Field(None, description="turns a minute")
    start_line: Annotated[float, Within(-45, 45)] | None = Field(
        None,
        description="where the ball starts, in degrees to the right of the aim line; the curve does the rest",
    )
    shots: Annotated[int, Field(ge=0, le=100_000), told("a whole number of balls")] = Field(
        0, description="how many balls the numbers rest on"
    )
    source: Annotated[Literal["range", "course"], OneOf(("range", "course"))] = Field(
        "range", alias="from", description="where the numbers come from"
    )
    trust: Annotated[Literal["low", "ok", "high"], OneOf(("low", "ok", "high"))] = Field(
        "ok", description="how likely the player is to commit to it"
    )
    estimated: bool = Field(False, description="true where the numbers are a guess, not measured")
    posterior: PosteriorFile | None = Field(None, description="how surely the numbers are known, in balls")


class SwingFile(SwingKeys):
    """One swing of a club."""

    carry: Carry = Field(description="average carry, or [average, spread], in `units`")


class ClubFile(SwingKeys):
    """A club: either its swings by name, or the numbers of its full swing beside its name."""

    club: Name = Field(description="such as `driver`, `7 iron`, `gap wedge`; another name needs `loft`")
    loft: Loft | None = Field(None, description="degrees; needed where the name doesn't tell")
    swings: Annotated[dict[Name, SwingFile], Field(min_length=1)] | None = Field(
        None, description="by name: `full`, `half` and the like"
    )
    carry: Carry | None = Field(None, description="of the full swing, where `swings` is left out")


class TransferFile(Part):
    """What range numbers are multiplied by for play on the course."""

    spread: Annotated[float, Within(0.2, 5)] = 1.25
    mishits: Annotated[float, Within(0, 10)] = 1.5


class PuttingFile(Part):
    """The two numbers of the putting model."""

    direction_sd: Annotated[float, Within(above=0, high=10)] | None = Field(
        None, description="degrees; by the index where left out"
    )
    distance_sd: Annotated[float, Within(above=0, high=1)] | None = Field(
        None, description="fraction of the distance; by the index where left out"
    )


class LieFile(Part):
    """What a lie does, where it differs from the usual; `carry`, `spread`, `mishits` and `run` multiply."""

    carry: Annotated[float, Within(0.05, 1.5)] | None = None
    spread: Annotated[float, Within(0.2, 5)] | None = None
    mishits: Annotated[float, Within(0, 10)] | None = None
    run: Annotated[float, Within(0, 5)] | None = None
    fail: Annotated[float, Within(0, 0.9)] | None = Field(None, description="chance that the ball hardly moves")
    fail_carry: Annotated[float, Within(0, 50)] | None = Field(None, description="how far it then goes, in `units`")
    min_loft: Annotated[float, Within(0, 80)] | None = Field(None, description="degrees; longer clubs stay in the bag")
    max_loft: Annotated[float, Within(0, 90)] | None = Field(
        None, description="degrees; more lofted clubs stay in the bag"
    )
    low: Annotated[float, Within(0.05, 1)] | None = Field(None, description="share of the usual launch that is left")
    gap: Annotated[float, Within(0, 1)] | None = Field(None, description="share of the trees in the way that counts")
    woods: Annotated[float, Within(0.2, 5)] | None = Field(
        None, description="more spread and mishits, times this, for clubs under 20 degrees"
    )
    wedges: Annotated[float, Within(0.2, 5)] | None = Field(
        None, description="the same for clubs of 44 degrees and more"
    )
    longest: Name | None = Field(None, description="longest club the player uses from it")


class TouchFile(Part):
    """How feel shots come off from a lie, where it differs from the usual."""

    near: Annotated[float, Within(0, 20)] | None = Field(None, description="distance error of the shortest, in `units`")
    far: Annotated[float, Within(0, 1)] | None = Field(
        None, description="what it grows by, as a fraction of the distance"
    )
    direction: Annotated[float, Within(0, 30)] | None = Field(None, description="direction error in degrees")
    fat: Share | None = None
    thin: Share | None = None
    fail: Share | None = Field(None, description="chance that the ball hardly moves")
    air: Annotated[float, Within(0, 1)] | None = Field(None, description="share of the way that it flies")


Kind = Annotated[str, OneOf(PLAYED)]


class PlayerFile(Part):
    """A golfer: what each club really does, and how the player copes away from the range."""

    format: Format = Field(1, description="of the file")
    name: Name
    units: Units = Field("yards", description="of all lengths in the file")
    handicap_index: (
        Annotated[float, Within(-10, 54), told("a number from -10 to 54 (a plus index is below 0)")] | None
    ) = None
    range_to_course: TransferFile = TransferFile()
    bag: Annotated[list[ClubFile], Field(min_length=1, max_length=60)] = Field(description="all clubs but the putter")
    touch: dict[Kind, TouchFile] = Field({}, description="feel shots by lie: only what differs from the usual")
    putting: PuttingFile = PuttingFile()
    lies: dict[Kind, LieFile] = Field({}, description="by lie: only what differs from the usual")
    routine: Name | None = Field(
        None, description="what the player does before every stroke, in the player's own words"
    )
    source: Source | None = Field(None, description="where the numbers come from")


# ─── The names of clubs and swings ────────────────────────────────────────────────────────────────────────────────────

_NUMBERS: Final = {
    word: str(number)
    for number, word in enumerate(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"), 1)
}
_SHORT: Final = {
    **dict.fromkeys(("d", "dr", "drv", "drive", "1 wood"), "driver"),
    **dict.fromkeys(("pw", "p", "pitching", "pitch wedge", "p wedge"), "pitching wedge"),
    **dict.fromkeys(("gw", "g", "gap", "g wedge", "aw", "a wedge", "approach wedge"), "gap wedge"),
    **dict.fromkeys(("sw", "s", "sand", "s wedge"), "sand wedge"),
    **dict.fromkeys(("lw", "l", "lob", "l wedge"), "lob wedge"),
    **dict.fromkeys(("hyb", "hy", "rescue"), "hybrid"),
}
_FAMILIES: Final = {
    **dict.fromkeys(("i", "ir", "iron", "irons", ""), "iron"),
    **dict.fromkeys(("w", "wd", "wood", "woods", "fw", "fairway", "fairway wood"), "wood"),
    **dict.fromkeys(("h", "hy", "hyb", "hybrid", "rescue", "u", "utility"), "hybrid"),
}


def club_name(name: str) -> str:
    """Return the one name that a club has here.

    Case, hyphens and spaces don't matter; number words and the usual short forms are understood. Any other name stays
    as written and needs its loft.

    >>> club_name("7-Iron"), club_name("Seven"), club_name("3w"), club_name("Dr"), club_name("Old  Cleek")
    ('7 iron', '7 iron', '3 wood', 'driver', 'Old Cleek')
    """
    written = " ".join(name.split())
    plain = " ".join(re.sub(r"[-_.]", " ", written.lower()).split())
    plain = " ".join(_NUMBERS.get(word, word) for word in plain.split())
    if match := re.fullmatch(r"(\d) ?([a-z]+(?: [a-z]+)?)?|([a-z]+) ?(\d)", plain, re.ASCII):
        number, family = (match[1], match[2] or "") if match[1] else (match[4], match[3])
        plain = f"{number} {_FAMILIES[family]}" if family in _FAMILIES else plain
    plain = _SHORT.get(plain, plain)
    return plain if plain in CLUBS else written


def swing_name(name: str) -> str:
    """Return the name that a swing goes by: lower case, single spaces.

    >>> swing_name(" Half ")
    'half'
    """
    return " ".join(name.lower().split())


# ─── What a bag must be as a whole ────────────────────────────────────────────────────────────────────────────────────

_SWING_KEYS = {"carry"} | {info.alias or name for name, info in SwingKeys.model_fields.items()}


def _clubs(document: Document) -> list[tuple[int, Mapping[str, Any]]]:
    bag = document.data.get("bag")
    items = enumerate(bag if isinstance(bag, list) else [])
    return [(number, item) for number, item in items if isinstance(item, dict)]


def _names(document: Document) -> list[str]:
    return [club_name(item["club"]) for _, item in _clubs(document) if isinstance(item.get("club"), str)]


def _check_bag(document: Document) -> Iterator[Fault]:
    """Yield the faults that clubs have by their names, also where other parts of the file are unsound."""
    seen: dict[str, int] = {}
    for number, item in _clubs(document):
        here: Location = ("bag", number)
        if isinstance(item.get("club"), str):
            name = club_name(item["club"])
            first = seen.setdefault(name.casefold(), number)
            if first != number:
                found = f"{name} again, first as no. {first + 1}"
                yield fault(document, (*here, "club"), "every club once", found)
            yield from _check_name(document, here, name, item)
        yield from _check_swings(document, here, item)
    yield from _check_longest(document)


def _check_name(document: Document, here: Location, name: str, item: Mapping[str, Any]) -> Iterator[Fault]:
    if name.casefold() == "putter":
        expected = "every club but the putter (putting has its own key, `putting`)"
        yield fault(document, (*here, "club"), expected, "the putter")
    elif name not in CLUBS and item.get("loft") is None:
        close = near(name, CLUBS)
        hint = f" (did you mean `{close}`?)" if close else ""
        yield fault(document, (*here, "club"), f"a club it knows, or a `loft` beside the name{hint}")


def _check_swings(document: Document, here: Location, item: Mapping[str, Any]) -> Iterator[Fault]:
    swings = item.get("swings")
    if swings is None:
        if item.get("carry") is None:
            yield fault(document, here, "the key `swings`, or `carry` for the full swing", "neither")
        return
    for key in item:
        if key in _SWING_KEYS:
            yield fault(document, (*here, key), "this key within one of the `swings`", f"`{key}` beside them")
    seen: dict[str, str] = {}
    for name in swings if isinstance(swings, dict) else ():
        first = seen.setdefault(swing_name(name), name)
        if first != name:
            found = f"`{name}` besides `{first}`"
            yield fault(document, (*here, "swings", name), "every swing once", found)


def _check_longest(document: Document) -> Iterator[Fault]:
    """Yield a fault for every lie whose longest club isn't in the bag."""
    names, lies = _names(document), document.data.get("lies")
    for kind, lie in (lies if isinstance(lies, dict) else {}).items():
        longest = lie.get("longest") if isinstance(lie, dict) else None
        if isinstance(longest, str) and club_name(longest) not in names and names:
            close = None if club_name(longest) in CLUBS else near(longest, names)
            hint = f" (did you mean `{close}`?)" if close else f" ({listed(names)})"
            yield fault(document, ("lies", kind, "longest"), f"a club that is in the bag{hint}")


def _check_player(document: Document, player: Player) -> Iterator[Fault]:
    """Yield the faults that show only once the defaults are filled in."""
    for number, club in enumerate(player.bag):
        written = document.data["bag"][number].get("swings") or {}
        names = {swing_name(name): name for name in written}
        for swing in club.swings:
            place = ("bag", number, "swings", names[swing.name]) if names else ("bag", number)
            if (total := swing.fat + swing.thin) > MAX_MISHITS + 1e-9:
                expected = f"fat and thin of at most {MAX_MISHITS:g} together"
                yield fault(document, place, expected, f"{total:.3g}, defaults included")
            if not can_carry(swing.carry, swing.launch, swing.spin):
                expected = f"a carry that a ball can fly when launched at {swing.launch:g}° with {swing.spin:g} rpm"
                found = f"{swing.carry / YARDS_PER[player.units]:g} {player.units}"
                yield fault(document, (*place, "carry"), expected, found)
    for kind, touch in player.touch.items():
        if (total := touch.fat + touch.thin + touch.fail) > MAX_MISHITS + 1e-9:
            expected = f"fat, thin and fail of at most {MAX_MISHITS:g} together"
            yield fault(document, ("touch", kind), expected, f"{total:.3g}, defaults included")
    if not any(usable(player, swing, player.lies[TEE]) for swing in player.swings):
        yield fault(document, ("lies", TEE), "at least one club that may be used from the tee", "none")


# ─── The record ───────────────────────────────────────────────────────────────────────────────────────────────────────


def read_player(path: PathLike) -> Player:
    """Return the player of a player file, in yards, whole.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    return player_of(load(path))


def player_of(document: Document) -> Player:
    """Return the player that a document describes; see ``read_player``."""
    model = sound(document, PlayerFile, "a player: lines of `key: value`", lambda _: _check_bag(document))
    player = _record(model)
    raise_faults(_check_player(document, player))
    return player


def _split(pair: Pair | None, scale: float) -> tuple[float | None, float | None]:
    if pair is None:
        return None, None
    mean, sd = pair
    return mean * scale, None if sd is None else sd * scale


_AS_WRITTEN: Final = (
    "correlation", "launch", "landing", "spin", "start_line", "shots", "source", "trust", "estimated",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Reader:
    """What all swings of a file share: yards per unit, index, transfer."""

    scale: float
    index: float | None
    transfer: RangeToCourse


def _swing(club: str, name: str, loft: float, reader: _Reader, *, keys: SwingKeys, carry: Pair) -> Swing:
    scale = reader.scale
    carry_mean, carry_sd = _split(carry, scale)
    side, side_sd = _split(keys.side, scale)
    run, run_sd = _split(keys.run, scale)
    fat = thin = None
    if isinstance(keys.mishits, Fails):
        fat, thin = keys.mishits.fat, keys.mishits.thin
    elif keys.mishits is not None:
        fat, thin = mishit_split(loft, keys.mishits)
    return make_swing(
        club,
        name,
        carry_mean or 0.0,
        loft=loft,
        carry_sd=carry_sd,
        side=side or 0.0,
        side_sd=side_sd,
        run=run,
        run_sd=run_sd,
        fat=fat,
        thin=thin,
        posterior=Posterior(**keys.posterior.model_dump()) if keys.posterior else None,
        index=reader.index,
        transfer=reader.transfer,
        **{key: getattr(keys, key) for key in _AS_WRITTEN},
    )


def _club(club: ClubFile, reader: _Reader) -> Club:
    name = club_name(club.club)
    defaults = club_defaults(name, club.loft)
    loft = defaults.loft if defaults else 0.0
    if club.swings is None:
        only = _swing(name, "full", loft, reader, keys=club, carry=club.carry or (0.0, None))
        return Club(name, loft, (only,))
    swings = [
        _swing(name, swing_name(key), loft, reader, keys=swing, carry=swing.carry) for key, swing in club.swings.items()
    ]
    return Club(name, loft, tuple(sorted(swings, key=lambda swing: swing.name != "full")))


L = TypeVar("L", Lie, TouchLie)


def _changed(usual: L, given: LieFile | TouchFile, scale: float) -> L:
    """Return a lie or touch with what a file says of it."""
    changes = given.model_dump(exclude_none=True)
    changes |= {key: scale * changes[key] for key in LENGTHS if key in changes}
    if "longest" in changes:
        changes["longest"] = club_name(changes["longest"])
    return replace(usual, **changes)


def _record(model: PlayerFile) -> Player:
    scale = YARDS_PER[model.units]
    transfer = RangeToCourse(model.range_to_course.spread, model.range_to_course.mishits)
    reader = _Reader(scale, model.handicap_index, transfer)
    skill = skill_of(model.handicap_index)
    lies, touch = lies_of(skill), touch_of(skill)
    putting = model.putting
    return Player(
        name=model.name,
        bag=tuple(_club(club, reader) for club in model.bag),
        handicap_index=model.handicap_index,
        range_to_course=transfer,
        touch=touch | {kind: _changed(touch[kind], given, scale) for kind, given in model.touch.items()},
        putting=Putting(
            skill.putting_direction if putting.direction_sd is None else putting.direction_sd,
            skill.putting_distance if putting.distance_sd is None else putting.distance_sd,
            skill.past,
        ),
        lies=lies | {kind: _changed(lies[kind], given, scale) for kind, given in model.lies.items()},
        units=model.units,
        routine=model.routine,
    )
