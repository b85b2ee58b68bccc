"""Invented balls, drawn from the model itself or from a plain pattern."""

from __future__ import annotations

import math

import numpy as np

from simcaddie.fitting.sampler import WILD_SHAPE, WILD_SHARE, Problem
from simcaddie.player.defaults import make_swing, mishit_split
from simcaddie.player.pattern import mishit_shapes
from simcaddie.player.posterior import PRIOR, Truths
from simcaddie.player.swing import Swing

NUMBERS = ("carry", "side", "carry_sd", "side_sd", "mishits")


def prior(mishits: float = 0.12, **keys: object) -> Swing:
    """Return a seven iron's prior, its carry known."""
    fat, thin = mishit_split(33.0, mishits)
    keys = {"carry_sd": 0.06 * 126.0, "side_sd": 126.0 * math.tan(math.radians(3.2)), "posterior": PRIOR} | keys
    return make_swing("7 iron", "full", 126.0, loft=33.0, fat=fat, thin=thin, **keys)


def one(truths: Truths, number: int = 0) -> dict[str, float]:
    """Return one draw's numbers by name."""
    return {name: float(getattr(truths, name)[number]) for name in (*NUMBERS, "correlation", "fat", "thin")}


def problem(before: Swing, truth: dict[str, float], balls: int, rng: np.random.Generator) -> Problem:
    """Return a problem whose balls are drawn from ``truth`` under the model."""
    fat, thin = mishit_shapes(before.loft, before.name)
    wild = truth["thin"] * WILD_SHARE
    strike = rng.choice(4, balls, p=[1 - truth["mishits"], truth["fat"], truth["thin"] - wild, wild])
    share = np.array([1.0, fat.carry, thin.carry, WILD_SHAPE[0]])[strike]
    mishit_sds = truth["carry"] * np.array([fat.carry_sd, thin.carry_sd, WILD_SHAPE[1]])
    sds = np.array([truth["carry_sd"], *mishit_sds])[strike]
    wider = np.array([1.0, fat.wider, thin.wider, WILD_SHAPE[2]])[strike]
    e, f = rng.standard_normal((2, balls))
    rho = np.where(strike == 0, truth["correlation"], 0.0)
    carry = share * truth["carry"] + sds * e
    side = truth["side"] + wider * truth["side_sd"] * (rho * e + np.sqrt(1 - rho**2) * f)
    return Problem(before, carry, side, np.full(balls, np.nan), np.ones(balls))
