"""A small sound hole and player (invented), for tests to spoil."""

from __future__ import annotations

HOLE = """\
format: 1
name: Test Hole
par: 4
stroke_index: 7
units: yards
bearing: 215
tees: {white: [0, 0], red: [4, 38]}
pins: {middle: [0, 360], back: [0, 370]}
surround: rough
areas:
  - {kind: fairway, outline: [[-15, 100], [15, 100], [15, 340], [-15, 340]]}
  - {kind: bunker, name: left bunker, outline: [[-30, 200], [-18, 200], [-18, 215], [-30, 215]]}
  - {kind: water, name: pond, marking: red, outline: [[20, 200], [40, 200], [40, 240], [20, 240]]}
  - {kind: trees, name: birches, outline: [[-80, 100], [-50, 100], [-50, 300], [-80, 300]]}
  - {kind: green, outline: [[0, 345], [14, 360], [0, 376], [-14, 360]], tilt: {percent: 2, toward: 180}}
boundary: [[-100, -50], [100, -50], [100, 420], [-100, 420]]
heights: [[0, 0, 12], [0, 210, 4], [0, 360, 9]]
landmarks: [{name: lone pine, at: [-9, 415]}]
spots: {second: {at: [8, 228], lie: fairway}}
local_rules: [E-5]
origin: {lon: 1.5, lat: 52}
source: invented
"""

PLAYER = """\
name: Test Player
units: yards
handicap_index: 18.2
range_to_course: {spread: 1.25, mishits: 1.5}
bag:
  - club: driver
    swings:
      full: {carry: [188, 14], side: [7, 18], correlation: -0.1, run: [15, 6], mishits: 0.12, shots: 24}
  - club: 7-Iron
    carry: 126
  - club: gap wedge
    loft: 51
    swings:
      half: {carry: [61, 4], launch: 27, spin: 6200, from: course, trust: high}
      full: {carry: 88, side: 2, mishits: {fat: 0.05, thin: 0.04}, start_line: -2}
touch: {rough: {near: 1.5}}
putting: {direction_sd: 1.3}
lies: {rough: {carry: 0.92, longest: 7 iron}}
"""
