"""A round on the range in words: what is asked, what came of a ball, what a hole and the round cost; and as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

from simcaddie.base.cautions import ON_THE_RANGE
from simcaddie.base.surfaces import BY_NAME, NAMES
from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.console.document import (
    BEST,
    GAP,
    SUM,
    Block,
    Document,
    Heading,
    Items,
    Row,
    Text,
    figures,
    signed,
    table,
    words,
)
from simcaddie.decision.ledger import HoleLedger, Reckoner, total
from simcaddie.decision.options import swing_title
from simcaddie.decision.phrases import day_data, day_words
from simcaddie.decision.struck import touch_carry
from simcaddie.decision.targets import target_names
from simcaddie.decision.told import dearest, hole_data, lie_words, parts_data, stroke_words
from simcaddie.features.range_round.analysis import Game, Shot, State
from simcaddie.model.arrays import Event

__all__ = ["PARTS", "advice", "card", "opening", "question", "range_data", "reply"]

PARTS: Final = ("choice", "swing", "luck", "putts")
_ADVISED: Final = 4  # swings that are told when best play is asked for
_HAPPENED: Final = {
    Event.PENALTY_AREA: "In a penalty area: one penalty stroke. It is played next from",
    Event.OUT_OF_BOUNDS: "Out of bounds: stroke and distance. It is played next from",
    Event.LOST: "Lost: stroke and distance. It is played next from",
    Event.UNPLAYABLE: "Unplayable: one penalty stroke. It is played next from",
    Event.HIT_TREE: "It hits a tree, and lies in",
}


def opening(game: Game, state: State, *, resumed: int = 0) -> Document:
    """Return what is said at the start: the round, how to type, the cautions; ``resumed`` lines were there already."""
    holes = len(game.numbers)
    day = f"The day: {day_words(game.day)}." if game.day is not None else "The day: calm, ordinary turf."
    unit = game.player.units
    how = (
        ("club, target", "chooses a stroke, as: driver, middle; 7 iron, 5 yd left of the pin; touch, pin"),
        ("168 6R", f"is the ball that you hit: carry and side, {unit}; fat 120 or thin 95 4L says how"),
        ("?", "says what is best, once you want to know"),
        ("undo", "takes the last line back; pick up ends the hole; Ctrl-D stops: the same command goes on"),
    )
    return [
        Heading(game.course.name, f", {holes} hole{'s' if holes > 1 else ''}, {game.player.name}, on the range"),
        Text(day),
        Text(ON_THE_RANGE, quiet=True),
        GAP,
        Items(how),
        *([Text(f"Going on where it was: {resumed} lines are in the journal.")] if resumed else []),
        *_tee(game, state),
    ]


def _tee(game: Game, state: State) -> Iterator[Block]:
    """Yield what is said on a tee."""
    if state.over or state.shots:
        return
    reckoner = game.reckoner(state)
    hole = reckoner.position.hole
    yield GAP
    number = f"Hole {game.numbers[state.hole]}, " if len(game.course.holes) > 1 else ""
    yield Heading(f"{number}{hole.name}", f", par {hole.par}, {_to_pin(reckoner, state)}")
    yield Text(f"Targets: {target_names(hole)}, or so many yards left or right of one.", quiet=True)


def _to_pin(reckoner: Reckoner, state: State) -> str:
    return lie_words(reckoner, state.place).rpartition(", ")[2]


def question(game: Game, state: State) -> str:
    """Return what is asked next, without best play giving itself away."""
    reckoner = game.reckoner(state)
    if state.phase == "putt":
        return f"On {lie_words(reckoner, state.place)}. Putts (Enter: by your putting model)? "
    if state.option is None:
        return f"Stroke {_number(state)}, from {lie_words(reckoner, state.place)}. Club, target? "
    title = swing_title(game.player, state.option.swing)
    if state.option.swing >= len(game.player.swings):
        scale = YARDS_PER[game.player.units]
        meant = touch_carry(reckoner, state.place, state.option) / scale
        return f"Hit a touch shot that carries {meant:.0f} {SHORT[game.player.units]}. Carry and side? "
    return f"Hit the {title}. Carry and side? "


def _number(state: State) -> int:
    """Return which stroke is next, penalties counted."""
    return 1 + sum(shot.entry.added for shot in state.shots)


def advice(game: Game, state: State) -> Document:
    """Return what is best at a place: the best swings and what the others cost."""
    if state.phase == "over":
        return []
    reckoner = game.reckoner(state)
    if state.phase == "putt":
        return [Text(f"{reckoner.worth(state.place):.2f} putts on average from here.")]
    plan, best = reckoner.best(state.place)
    others = sorted(reckoner.lines(state.place).values(), key=lambda line: line.worth)
    rows = [Row((stroke_words(reckoner, state.place, plan), f"{best:.2f}", ""), BEST)]
    for line in others:
        option = type(plan)(line.swing, line.aim)
        if line.swing != plan.swing and len(rows) < _ADVISED:
            worth = reckoner.chosen(state.place, option)
            costs = round(worth, 2) - round(best, 2)  # as printed
            rows.append(Row((stroke_words(reckoner, state.place, option), f"{worth:.2f}", signed(costs))))
    return [table((*words("stroke"), *figures("strokes", "costs")), rows, "strokes from here to the hole, on average")]


def reply(game: Game, before: State, after: State) -> Document:
    """Return what came of a line: where the ball lies, and what a hole cost where it is finished."""
    blocks: list[Block] = []
    if after.asked and not before.asked:
        return advice(game, after)
    shots = after.hit[-1] if len(after.hit) > len(before.hit) else after.shots
    if len(shots) > len(before.shots):
        blocks.append(Text(_ball_words(game, before, shots[-1])))
    elif after.option is not None and before.option is None:
        told = stroke_words(game.reckoner(after), after.place, after.option)
        blocks.append(Text(f"Chosen: {told}."))
    if len(after.done) > len(before.done):
        blocks += [GAP, *hole_blocks(after.done[-1], shots)]
        blocks += _tee(game, after)
    return blocks


def _ball_words(game: Game, before: State, shot: Shot) -> str:
    """Say what came of a ball on the hole."""
    reckoner, event, rest = game.reckoner(before), int(shot.rest.event[0]), shot.rest
    start = ""
    if shot.turned == "failed":
        start = f"{BY_NAME[NAMES[shot.entry.place[2]]].title.capitalize()} holds it: the ball hardly moves. "
    elif shot.turned:
        start = f"From this lie it comes out {shot.turned}. "
    elif shot.ball.kind != "solid":
        start = f"It counts as {shot.ball.kind}. "
    if event == Event.HOLED:
        return f"{start}Holed!"
    where = lie_words(reckoner, shot.entry.after)
    told = next(
        (words for kind, words in _HAPPENED.items() if event == kind),
        "It lies in" if "green" not in where else "It lies on",
    )
    if event == Event.HIT_TREE and where.startswith("the green"):
        told = "It hits a tree, and lies on"
    finish = BY_NAME[NAMES[int(rest.finish[0])]]
    if event == Event.PENALTY_AREA:
        told = told.replace("a penalty area", f"{finish.article} {finish.title}")
    return f"{start}{told} {where}."


# ─── What a hole and the round cost ─────────────────────────────────────────────────────────────────────────────────


def _row(*values: float) -> tuple[str, ...]:
    return tuple(signed(value) for value in values)


def hole_blocks(ledger: HoleLedger, shots: Sequence[Shot]) -> Document:
    """Return the ledger of a hole, stroke by stroke, and its dearest choice."""
    reckoner, rows, number = ledger.reckoner, [], 1
    for entry in ledger.entries:
        cells = (
            stroke_words(reckoner, entry.place, entry.option),
            *_row(entry.choice, entry.execution, entry.luck),
            "",
        )
        rows.append(Row((str(number), *cells)))
        number += entry.added
    if ledger.putted is not None:
        count = ledger.putted.taken
        told = f"{count} putt{'s' if count != 1 else ''} from {lie_words(reckoner, ledger.putted.place)[11:]}"
        rows.append(Row((str(number), told, "", "", "", signed(ledger.putting))))
    score = "picked up" if ledger.left else f"{ledger.score:.0f}"
    rows.append(Row(("", f"score {score}, expected {ledger.expected:.2f}", *_row(*ledger.parts)), SUM))
    caption = (
        "choice: against best play; swing: against your own average strike; luck: what the ground did with it, "
        "against its average. They add up to the score less what was expected."
    )
    blocks: list[Block] = [table((*figures(""), *words("stroke", wraps=True), *figures(*PARTS)), rows, caption)]
    said = dearest(ledger)
    return [*blocks, *([Text(said)] if said else [])]


def card(game: Game, state: State) -> Document:
    """Return the card: every finished hole, and the round."""
    if not state.done:
        return [Text("No hole is finished yet.")]
    rows: list[Row | tuple[str, ...]] = []
    for ledger in state.done:
        hole = ledger.reckoner.position.hole
        score = f"{ledger.score:.1f}" if ledger.left else f"{ledger.score:.0f}"
        cells = (str(ledger.number), hole.name, str(hole.par), score, f"{ledger.expected:.2f}", *_row(*ledger.parts))
        rows.append(cells)
    par = sum(ledger.reckoner.position.hole.par for ledger in state.done)
    score, expected = (sum(getattr(ledger, name) for ledger in state.done) for name in ("score", "expected"))
    rows.append(Row(("", "in all", str(par), f"{score:.4g}", f"{expected:.2f}", *_row(*total(state.done))), SUM))
    columns = (*figures(""), *words("hole", wraps=True), *figures("par", "score", "expected", *PARTS))
    caption = "expected: best play from the tee; the four parts add up to score less expected"
    lead = Heading(game.course.name, f", {game.player.name}, on the range")
    return [GAP, lead, GAP, table(columns, rows, caption)]


def range_data(game: Game, state: State, files: dict[str, str | None]) -> dict[str, Any]:
    """Return a round on the range as plain data, schema "range-round/1"; lengths in yards."""
    holes = []
    for ledger, shots in zip(state.done, state.hit, strict=True):
        data = hole_data(ledger)
        for stroke, shot in zip(data["strokes"], shots, strict=True):
            ball = shot.ball
            stroke |= {"ball": {"carry": ball.carry, "side": ball.side, "strike": ball.kind, "total": shot.total}}
            stroke |= {"turned": shot.turned or None, "asked": shot.entry.asked}
        holes.append(data)
    return {
        "schema": "range-round/1",
        "course": game.course.name,
        "player": game.player.name,
        "day": day_data(game.day),
        "finished": state.over,
        "holes": holes,
        "parts": parts_data(state.done),
        **files,
    }
