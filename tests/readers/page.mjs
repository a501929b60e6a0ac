// Reads what was written for a browser:  node page.mjs BROWSER FOLDER...
//
// Each folder is one that `ruddle layout --out FOLDER` wrote.  Its drawing.svg is opened, and its
// sheet.html is driven as on a phone held upright, 390 x 844: the first two in every way, which takes
// a few seconds each, the others for what depends on the roof, the rules of accessibility among that.
// Anything amiss is told and ends this with 1; 77 where the browser cannot be started.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";

import { chromium } from "playwright-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const [executablePath, ...folders] = process.argv.slice(2);
const viewport = { width: 390, height: 844 };

let browser;
try {
  browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
} catch (error) {
  console.log(`SKIPPED: ${executablePath} does not start: ${String(error).split("\n")[0]}`);
  process.exit(77);
}

// A page of its own, offline: whatever it asks for beyond its own file is kept in `asked`.
async function open(file, options = {}) {
  const context = await browser.newContext({ viewport, offline: true, ...options });
  const page = await context.newPage();
  const seen = { asked: [], wrong: [] };
  page.on("request", (request) => seen.asked.push(request.url()));
  page.on("pageerror", (error) => seen.wrong.push(error.message));
  page.on("console", (message) => seen.wrong.push(message.text()));
  const address = pathToFileURL(file).href;
  await page.goto(address);
  return { context, page, seen, address };
}

async function holdWidth(page, where) {
  const [wide, shown] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    window.innerWidth,
  ]);
  assert.ok(wide <= shown, `${where}: the page is ${wide} wide on a screen of ${shown}`);
}

// Every rule of accessibility that axe knows, those of contrast and labels among them; or one.
async function holdRules(page, where, only) {
  await page.evaluate(axe);
  const found = await page.evaluate(async (rule) => {
    const { violations } = await window.axe.run(document, rule ? { runOnly: [rule] } : {});
    return violations.map(
      ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ html }) => html)[0]}`,
    );
  }, only);
  assert.deepEqual(found, [], where);
}

// No target smaller than a thumb: 44 points, as common practice has it (no source).
async function holdTargets(page, where) {
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("a, button, label")]
      .filter((target) => target.offsetParent !== null)
      .filter((target) => target.getBoundingClientRect().height < 44)
      .map((target) => target.outerHTML.slice(0, 80)),
  );
  assert.deepEqual(small, [], where);
}

// What axe and the comparisons are worth: a page that is wrong in every way must be found so.
async function comparisonsCanFail() {
  const context = await browser.newContext({ viewport, offline: true });
  const page = await context.newPage();
  await page.setContent(
    '<body><p style="color:#ccc">faint</p><input><a href="#x">x</a><div style="width:900px">x',
  );
  await assert.rejects(holdWidth(page, "trial"));
  await assert.rejects(holdRules(page, "trial"));
  await assert.rejects(holdTargets(page, "trial"));
  await context.close();
}

// Ticks, a choice and a written name are there again when the page is opened again.
async function ticksSurvive(page, address) {
  const boxes = await page.locator("main input[type=checkbox]").count();
  for (const at of [0, Math.floor(boxes / 2), boxes - 1]) {
    await page.locator("main input[type=checkbox]").nth(at).check();
  }
  const radio = page.locator("main input[type=radio]").first();
  const works = (await radio.count()) > 0;
  if (works) {
    await radio.check();
    await page.locator("main input[type=text]").last().fill("Monday <b>&");
  }
  const state = () =>
    page.evaluate(() =>
      [...document.querySelectorAll("main input")].map((input) =>
        input.type === "text" ? input.value : input.checked,
      ),
    );
  const before = await state();
  assert.equal(before.filter((value) => value === true).length, works ? 4 : 3);
  await page.reload();
  assert.deepEqual(await state(), before);
  assert.match(await page.locator("#count").innerText(), new RegExp(`^3 of ${boxes} boxes ticked$`));
  await page.goto("about:blank");
  await page.goto(address);
  assert.deepEqual(await state(), before);
  await page.click("#clear");
  assert.deepEqual(await state(), before, "one press clears nothing");
  await page.click("#clear");
  await page.reload();
  assert.deepEqual((await state()).filter(Boolean), []);
}

// One place at a time, from the first to the last: the first few from the keyboard alone.
async function walk(page, where) {
  await page.locator("#one").focus();
  await page.keyboard.press("Enter");
  const items = await page.locator("main .item").count();
  for (let at = 1; at <= 3; at++) {
    assert.equal(await page.locator("#where").innerText(), `${at} of ${items}`);
    await page.locator("#next").focus();
    await page.keyboard.press("Space");
  }
  const wrong = await page.evaluate((last) => {
    const said = [];
    const next = document.getElementById("next");
    for (let at = 4; at <= last; at++) {
      const shown = [...document.querySelectorAll("main .item")].filter(
        (item) => item.offsetParent !== null,
      );
      const root = document.documentElement;
      if (shown.length !== 1 || document.getElementById("where").innerText !== `${at} of ${last}`) {
        said.push(`place ${at}: ${shown.length} are shown`);
      }
      if (root.scrollWidth > window.innerWidth) {
        said.push(`place ${at}: ${root.scrollWidth} wide`);
      }
      next.click();
    }
    return next.disabled ? said : [...said, "it goes on behind the last"];
  }, items);
  assert.deepEqual(wrong, [], where);
  await page.locator("#all").focus();
  await page.keyboard.press("Enter");
  assert.equal(await page.locator("main .item:visible").count(), items);
}

// The button of a hole brings that very hole to the middle of the drawing.
async function findHoles(page, where) {
  const ways = page.locator(".way");
  for (let at = 0; at < (await ways.count()); at++) {
    const number = await ways.nth(at).getAttribute("data-hole");
    await ways.nth(at).click();
    const off = await page.evaluate((hole) => {
      const scroll = document.getElementById("scroll").getBoundingClientRect();
      const sign = document.querySelector(`#hole-${hole} circle`).getBoundingClientRect();
      return {
        right: sign.left >= scroll.left && sign.right <= scroll.right,
        high: sign.top >= scroll.top && sign.bottom <= scroll.bottom,
        size: sign.width,
      };
    }, number);
    assert.ok(off.right && off.high && off.size > 8, `${where}: hole ${number} is not in sight`);
    await page.click("#again");
  }
}

