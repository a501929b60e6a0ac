// One solve by HiGHS with its own settings: node solve.mjs MODEL.lp SECONDS prints "proved VALUE", or
// nothing where it did not prove its optimum in time.
import { readFileSync } from "node:fs";
import { load, once } from "./highs.mjs";

const [path, limit] = process.argv.slice(2);
const { state, value } = once(await load(), readFileSync(path, "utf8"), Number(limit));
if (state === "optimal") console.log(`proved ${value.toFixed(9)}`);
