"""Playing: the stroke kernel, relief under the Rules, the states of play and the everyday policies."""
