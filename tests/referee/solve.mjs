// Solves models with HiGHS:  node solve.mjs MODEL...   (.lp or .mps)
//
// Prints one line a model: its objective, or "status N" where HiGHS ends without one.  Writes
// MODEL.highs beside it: one line a column, name and value.
//
// Each model is solved with presolve and without, and the better answer counts.  HiGHS 1.15.3 loses
// the optimum of some of these models one way or the other (with presolve it calls one infeasible
// that has a point which breaks no row by anything); a better answer can only be a real one, as its
// binaries are fixed and the rest solved again by whoever asks.
import { readFileSync, writeFileSync } from "node:fs";

import loadHighs from "highs";

const STATUS_OPTIMAL = 7;

function run(highs, path, presolve) {
  const format = path.endsWith(".mps") ? "mps" : "lp";
  return highs.withModel({ format, data: readFileSync(path) }, (model) => {
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-9, presolve });
    model.run();
    const status = model.getModelStatus();
    if (status !== STATUS_OPTIMAL) {
      return { said: `status ${status}`, objective: Infinity, lines: [] };
    }
    const objective = model.getObjectiveValue();
    const values = Array.from(model.getSolution().colValue);
    const lines = values.map((value, i) => `${model.getColName(i)} ${value}\n`);
    return { said: String(objective), objective, lines };
  });
}

const highs = await loadHighs();
for (const path of process.argv.slice(2)) {
  const [one, other] = ["on", "off"].map((presolve) => run(highs, path, presolve));
  const best = other.objective < one.objective ? other : one;
  writeFileSync(`${path}.highs`, best.lines.join(""));
  console.log(best.said);
}
