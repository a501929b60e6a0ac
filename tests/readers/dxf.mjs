// Reads DXF files back with a reader of its own:  node dxf.mjs FOLDER...
//
// Each folder is one that `ruddle layout --out FOLDER` wrote: what drawing.dxf holds is counted and
// measured against layout.json.  Anything amiss is told and ends this with 1.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";

import DxfParser from "dxf-parser";

const layers = new Set([
  "ROOF-EDGES", "SETBACKS", "BUTT-EDGES", "RAFTERS", "UNSOUND", "NO-LAG-HERE", "WALL", "VENTS",
  "CHALK-LINES", "FLASHINGS", "FRAMES", "STRUTS", "FEET", "LAG-HOLES", "PIPE-HOLES", "ZERO-CORNER",
  "DIMENSIONS", "READINGS",
]);

const near = (a, b, tolerance = 1e-5) => Math.abs(a - b) <= tolerance;

function read(text) {
  const parsed = new DxfParser().parseSync(text);
  return (layer, type) =>
    parsed.entities.filter((entity) => entity.layer === layer && (!type || entity.type === type));
}

// A closed polyline as a box: [x from, y from, x to, y to].
function box({ vertices }) {
  const xs = vertices.map(({ x }) => x);
  const ys = vertices.map(({ y }) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

// A point for each hole, exactly where the result has it, x growing to the right of who looks.
function holdHoles(result, of, folder) {
  const way = result.corner === "left" ? 1 : -1;
  const points = [...of("LAG-HOLES", "POINT"), ...of("PIPE-HOLES", "POINT")];
  const pipes = result.marks.filter(({ row }) => row === "pipe");
  assert.equal(points.length, result.marks.length, folder);
  assert.equal(of("PIPE-HOLES", "POINT").length, pipes.length, folder);
  for (const { id, x, y } of result.marks) {
    const found = points.filter(
      ({ position }) => near(position.x, way * x) && near(position.y, y),
    );
    assert.equal(found.length, 1, `${folder}: ${id}`);
  }
}

// One outline a frame, standing where the result has it; a flashing a hole; a bar a strut.
function holdParts(result, of, folder) {
  const way = result.corner === "left" ? 1 : -1;
  const frames = of("FRAMES", "POLYLINE").map(box);
  assert.equal(frames.length, result.brackets.length, folder);
  for (const { name, x, y } of result.brackets) {
    const found = frames.filter(
      (frame) => near(way > 0 ? frame[0] : frame[2], way * x, 1e-4) && near(frame[1], y, 1e-4),
    );
    assert.equal(found.length, 1, `${folder}: frame ${name}`);
  }
  assert.equal(of("FLASHINGS", "POLYLINE").length, result.marks.length, folder);
  const bars = of("STRUTS", "POLYLINE").map(box).map((bar) => bar[2] - bar[0]);
  for (const { length } of result.struts) {
    assert.ok(bars.some((bar) => near(bar, length, 1e-4)), `${folder}: a strut of ${length}`);
  }
}

// What is written on it: every reading along a line, from that very zero.
function holdTexts(result, of, folder) {
  const texts = of("READINGS", "TEXT").map(({ text }) => text);
  if (result.status !== "ok") {
    assert.ok(!texts.some((text) => /\d'|mm/.test(text)), `${folder}: readings on what fails`);
    return;
  }
  const lines = readFileSync(join(folder, "holes.csv"), "utf8").trim().split("\r\n").slice(1);
  assert.equal(lines.length, result.marks.length, folder);
  for (const line of lines) {
    const along = line.match(/"(?:LEFT|RIGHT)","((?:[^"]|"")*)"/)[1].replaceAll('""', '"');
    assert.ok(texts.some((text) => text.startsWith(along)), `${folder}: ${along} is not there`);
  }
}

function hold(folder) {
  const text = readFileSync(join(folder, "drawing.dxf"), "utf8");
  const result = JSON.parse(readFileSync(join(folder, "layout.json"), "utf8"));
  assert.match(text, /^[\x20-\x7e\n]*$/, `${folder}: not plain ASCII`);
  const parsed = new DxfParser().parseSync(text);
  for (const { layer } of parsed.entities) {
    assert.ok(layers.has(layer), `${folder}: layer ${layer}`);
    assert.ok(parsed.tables.layer.layers[layer], `${folder}: layer ${layer} is not in its table`);
  }
  const of = read(text);
  assert.ok(of("ROOF-EDGES", "LINE").length >= 3, folder);
  holdHoles(result, of, folder);
  holdParts(result, of, folder);
  holdTexts(result, of, folder);
  return { text, result };
}

// The comparison must be able to fail: a hole an inch off, and one that is not there.
function comparisonsCanFail({ text, result }) {
  const moved = structuredClone(result);
  moved.marks[0].x += 1;
  assert.throws(() => holdHoles(moved, read(text), "trial"));
  assert.throws(() => holdHoles({ ...result, marks: [] }, read(text), "trial"));
}

const held = process.argv.slice(2).map(hold);
comparisonsCanFail(held[0]);
// A face 26' wide and a frame of 72 x 84, at full size: roofs/easy.yaml and its kit say so.
const easy = read(held[0].text);
const frame = box(easy("FRAMES", "POLYLINE")[0]);
const edges = easy("ROOF-EDGES", "LINE").flatMap(({ vertices }) => vertices);
assert.ok(near(frame[2] - frame[0], 72, 1e-4) && near(frame[3] - frame[1], 84, 1e-4));
assert.ok(near(Math.max(...edges.map(({ x }) => x)) - Math.min(...edges.map(({ x }) => x)), 312));
console.log(`dxf: ${held.length} files read back`);
