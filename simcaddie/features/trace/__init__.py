"""One page on which a hole is traced over a picture and saved as a hole file.

The page's script does in a browser what the program does with a file: it draws smooth outlines (``curve.js``, as
``course/outlines.py``), finds what ``check`` finds (``rules.js``, with the words of ``io/hole_rules.py``), reads and
writes hole files (``files.js``, as ``io/yaml_reader.py`` and ``io/hole_writer.py``). Each of these is held against the
program's own in the tests. ``trace.js`` is the map and the hand on it. Kinds of ground, colours, limits and words come
as data.
"""
