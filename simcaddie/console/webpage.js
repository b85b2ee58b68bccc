"use strict";
// What the program's pages share: elements, numbers in words, and the textures of the ground as the charts have them.
const SVG = "http://www.w3.org/2000/svg";
const FACE = '"Fira Sans", system-ui, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif';

const $ = (id) => document.getElementById(id);
const DATA = JSON.parse($("data").textContent);
const put = (id, text) => { $(id).textContent = text; };
const show = (id, on) => { $(id).hidden = !on; };

function node(name, attributes = {}, ...content) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === true) made.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) made.setAttribute(key, value);
  }
  made.append(...content);
  return made;
}

function shape(name, attributes = {}, parent = null, text = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== null) made.textContent = text;
  if (parent) parent.append(made);
  return made;
}

const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const fixed = (value, places) => value.toFixed(places).replace("-", "−");
const clamp = (value, low, high) => Math.min(Math.max(value, low), high);
const between = (a, b) => Math.hypot(b[0] - a[0], b[1] - a[1]);

const pen = document.createElement("canvas").getContext("2d");
function textWidth(text, size, weight, style) {
  pen.font = `${style} ${weight} ${size}px ${FACE}`;
  return pen.measureText(text).width;
}

/** Add a tile of texture to defs, by the first sign of a kind's hatch, in its ink; null where it has none. */
function texture(defs, id, sign, ink) {
  if (!sign) return null;
  const sides = {o: [19, 16], "+": [17, 15], x: [14, 12], ".": [9, 8], "-": [26, 11], "/": [8, 8]}[sign];
  const tile = shape("pattern", {id, patternUnits: "userSpaceOnUse", width: sides[0], height: sides[1]}, defs);
  const line = {fill: "none", stroke: ink, "stroke-width": 0.8, "stroke-linecap": "round"};
  const twice = (draw) => { draw(sides[0] * 0.25, sides[1] * 0.25); draw(sides[0] * 0.75, sides[1] * 0.75); };
  if (sign === "o") {
    twice((x, y) => shape("circle", {cx: x, cy: y, r: 3.4, fill: ink, "fill-opacity": 0.4, stroke: ink, "stroke-width": 0.7}, tile));
  } else if (sign === "+") {
    twice((x, y) => shape("path", {...line, d: `M${x} ${y - 2.4}l-2.6 3.4M${x} ${y - 2.4}v4.4M${x} ${y - 2.4}l2.6 3.4`}, tile));
  } else if (sign === "x") {
    twice((x, y) => shape("path", {...line, d: `M${x - 2} ${y - 1.4}l4 2.8M${x - 2} ${y + 1.4}l4 -2.8M${x} ${y - 2.2}v4.4`}, tile));
  } else if (sign === ".") {
    twice((x, y) => shape("circle", {cx: x, cy: y, r: 0.6, fill: ink}, tile));
  } else if (sign === "-") {
    shape("path", {...line, d: "M2 3h10M15 8.5h9"}, tile);
  } else {
    shape("path", {...line, "stroke-width": 0.5, d: "M0 8L8 0"}, tile);
  }
  return tile;
}
