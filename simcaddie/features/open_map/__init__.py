"""Maps of courses to hole files and back.

Learnt by trying:

- `features/open_map/geojson.py` reads shapes and tags, `features/open_map` gives them a meaning,
  `features/open_map/analysis.py` writes texts and reads each back before any file is written. Nothing in
  `features/open_map` knows of files.
- pyproj (geodesics by Karney) is there for maps alone and loaded late, in `features/open_map/globe.py`: azimuth
  and distance from the tee are the projection, so it works at the poles and across the 180th meridian. Own formulas
  would have to be checked against it.
- A hole's own frame is rounded first (origin 7 decimals, bearing 2), then everything is computed in it.
- A neighbour's fairway in a hole file draws the line of play aside where it is found from fairways: 521 yd for a hole
  of 326. So hole files have `line`, and `line_of_play` follows it.
- The boundary is cut 200 yd off the line, which keeps the grid small; at 130 yd wild balls would begin to meet it.
- Holes that `export-map` wrote carry their frame and, on every feature, the hole's number: they come back without
  simplifying or guessing. Import → export → import moves nothing by more than 0.001 yd, plain imports round to 0.1.
- Longitude and latitude changed over show in the shapes of greens and bunkers (`features/open_map/analysis.py`).
- `examples/driftwood-bay.geojson` is invented and has a bit of everything. Tests on real maps run where a `geodata`
  folder stands next to the checkout, else they skip.
"""
