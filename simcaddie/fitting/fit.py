"""A session to what is known of the player: refuse, leave out, separate, shrink, compare."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import chdtrc

from simcaddie.base.streams import generator
from simcaddie.fitting.prior import PriorFor
from simcaddie.fitting.sampler import SOLID, Problem, problem_of, sample
from simcaddie.fitting.session import Ball, Key, Misread, by_swing, first_balls, misread, without_warm_up
from simcaddie.fitting.summary import SwingFit, summarise
from simcaddie.fitting.transfer import Transfer, measure_transfer
from simcaddie.player.swing import RangeToCourse

__all__ = ["SessionFit", "SharedAngle", "fit_session"]

DRAWS: Final = 2000
MOST_BALLS: Final = 20_000  # balls times chains: beyond it fewer chains and draws will do, the posterior being tight
FEW_DRAWS: Final = 400
FEWEST_REST: Final = 3  # balls that a swing's own rest must have to be fitted without its first balls


@dataclass(frozen=True, slots=True)
class SharedAngle:
    """The angle (°, to the right) that all swings miss by, its standard error, and how many swings take part."""

    degrees: float
    se: float
    swings: int


@dataclass(frozen=True, slots=True)
class SessionFit:
    """What a session tells.

    ``fits`` by (club, swing). ``refused`` are misread balls, ``warm_up`` says how many were left out. ``first`` holds
    the first balls after a change of club against the rest, ``routine`` those with a routine against those without;
    None where none are known. Where ``without_first`` the fits rest on the rest alone, and ``first`` says how they
    come to the course. ``angle`` is the one that all swings miss by, if they do.
    """

    fits: dict[Key, SwingFit]
    refused: tuple[Misread, ...]
    warm_up: int
    first: Transfer | None
    routine: Transfer | None
    without_first: bool
    angle: SharedAngle | None


def fit_session(
    balls: Sequence[Ball],
    prior_for: PriorFor,
    *,
    declared: RangeToCourse | None = None,
    newer: float = 1.0,
    warm_up: int = 0,
    seed: int = 1,
) -> SessionFit:
    """Fit every swing of a session, or of several.

    Parameters
    ----------
    balls : all balls, in yards, misread ones among them
    prior_for : gives a swing's prior from (club, swing) and its balls
    declared : the transfer that measured ones are shrunk to; the usual one by default
    newer : what a ball counts against one of the next newer session, 0 … 1: with 0.5 the one before the newest counts
        half, the one before that a quarter
    warm_up : how many balls to leave out at the beginning of each session
    seed : same seed, same numbers

    """
    rng = generator(seed)
    hit = without_warm_up(balls, warm_up)
    refused = _refused(balls, set(hit))
    gone = {wrong.ball for wrong in refused}
    kept = [ball for ball in hit if ball not in gone and not ball.told]
    mishit = [ball for ball in hit if ball.told]
    firsts, routines = first_balls(balls), {ball for ball in kept if ball.routine}
    groups = by_swing(kept)
    newest = max((ball.session for ball in kept), default=0)

    def weight(ball: Ball) -> float:
        return float(newer ** (newest - ball.session))

    def fitted(chosen: dict[Key, tuple[Ball, ...]], mishit: Sequence[Ball] = ()) -> dict[Key, tuple[Problem, SwingFit]]:
        told = {key: [(b, weight(b)) for b in mishit if (b.club, b.swing) == key] for key in chosen}
        weights = {key: np.array([weight(ball) for ball in chosen[key]]) for key in chosen}
        priors = {key: prior_for(key, groups[key]) for key in chosen}
        return _fit({key: problem_of(priors[key], chosen[key], weights[key], told[key]) for key in chosen}, rng)

    def beside(some: frozenset[Ball] | set[Ball], known: str) -> Transfer | None:
        """Hold some balls against the rest of those of which it is known."""
        rest = by_swing(ball for ball in kept if ball not in some and getattr(ball, known) is not None)
        ours = [ball for group in groups.values() for ball in group if ball in some]
        if not rest or not ours:
            return None
        return measure_transfer(ours, fitted(rest), declared or RangeToCourse(), rng)

    first = beside(firsts, "order")
    without_first = first is not None and first.enough
    main = _rest_only(groups, firsts) if without_first else groups
    fits = fitted(main, [ball for ball in mishit if not (without_first and ball in firsts)])
    return SessionFit(
        fits={key: fit for key, (_, fit) in fits.items()},
        refused=refused + tuple(_alone(ball) for ball in mishit if (ball.club, ball.swing) not in groups),
        warm_up=len(balls) - len(hit),
        first=first,
        routine=beside(routines, "routine"),
        without_first=without_first,
        angle=shared_angle([*fits.values()]),
    )


def _refused(balls: Sequence[Ball], hit: set[Ball]) -> tuple[Misread, ...]:
    """Return the misread ones of the balls that count."""
    return tuple(wrong for wrong in misread(balls) if wrong.ball in hit)


def _alone(ball: Ball) -> Misread:
    """Return that a mishit told in words says nothing of a swing of which no ball was measured."""
    return Misread(ball, "carry", f"another ball of the {ball.title} with a carry in yards or metres", "none")


def _rest_only(groups: dict[Key, tuple[Ball, ...]], firsts: frozenset[Ball]) -> dict[Key, tuple[Ball, ...]]:
    """Return the groups without first balls, but for swings that would have too few left."""
    rest = {key: tuple(ball for ball in group if ball not in firsts) for key, group in groups.items()}
    return {key: rest[key] if len(rest[key]) >= FEWEST_REST else groups[key] for key in groups}


def _fit(problems: dict[Key, Problem], rng: np.random.Generator) -> dict[Key, tuple[Problem, SwingFit]]:
    if not problems:
        return {}
    balls = sum(problem.carry.size for problem in problems.values())
    chains = int(np.clip(MOST_BALLS // max(balls, 1), 1, 8))
    draws = sample([*problems.values()], rng, draws=DRAWS if chains > 1 else FEW_DRAWS, chains=chains)
    return {key: (problems[key], summarise(problems[key], found)) for key, found in zip(problems, draws, strict=True)}


# ─── Does every club miss by the same angle? Then the device, or the feet, may be misaligned ──────────────────────────
#
# Each swing's angle to the side is the mean over its balls, each by how likely it was solid, with its standard error;
# nothing is shrunk, since a shared angle would shrink with it. The angles are pooled by their precision (a fixed-effect
# summary: W. G. Cochran, Biometrics 10, 1954), and Cochran's Q tells whether they differ by more than chance.

FEWEST_SWINGS: Final = 4
FEWEST_BALLS: Final = 3.0  # solid ones, of a swing that takes part
LEAST: Final = 1.5  # degrees: less is within what golfers aim to
SURE: Final = 3.0  # standard errors off the line
DIFFER: Final = 0.05  # chance of a Q as large, below which the clubs differ


def shared_angle(fits: Sequence[tuple[Problem, SwingFit]]) -> SharedAngle | None:
    """Return the angle by which all swings miss alike; None where they don't, or too few can tell."""
    angles, errors = [], []
    for problem, fit in fits:
        weight = fit.strikes[:, SOLID]
        if (count := float(weight.sum())) < FEWEST_BALLS:
            continue
        each = np.degrees(np.arctan2(problem.side, problem.carry))
        mean = float((weight * each).sum()) / count
        spread = np.degrees(np.arctan(fit.swing.side_sd / fit.swing.carry))
        angles.append(mean)
        errors.append(float(spread) / np.sqrt(count))
    if len(angles) < FEWEST_SWINGS:
        return None
    precision = 1.0 / np.square(errors)
    pooled = float(np.average(angles, weights=precision))
    se = float(1.0 / np.sqrt(precision.sum()))
    q = float((precision * (np.array(angles) - pooled) ** 2).sum())
    alike = bool(chdtrc(len(angles) - 1, q) >= DIFFER)
    if not alike or abs(pooled) < LEAST or abs(pooled) < SURE * se:
        return None
    return SharedAngle(pooled, se, len(angles))
