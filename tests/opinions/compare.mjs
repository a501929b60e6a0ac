// Holds Ruddle's answers on random roofs against its own check and against other solvers:
//
//     node compare.mjs FOLDER EVERY LIMIT SEED...
//
// FOLDER holds, as tests/referee leaves them, SEED.codes (the exit codes of layout and check),
// SEED.json, SEED.check, SEED.words (standard error) and, where there is a model, SEED.lp, SEED.cbc
// (cbc's solution) and SEED.log (what it said).  HiGHS is asked too on every EVERY-th seed, and
// wherever cbc is of another opinion.  Prints a line a seed:
//
//     SEED agree          the optimum of others is ours (`miss` behind it: of a nearest miss)
//     SEED bounds         a limit ended a search, ours or theirs: neither beats the other's bound
//     SEED nothing        nothing can be placed: there is no model to compare
//     SEED undecided      a limit ended our search without a layout
//     SEED overruled ...  cbc is of another opinion, and HiGHS of ours
//     SEED DISAGREE ...   what is wrong
import { existsSync, readFileSync } from "node:fs";

import { load, solve, solveFixed } from "./highs.mjs";

// Inches.  Solvers take a binary for whole that is 1e-5 off or so, and a model's constants pass
// that on; with the binaries fixed nothing is left of it.
const CLAIMED = 1e-3;
const FIXED = 1e-6;
// The search holds a strut's lags in the middle of their rafters.  Printed they stand on marks of the
// tape, up to one of them off, which can be to the good where a joint or a vent limits them.
const OFF_MIDDLE = 1 / 8;
// Seconds that HiGHS has to decide between two opinions.
const DECIDING = 60;
// The check reads places with six decimals.
const READ = 5e-6;

const [folder, every, limit, ...seeds] = process.argv.slice(2);
const highs = await load();

const path = (seed, tail) => `${folder}/${seed}.${tail}`;
const text = (seed, tail) => readFileSync(path(seed, tail), "utf8");

class Disagreement extends Error {}

function expect(holds, what) {
  if (!holds) throw new Disagreement(what);
}

// The layout as printed, by the check that knows nothing of how it was found.
function holdPrinted(seed, result, code) {
  const unit = result.measure === "mm" ? 25.4 : 1;
  expect(code <= 1, `check ended with ${code}: ${text(seed, "words").split("\n")[0]}`);
  const check = JSON.parse(text(seed, "check"));
  const off = Math.abs(check.forgiveness - result.forgiveness) / unit;
  expect(off <= READ, `check finds forgiveness ${check.forgiveness}, not ${result.forgiveness}`);
  const edge = Math.abs(result.forgiveness) / unit <= READ;
  expect(edge || check.status === result.status, `check finds it ${check.status}`);
  expect(code === (check.status === "ok" ? 0 : 1), `check ended with ${code}`);
}

// What was claimed before rounding, in inches.
function claims(result) {
  const unit = result.measure === "mm" ? 25.4 : 1;
  const own = result.optimum ? result.optimum.forgiveness / unit : -Infinity;
  const bound = result.proved ? own : result.bound.forgiveness / unit;
  // A layout that did not carry is set aside, and the model that is written is the last one tried,
  // which need not be that of the layout kept.
  const aside = result.strength !== null && !result.proved;
  return { own, bound, proved: result.proved, aside };
}

// { state: optimal | stopped | broken | none, value: of the best point it has, least: what it proved
// that none undercuts, values }
function readCbc(seed) {
  const lines = text(seed, "cbc").split("\n");
  const value = Number(lines[0].match(/objective value\s+(\S+)/)?.[1] ?? NaN);
  const values = new Map();
  for (const line of lines.slice(1)) {
    const parts = line.replace("**", "").trim().split(/\s+/);
    if (parts.length >= 3) values.set(parts[1], Number(parts[2]));
  }
  const least = Number(text(seed, "log").match(/^Lower bound:\s+(\S+)/m)?.[1] ?? -Infinity);
  if (lines[0].startsWith("Optimal")) return { state: "optimal", value, least: value, values };
  if (/^(Integer i|I)nfeasible/.test(lines[0])) return { state: "none", value: Infinity, least: Infinity };
  // An assertion of its own that fails, or its limit of the processor: it has said nothing.
  if (lines[0].startsWith("cbc ended")) return { state: "broken", value: Infinity, least: -Infinity };
  if (!lines[0].startsWith("Stopped")) return { state: lines[0], value: NaN, least: NaN };
  const found = !lines[0].includes("no integer solution");
  return { state: "stopped", value: found ? value : Infinity, least, values };
}

