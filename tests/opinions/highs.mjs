// HiGHS, for whoever wants another opinion on a model that `ruddle layout --model` wrote (.lp).
import loadHighs from "highs";

const STATUS_OPTIMAL = 7;

function run(highs, text, options) {
  return highs.withModel({ format: "lp", data: text }, (model) => {
    model.options.set({ output_flag: false, ...options });
    model.run();
    const status = model.getModelStatus();
    return status === STATUS_OPTIMAL
      ? { state: "optimal", value: model.getObjectiveValue() }
      : { state: `status ${status}`, value: Infinity };
  });
}

export const load = () => loadHighs();

// One run as HiGHS is set itself, but for the gaps.
export const once = (highs, text, limit) =>
  run(highs, text, { mip_rel_gap: 0, mip_abs_gap: 1e-9, time_limit: limit });

// The optimum: with presolve and without, and the better answer counts.  HiGHS 1.15.3 loses the
// optimum of some of these models one way or the other (with presolve it calls one infeasible that
// has a point which breaks no row by anything).  `limit`: seconds for each.
export function solve(highs, text, limit) {
  const options = { mip_rel_gap: 0, mip_abs_gap: 1e-9, time_limit: limit };
  const [one, other] = ["on", "off"].map((presolve) => run(highs, text, { ...options, presolve }));
  return other.value < one.value ? other : one;
}

// The model with every binary fixed at the whole number nearest to its value in `values` (a Map;
// those that are not in it are 0), as a linear program.
export function fix(text, values) {
  const binaries = new Set();
  let section = "";
  for (const line of text.split("\n")) {
    if (/^[A-Z][a-z]+( To)?$/.test(line)) section = line;
    else if (section === "Generals" && line.trim() !== "") binaries.add(line.trim());
  }
  section = "";
  return text
    .split("\n")
    .flatMap((line) => {
      if (/^[A-Z][a-z]+( To)?$/.test(line)) section = line;
      if (section === "Generals") return [];
      const bound = section === "Bounds" && line.match(/^ \S+ <= (\S+) <= \S+$/);
      if (!bound || !binaries.has(bound[1])) return [line];
      return [` ${bound[1]} = ${(values.get(bound[1]) ?? 0) > 0.5 ? 1 : 0}`];
    })
    .join("\n");
}

// What is left of a model with its binaries fixed, to the last digit that a simplex gives.
export function solveFixed(highs, text, values) {
  return run(highs, fix(text, values), { presolve: "off" });
}
