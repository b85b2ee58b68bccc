"""The player file as a model: its keys, their types and bounds.

What a bag as a whole must be is in ``player_checks``.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, WithJsonSchema, model_validator

from simcaddie.files.words import Format, Name, OneOf, Part, Units, Within, told, unlike
from simcaddie.surfaces import SURFACES

__all__ = [
    "MAX_MISHITS",
    "ClubFile",
    "Fails",
    "LieFile",
    "Pair",
    "PlayerFile",
    "PosteriorFile",
    "SwingFile",
    "SwingKeys",
    "TouchFile",
]

MAX_MISHITS: Final = 0.9  # some balls must come off
PLAYED: Final = tuple(
    kind.name for kind in SURFACES if not kind.penalty and not kind.out and not kind.putting
)

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
    mean, spread = (
        {"type": "number", "minimum": low, "maximum": high},
        {"type": "number", "minimum": 0, "maximum": widest},
    )
    several = {"type": "array", "prefixItems": [mean, spread], "items": False, "minItems": 1}
    return WithJsonSchema({"anyOf": [mean, several]})


Carry = Annotated[Pair, BeforeValidator(_pair(1, 450, 100, "an average carry")), _pair_schema(1, 450, 100)]
Side = Annotated[
    Pair, BeforeValidator(_pair(-150, 150, 150, "an average side")), _pair_schema(-150, 150, 150)
]
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
            raise unlike(
                f"fat and thin of at most {MAX_MISHITS:g} together", (self.fat or 0.0) + (self.thin or 0.0)
            )
        return self


def _which(value: Any) -> str:
    return "parts" if isinstance(value, dict | Fails) else "number"


_MISHIT_WORDS: Final = f"a chance from 0 to {MAX_MISHITS:g}, or {{fat: …, thin: …}}"
Mishits = Annotated[
    Annotated[float, Within(0, MAX_MISHITS), told(_MISHIT_WORDS), Tag("number")]
    | Annotated[Fails, Tag("parts")],
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
    run: Run | None = Field(
        None, description="average and spread of bounce and roll on ordinary turf, in `units`"
    )
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
    fail: Annotated[float, Within(0, 0.9)] | None = Field(
        None, description="chance that the ball hardly moves"
    )
    fail_carry: Annotated[float, Within(0, 50)] | None = Field(
        None, description="how far it then goes, in `units`"
    )
    min_loft: Annotated[float, Within(0, 80)] | None = Field(
        None, description="degrees; longer clubs stay in the bag"
    )
    max_loft: Annotated[float, Within(0, 90)] | None = Field(
        None, description="degrees; more lofted clubs stay in the bag"
    )
    low: Annotated[float, Within(0.05, 1)] | None = Field(
        None, description="share of the usual launch that is left"
    )
    gap: Annotated[float, Within(0, 1)] | None = Field(
        None, description="share of the trees in the way that counts"
    )
    woods: Annotated[float, Within(0.2, 5)] | None = Field(
        None, description="more spread and mishits, times this, for clubs under 20 degrees"
    )
    longest: Name | None = Field(None, description="longest club the player uses from it")


class TouchFile(Part):
    """How feel shots come off from a lie, where it differs from the usual."""

    near: Annotated[float, Within(0, 20)] | None = Field(
        None, description="distance error of the shortest, in `units`"
    )
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
    bag: Annotated[list[ClubFile], Field(min_length=1, max_length=60)] = Field(
        description="all clubs but the putter"
    )
    touch: dict[Kind, TouchFile] = Field(
        {}, description="feel shots by lie: only what differs from the usual"
    )
    putting: PuttingFile = PuttingFile()
    lies: dict[Kind, LieFile] = Field({}, description="by lie: only what differs from the usual")
    routine: Name | None = Field(
        None, description="what the player does before every stroke, in the player's own words"
    )
    source: Annotated[str, Field(max_length=500), told("text")] | None = Field(
        None, description="where the numbers come from"
    )
