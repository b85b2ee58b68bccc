"""A small sound hole and player (invented), for tests to spoil."""

from __future__ import annotations

HOLE = """\
format: 1
name: Test Hole
par: 4
stroke_index: 8
units: yards
bearing: 228
tees: {white: [0, 0], red: [5, 41]}
pins: {middle: [0, 360], back: [0, 370]}
surround: rough
areas:
  - {kind: fairway, outline: [[-15, 100], [15, 100], [15, 340], [-15, 340]]}
  - {kind: bunker, name: left bunker, outline: [[-30, 200], [-18, 200], [-18, 215], [-30, 215]]}
  - {kind: water, name: pond, marking: red, outline: [[20, 200], [40, 200], [40, 240], [20, 240]]}
  - {kind: trees, name: birches, outline: [[-80, 100], [-50, 100], [-50, 300], [-80, 300]]}
  - {kind: green, outline: [[0, 345], [14, 360], [0, 376], [-14, 360]], tilt: {percent: 2, toward: 180}}
boundary: [[-100, -50], [100, -50], [100, 420], [-100, 420]]
heights: [[0, 0, 11], [0, 205, 5], [0, 360, 8]]
landmarks: [{name: tall mast, at: [-14, 408]}]
spots: {second: {at: [6, 231], lie: fairway}}
local_rules: [E-5]
origin: {lon: 1.5, lat: 52}
source: invented
"""

PLAYER = """\
name: Test Player
units: yards
handicap_index: 19.4
routine: "one look, then swing"
range_to_course: {spread: 1.25, mishits: 1.5}
bag:
  - club: driver
    swings:
      full: {carry: [193, 13], side: [6, 16], correlation: -0.2, run: [17, 7], mishits: 0.14, shots: 26}
  - club: 7-Iron
    carry: 123
  - club: gap wedge
    loft: 51
    swings:
      half: {carry: [63, 5], launch: 26, spin: 6100, from: course, trust: high}
      full: {carry: 91, side: 2, mishits: {fat: 0.05, thin: 0.04}, start_line: -2}
touch: {rough: {near: 1.5}}
putting: {direction_sd: 1.3}
lies: {rough: {carry: 0.92, longest: 7 iron}}
"""