// Their point and their bound against ours; a NaN is of another opinion.
function sameOpinion(ours, theirs) {
  const notBetter = -theirs.value <= ours.bound + CLAIMED;
  const notWorse = ours.aside || ours.own <= -theirs.least + CLAIMED;
  return notBetter && notWorse;
}

function askHighs(seed, seconds) {
  const { state, value } = solve(highs, text(seed, "lp"), seconds);
  const optimal = state === "optimal";
  // Where it is stopped or loses the optimum, it has nothing to say.
  return { state: optimal ? state : "stopped", value, least: optimal ? value : -Infinity };
}

const figures = (ours, theirs) =>
  `${theirs.state} ${-theirs.value}, ours ${ours.own}${ours.proved ? "" : ` up to ${ours.bound}`}`;

// With their binaries fixed their point is exact: it may be worse than they said, never better than
// ours.
function holdFixed(seed, ours, cbc) {
  const exact = solveFixed(highs, text(seed, "lp"), cbc.values);
  if (exact.state !== "optimal") return;
  expect(-exact.value <= ours.bound + FIXED, `binaries of cbc fixed: ${figures(ours, exact)}`);
}

function holdClaim(seed, ours) {
  const cbc = readCbc(seed);
  const same = sameOpinion(ours, cbc);
  if (!same || cbc.state === "broken" || seed % every === 0) {
    const other = askHighs(seed, same ? Number(limit) : DECIDING);
    expect(sameOpinion(ours, other), `HiGHS: ${figures(ours, other)}`);
    expect(same || other.state === "optimal", `cbc: ${figures(ours, cbc)}`);
    if (!same) return `overruled cbc: ${figures(ours, cbc)}`;
  }
  if (cbc.state === "optimal") holdFixed(seed, ours, cbc);
  if (cbc.state !== "optimal" || !ours.proved) return "bounds";
  return ours.own < 0 ? "agree miss" : "agree";
}

function judge(seed) {
  const [code, checked] = text(seed, "codes").trim().split(" ").map(Number);
  expect(code <= 1, `layout ended with ${code}: ${text(seed, "words").split("\n")[0]}`);
  const result = JSON.parse(text(seed, "json"));
  expect(code === (result.status === "ok" ? 0 : 1), `layout ended with ${code}`);
  const modelled = existsSync(path(seed, "lp"));
  if (result.marks.length > 0) {
    holdPrinted(seed, result, checked);
    const { bound } = claims(result);
    const unit = result.measure === "mm" ? 25.4 : 1;
    const off = result.rows.some(({ kind }) => kind === "strut") ? OFF_MIDDLE : 0;
    const better = result.status === "ok" && bound < -FIXED - off;
    expect(!better, `it holds with ${result.forgiveness / unit}, said to be at most ${bound}`);
    expect(modelled, "a layout without a model");
  } else if (result.status === "blocked") {
    expect(!modelled, "nothing can be placed, and yet there is a model");
    return "nothing";
  }
  if (!modelled) return "undecided";
  const said = holdClaim(seed, claims(result));
  return result.marks.length > 0 ? said : "undecided";
}

for (const seed of seeds) {
  let said;
  try {
    said = judge(seed);
  } catch (error) {
    said = `DISAGREE ${error instanceof Disagreement ? error.message : error.stack}`;
  }
  console.log(`${seed} ${said.replaceAll("\n", " ")}`);
}