// Every reading that the text sheet gives stands on the page.
async function holdReadings(page, folder) {
  const text = (await page.evaluate(() => document.body.textContent)).replace(/\s+/g, " ");
  const sheet = readFileSync(join(folder, "sheet.txt"), "utf8");
  const readings = sheet.match(/\d+' \d+(-\d+\/\d+)?" \(\d+(-\d+\/\d+)?\)|\d+ mm/g) ?? [];
  assert.ok(readings.length > 10, `${folder}: only ${readings.length} readings on its sheet`);
  for (const reading of readings) {
    assert.ok(text.includes(reading), `${folder}: not on the page: ${reading}`);
  }
}

// The drawing is XML, and each hole of the result lies at its place on it, to 0.01 in on the roof.
async function holdDrawing(folder) {
  const result = JSON.parse(readFileSync(join(folder, "layout.json"), "utf8"));
  const unit = result.measure === "mm" ? 25.4 : 1;
  const alone = await open(join(folder, "drawing.svg"));
  assert.equal(await alone.page.evaluate(() => document.documentElement.localName), "svg");
  assert.ok((await alone.page.evaluate(() => document.querySelectorAll("path").length)) > 50);
  await alone.context.close();
  const { context, page } = await open(join(folder, "sheet.html"));
  const drawn = await page.evaluate(() => {
    const root = document.querySelector("#scroll svg");
    const places = {};
    for (const hole of root.querySelectorAll("g[id^=hole-]")) {
      const circle = hole.querySelector("circle");
      const name = hole.querySelector("title").textContent.replace(/^\d+: /, "");
      places[name] = ["cx", "cy"].map((axis) => Number(circle.getAttribute(axis)));
    }
    const { scale, zero, way } = root.dataset;
    return { name: root.localName, scale: Number(scale), zero, way: Number(way), places };
  });
  await context.close();
  assert.equal(drawn.name, "svg");
  assert.equal(drawn.way, result.corner === "left" ? 1 : -1);
  const zero = drawn.zero.split(" ").map(Number);
  assert.deepEqual(Object.keys(drawn.places).sort(), result.marks.map(({ id }) => id).sort());
  for (const { id, x, y } of result.marks) {
    const [cx, cy] = drawn.places[id];
    const off = [
      ((cx - zero[0]) / drawn.scale) * drawn.way - x / unit,
      (zero[1] - cy) / drawn.scale - y / unit,
    ];
    assert.ok(Math.abs(off[0]) <= 0.01 && Math.abs(off[1]) <= 0.01, `${folder}: ${id}: ${off}`);
  }
}

function holdAlone(seen, address) {
  assert.deepEqual(seen.wrong, []);
  const others = seen.asked.filter((url) => url !== address && url !== "about:blank");
  assert.deepEqual(others, [], "asked for something beyond its own file");
}

// Without scripts everything is there, and no button that would do nothing.
async function holdBare(file) {
  const { context, page } = await open(file, { javaScriptEnabled: false });
  assert.equal(await page.locator("button:visible").count(), 0);
  assert.equal(
    await page.locator("main .item:visible").count(),
    await page.locator("main .item").count(),
  );
  await context.close();
}

async function drive(folder, whole) {
  const where = basename(folder);
  const file = join(folder, "sheet.html");
  const { context, page, seen, address } = await open(file);
  await holdWidth(page, where);
  await holdTargets(page, where);
  await holdReadings(page, folder);
  await walk(page, where);
  if (whole) {
    await ticksSurvive(page, address);
    await findHoles(page, where);
  }
  holdAlone(seen, address); // before the rules bring words of their own
  await holdRules(page, `${where}, light`);
  await page.emulateMedia({ colorScheme: "dark" });
  await holdRules(page, `${where}, dark`, "color-contrast");
  await page.click("#one");
  await holdRules(page, `${where}, one at a time`);
  if (whole) {
    await holdBare(file);
  }
  await context.close();
}

try {
  await comparisonsCanFail();
  for (const [at, folder] of folders.entries()) {
    await holdDrawing(folder);
    await drive(folder, at < 2);
  }
  console.log(`pages: ${folders.length} driven`);
} finally {
  await browser.close();
}
