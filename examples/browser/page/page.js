"use strict";

// The visit, its parts on the page, what the library says of it, and its file.

// FIRST are the fields that most visits need; the others stand behind a line.
const FIRST = {
  visit: ["date", "coach", "odometer", "load_state", "stood", "air_temperature", "gauge_tolerance", "gauge_step", "nothing_since_set", "last_set_on", "last_set_air"],
  axle: ["fitment", "gawr", "placard"],
  tire: ["found", "read_at", "tread", "seen", "number", "left"],
  every: ["size", "load_range", "service", "class", "construction", "single", "dual", "wheel", "last_set", "sidewalls"],
  weighing: ["scale", "division", "as_driven", "level", "ride_height", "levelers_up", "slides_in", "readings"],
  reading: ["load", "on"],
};
// A list's entries in the paths of problems: the key that names one, what it is
// called without, and what stands before.
const ENTRIES = {
  tires: ["at", "tire", ""], axles: ["id", "axle", ""], readings: ["name", "reading", "weighing."], unhitched: ["name", "reading", "unhitched."],
  stations: ["name", "station", "trip."], items: ["name", "item", "trip."], changes: ["name", "change", "trip."], done: ["at", "entry", "done."], declined: ["at", "entry", "declined."],
};

let doc;         // the visit as typed
let tables = []; // load and inflation tables: name and text
let shown = 0;   // the tire that is open
let wheels = []; // of this coach, as the library names them
let problems = [];
let sections = {};

const byId = (id) => document.getElementById(id);
const at = (path) => path.reduce((value, key) => value?.[key], doc);

function put(path, value) {
  const last = path.at(-1);
  const into = path.slice(0, -1).reduce((value, key, i) => value[key] ??= typeof path[i + 1] === "number" ? [] : {}, doc);
  if (value === "" || Array.isArray(value) && !value.length && last !== "seen") delete into[last];
  else into[last] = value;
  changed(path);
}

// ask asks the library; what it answers are texts, never markup.
const ask = (what, text) => JSON.parse(askLibrary(what, text, columns()));

function columns() {
  const probe = make("span", {}, "0".repeat(40));
  byId("text").append(probe);
  const wide = probe.getBoundingClientRect().width / 40;
  probe.remove();
  return Math.min(100, Math.max(40, Math.floor(byId("result").clientWidth / (wide || 10)) - 1));
}

// written is the visit as a file has it: without what is empty. Something was found
// and not yet named: then nobody has seen yet, whatever all tires say.
function written() {
  const full = (value) => {
    if (Array.isArray(value)) return value.map(full).filter((one) => one !== undefined && one !== "");
    if (typeof value !== "object") return value;
    const out = Object.entries(value).map(([key, one]) => [key, key === "seen" && Array.isArray(one) && !one.length ? NOT_READ : full(one)]).filter(([, one]) => one !== undefined && one !== "" && !(Array.isArray(one) && !one.length));
    return out.length ? Object.fromEntries(out) : undefined;
  };
  const out = full(doc);
  for (const one of [...out.weighing?.readings ?? [], ...out.weighing?.unhitched ?? []]) one.load ??= NOT_READ;
  return JSON.stringify(out);
}

const blank = () => ({
  visit: "1", date: new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10), units: "us",
  axles: [{ id: "steer", fitment: "single" }, { id: "drive", fitment: "dual" }], tires: [],
});

// asTyped turns what the library gives into texts.
function asTyped(value, key) {
  if (Array.isArray(value)) return key === "seen" && !value.length ? "nothing" : value.map((one) => asTyped(one));
  if (value && typeof value === "object") return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, asTyped(one, key)]));
  if (value === null) return "";
  return value === true ? "yes" : value === false ? "no" : String(value);
}

function keep() {
  try {
    localStorage.setItem("visit", JSON.stringify({ doc, tables, shown }));
  } catch (err) {
    say("This browser keeps nothing: save the file before you leave. " + err.message);
  }
}

const say = (text) => { byId("said").textContent = text; };

// changed takes note of a value: kept, judged, and shown where else it stands.
function changed(path) {
  keep();
  if (path[0] === "axles" && ["id", "fitment", "towed"].includes(path[2])) layOut();
  if (path[0] === "units" || path[0] === "pressure_unit") drawAll("axles");
  if (path[0] === "tires") {
    drawPlan();
    if (path[2] === "found") byId("lap").contains(document.activeElement) ? showTire(shown) : drawLap();
  }
  judge();
}

let later, spoken;

function judge() {
  const answer = ask("verdict", written());
  const verdict = answer.answer;
  problems = answer.problems ?? [];
  const head = verdict?.head ?? answer.wrong ?? "NOT JUDGED: " + (problems.length + (answer.more ?? 0)) + (problems.length === 1 ? " entry" : " entries") + " to fix";
  for (const id of ["head", "bar"]) if (byId(id).textContent !== head) byId(id).textContent = head;
  byId("head").classList.toggle("stops", /^(must not|not at)/.test(verdict?.drive ?? ""));
  const lines = verdict?.text.split("\n") ?? [];
  for (let told = ""; lines.length && told.length < head.length;) told += (told ? " " : "") + lines.shift(); // the head again
  byId("text").textContent = lines.join("\n");
  showProblems();
  clearTimeout(later);
  later = setTimeout(() => {
    if (spoken !== head) byId("live").textContent = spoken = head; // once the keys rest
    drawPages(verdict);
  }, 600);
}

let address;

function drawPages(verdict) {
  if (byId("whole").open) byId("report").textContent = verdict ? ask("report", written()).answer : "";
  if (!byId("paper").open) return;
  const page = verdict ? ask("sheet", written()).answer : "";
  byId("sheet").srcdoc = page;
  URL.revokeObjectURL(address);
  byId("print").href = address = URL.createObjectURL(new Blob([page], { type: "text/html" }));
}

// nameOf gives a field's path as problems have it.
function nameOf(path) {
  const i = path.findIndex((key) => typeof key === "number");
  if (i < 0) return path.join(".");
  const [key, word, before] = ENTRIES[path[i - 1]];
  const entry = at(path.slice(0, i + 1)) ?? {};
  const name = entry[key] || word === "reading" && [].concat(entry.on ?? []).join(" and ") || word + " " + (path[i] + 1);
  return [before + name, ...path.slice(i + 1)].join(".");
}

function showProblems() {
  for (const wrong of document.querySelectorAll(".wrong:not(:empty)")) {
    wrong.textContent = "";
    for (const input of wrong.parentNode.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  }
  byId("problems").replaceChildren(...problems.map((problem) => {
    const where = make("button", { type: "button" }, (problem.path ? problem.path + ": " : "") + (problem.text ?? problem.code));
    where.addEventListener("click", () => goTo(problem));
    return make("li", {}, where);
  }));
  for (const key of byId("plan").children) key.bad?.();
  if (!problems.length) return;
  const here = drawn();
  for (const problem of problems) {
    for (const field of nearest(here, problem)) {
      const wrong = field.querySelector(":scope > .wrong");
      wrong.textContent += (wrong.textContent ? "; " : "") + problem.text;
      for (const input of field.querySelectorAll("input, select, textarea")) input.ariaInvalid = "true";
    }
  }
}

// drawn are the fields on the page by the paths that problems have.
function drawn() {
  const out = new Map();
  for (const field of document.querySelectorAll(".field[id]")) {
    const name = nameOf(field.path);
    out.set(name, [...out.get(name) ?? [], field]);
  }
  return out;
}

// nearest are the fields that a problem is about, or those that it is in.
function nearest(here, problem) {
  for (let path = problem.path ?? ""; path; path = path.slice(0, Math.max(0, path.lastIndexOf(".")))) {
    if (here.has(path)) return here.get(path);
  }
  return [];
}

function goTo(problem) {
  const i = doc.tires.findIndex((tire) => problem.path?.startsWith(tire.at + "."));
  if (i >= 0) showTire(i);
  const find = () => nearest(drawn(), problem).at(-1);
  if (!find()) for (const line of document.querySelectorAll("#form details")) line.fill?.();
  showProblems();
  const field = find();
  for (let node = field; node; node = node.parentElement) if (node.tagName === "DETAILS") node.open = true;
  field?.querySelector("input:not(:disabled), select, textarea")?.focus();
}

// The coach: axles, their ends, and the tires as they are walked around.

const towedAxle = (name) => doc.axles.some((axle) => axle.towed === "yes" && (name.startsWith(axle.id + "-")));
const everyFor = (i) => towedAxle(doc.tires[i].at ?? "") ? "every_towed_tire" : "every_tire";
const spares = () => doc.tires.filter((tire) => /^spare(-\d)?$/.test(tire.at));

const endNames = () => doc.axles.flatMap((axle) => [axle.id + "-left", axle.id + "-right"]);

function placesFor(key) {
  const axles = doc.axles.map((axle) => axle.id);
  const ends = endNames();
  const all = wheels.map((wheel) => wheel.Name);
  if (key === "raised") return axles;
  if (key === "on") return [...ends, ...all.filter((name) => !ends.includes(name)), ...axles, "left", "right", "coach", ...(doc.axles.some((axle) => axle.towed === "yes") ? ["towed", "all"] : [])];
  if (key === "wheel_fits") return ["steer", "drive", "tag", "inner", "outer", "alone", ...axles, ...all];
  return [...all, ...spares().map((tire) => tire.at)];
}

// layOut gives every place of the coach its tire. What was typed of a place that is
// gone stays, and is named wrong, until it is taken away.
function layOut() {
  const axles = doc.axles.map(({ id, fitment, towed }) => ({ id, fitment, ...(towed ? { towed } : {}) }));
  const answer = ask("places", JSON.stringify({ visit: 1, date: "2000-01-01", axles })).answer;
  if (answer) wheels = answer.Wheels;
  const names = wheels.map((wheel) => wheel.Name);
  const open = doc.tires[shown]?.at;
  const known = (tire) => names.includes(tire.at) || spares().includes(tire);
  doc.tires = doc.tires.filter((tire) => known(tire) || Object.keys(tire).length > 1);
  for (const name of names) if (!doc.tires.some((tire) => tire.at === name)) doc.tires.push({ at: name });
  const order = [...names, ...spares().map((tire) => tire.at)];
  doc.tires.sort((a, b) => (order.indexOf(a.at) + 1 || 99) - (order.indexOf(b.at) + 1 || 99));
  drawLap();
  showTire(Math.max(0, doc.tires.findIndex((tire) => tire.at === open)));
}

// walk is the order of one lap: down the left side, up the right, then the spares.
function walk() {
  const left = wheels.filter((wheel) => wheel.Side === "left");
  const right = wheels.filter((wheel) => wheel.Side === "right").reverse();
  const lap = [...left, ...right].map((wheel) => wheel.Name);
  return [...lap, ...doc.tires.map((tire) => tire.at).filter((name) => !lap.includes(name))];
}

function drawPlan() {
  const lap = walk();
  const key = (name) => {
    const i = doc.tires.findIndex((tire) => tire.at === name);
    const number = lap.indexOf(name) + 1;
    const out = make("button", { type: "button", ariaCurrent: i === shown ? "true" : null }, make("b", {}, String(number)), make("span", { className: "unseen" }, " " + name + ", found "),
      make("span", {}, doc.tires[i].found ?? "–"));
    out.bad = () => out.classList.toggle("bad", problems.some((problem) => problem.path?.startsWith(name + ".")));
    out.bad();
    out.addEventListener("click", () => { showTire(i); byId("tire").querySelector("h3").focus(); });
    return out;
  };
  const cells = doc.axles.flatMap((_, axle) => {
    const here = wheels.filter((wheel) => wheel.Axle === axle);
    return here.length === 2 ? [key(here[0].Name), make("span"), make("span"), key(here[1].Name)] : here.map((wheel) => key(wheel.Name));
  });
  const rest = lap.slice(wheels.length).map(key);
  byId("plan")?.replaceChildren(make("p", {}, "FRONT"), ...cells, ...(rest.length ? [make("p", {}, "Spares"), ...rest] : []));
}

// drawLap draws one line a tire, as it is walked.
function drawLap() {
  const found = fields.tire.find((field) => field.key === "found");
  byId("lap").replaceChildren(...walk().map((name, n) => control({ ...found, label: n + 1 + ": " + name, meaning: "" }, ["tires", doc.tires.findIndex((tire) => tire.at === name), "found"])));
}

function showTire(i) {
  shown = i;
  const box = byId("tire");
  if (!box) return;
  const tire = doc.tires[i];
  const lap = walk();
  const number = lap.indexOf(tire.at);
  const step = (by, label) => {
    const name = lap[(number + by + lap.length) % lap.length];
    const out = make("button", { type: "button" }, label + ": " + name);
    out.addEventListener("click", () => { showTire(doc.tires.findIndex((one) => one.at === name)); byId("tire").querySelector("h3").focus(); });
    return out;
  };
  box.replaceChildren(make("h3", { tabIndex: -1 }, number + 1 + ": " + tire.at), ...part("tire", ["tires", i], (field) => field.key !== "at"), copyKeys(i),
    make("div", { className: "keys" }, step(-1, "Back"), step(1, "Next")), ...(lap.includes(tire.at) && (wheels.some((wheel) => wheel.Name === tire.at) || spares().includes(tire)) ? [] : [takeAway(i)]));
  drawPlan();
  keep();
}

// copyKeys copies what is stamped into what is still empty: never what was read,
// asked or done, which may be better than what is so of this tire.
function copyKeys(i) {
  const name = doc.tires[i].at;
  const mate = name.replace(/-(inner|outer)$/, (end) => end === "-inner" ? "-outer" : "-inner");
  const across = name.replace(/-(left|right)/, (side) => side === "-left" ? "-right" : "-left");
  const from = make("select", { ariaLabel: "Copy from which tire" }, ...doc.tires.filter((_, j) => j !== i)
    .map((tire) => make("option", { value: tire.at, selected: tire.at === (mate === name ? across : mate) }, tire.at === mate ? "its mate, " + tire.at : tire.at)));
  const key = make("button", { type: "button" }, "Copy stamps and last set from");
  key.addEventListener("click", () => {
    const source = doc.tires.find((tire) => tire.at === from.value);
    const copied = fields.tire.filter((field) => field.shared && (field.stays || field.key === "last_set") && !["date", "yes or no"].includes(field.kind) && source?.[field.key] && !doc.tires[i][field.key]);
    for (const field of copied) doc.tires[i][field.key] = structuredClone(source[field.key]);
    showTire(i);
    judge();
    byId("live").textContent = copied.length + " copied from " + from.value;
    byId("tire").querySelector("h3").focus();
  });
  return make("div", { className: "entry" }, key, from);
}

function takeAway(i) {
  const out = make("button", { type: "button" }, "Remove: not a place on this coach");
  out.addEventListener("click", () => { doc.tires.splice(i, 1); layOut(); judge(); });
  return out;
}

// The parts of the page.

function axleKeys() {
  const add = (label, id, axle, end) => {
    const out = make("button", { type: "button" }, label);
    out.addEventListener("click", () => {
      const taken = doc.axles.map((one) => one.id);
      const name = [id, ...Array.from({ length: 8 }, (_, n) => id + "-" + (n + 2))].find((one) => !taken.includes(one));
      const behind = doc.axles.findIndex((one) => one.towed === "yes");
      doc.axles.splice(end || behind < 0 ? doc.axles.length : behind, 0, { id: name, ...axle });
      drawAll("axles");
      judge();
    });
    return out;
  };
  const number = make("select", { id: "spares" }, ...Array.from({ length: 10 }, (_, n) => make("option", { selected: n === spares().length }, String(n))));
  number.addEventListener("input", () => {
    const names = ["spare", ...Array.from({ length: 8 }, (_, n) => "spare-" + (n + 2))].slice(0, Number(number.value));
    doc.tires = doc.tires.filter((tire) => !spares().includes(tire) || names.includes(tire.at) || Object.keys(tire).length > 1);
    for (const name of names) if (!doc.tires.some((tire) => tire.at === name)) doc.tires.push({ at: name });
    number.value = spares().length;
    layOut();
    changed([]);
  });
  return [make("div", { className: "keys" }, add("Add an axle with duals", "drive", { fitment: "dual" }), add("Add a tag axle", "tag", { fitment: "single" }), add("Add a towed axle", "towed-1", { fitment: "single", towed: "yes" }, true)),
    make("div", { className: "field" }, make("label", { htmlFor: "spares" }, "spares"), number)];
}

function axles() {
  const units = fields.visit.filter((field) => ["units", "pressure_unit"].includes(field.key));
  return [make("div", { className: "fields" }, ...units.map((field) => control({ ...field, needed: field.key === "units" }, [field.key]))),
    ...doc.axles.map((axle, i) => {
      const away = make("button", { type: "button" }, "Remove this axle");
      away.addEventListener("click", () => { doc.axles.splice(i, 1); drawAll("axles"); judge(); });
      return make("fieldset", {}, make("legend", {}, i + 1 + ": " + axle.id + (axle.towed === "yes" ? ", towed" : "")), ...part("axle", ["axles", i]), ...(doc.axles.length > 1 ? [away] : []));
    }), ...axleKeys()];
}

const single = (field) => !fields[field.kind] && !["visit", "units", "pressure_unit"].includes(field.key);
const named = (key) => control(fields.visit.find((field) => field.key === key), [key]);
const share = (key) => part("tire", [key], (field) => field.shared, FIRST.every);
const PARTS = {
  axles: ["Axles, spares, units", axles],
  coach: ["Coach and day", () => [...part("visit", [], single), ...["ratings", "names"].map(named)]],
  shared: ["What all tires share", () => [...share("every_tire"),
    ...(doc.axles.some((axle) => axle.towed === "yes") ? [make("fieldset", {}, make("legend", {}, "all towed tires"), ...share("every_towed_tire"))] : [])]],
  lap: ["Cold pressures, in one lap", () => [make("p", {}, "Cold, before the coach is moved. Valve not reached, read through an extension, or warm: say so under the tire."), make("div", { id: "lap", className: "fields" })]],
  tires: ["Tire by tire", () => [make("div", { id: "plan", className: "plan", role: "group", ariaLabel: "Tires from above" }), make("div", { id: "tire" })]],
  scale: ["Scale", () => [make("div", { className: "fields" }, control({ ...fields.visit.find((field) => field.key === "weighing"), label: "weighed" }, ["weighing"]))]],
  rest: ["Towing, trip, what was done", () => [make("div", { className: "fields" }, ...["towing", "trip", "done", "declined"].map((key) => behind(fields.visit.find((field) => field.key === key).label, () => [named(key)])))]],
};

// drawAll draws every part anew, and leaves open what was.
function drawAll(focus) {
  const open = Object.entries(sections).filter(([, box]) => box.open).map(([key]) => key);
  sections = Object.fromEntries(Object.entries(PARTS).map(([key, [title, draw]], i) => [key, make("details", { id: "part-" + key, open: sections[key] ? open.includes(key) : i === 0 },
    make("summary", {}, make("h2", {}, i + 1 + " " + title)), ...draw())]));
  byId("form").replaceChildren(...Object.values(sections));
  layOut();
  if (focus) sections[focus].querySelector("summary").focus();
}

// Files.

function save() {
  const answer = ask("file", written());
  const whole = answer.answer !== undefined;
  const link = make("a", { href: URL.createObjectURL(new Blob([whole ? answer.answer : JSON.stringify(JSON.parse(written()), null, 1)])), download: "visit-" + doc.date + (whole ? ".yaml" : "-unfinished.json") });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  say(whole ? "Saved as " + link.download + "." : "Saved as it is, with entries still to fix: " + link.download + ".");
}

function open(name, text) {
  const answer = ask("open", text);
  if (answer.answer?.table) {
    tables.push({ name: answer.answer.table, text });
    say("Table taken: " + answer.answer.table + ".");
    showTables();
  } else {
    let found = answer.answer?.visit;
    try { found ??= JSON.parse(text); } catch { /* then it is no unfinished visit either */ }
    if (!Array.isArray(found?.axles)) {
      say(name + " cannot be read. " + (answer.wrong ?? answer.problems.map((one) => "Line " + one.line + ": " + (one.path ?? "") + " " + one.text).join(" / ")));
      return;
    }
    const before = doc;
    try {
      take(asTyped(found));
    } catch {
      take(before);
      say(name + " is no visit that this page can show.");
      return;
    }
    say(name + " is open.");
  }
  keep();
  judge();
}

function showTables() {
  const away = make("button", { type: "button" }, "Take the tables away");
  away.addEventListener("click", () => { tables = []; keep(); location.reload(); }); // the library forgets them
  byId("tables").replaceChildren(...(tables.length ? [make("span", {}, "Load and inflation tables: " + tables.map((table) => table.name).join(", ") + "."), away] : []));
}

function take(visit) {
  doc = { ...visit, tires: Array.isArray(visit.tires) ? visit.tires : [] };
  doc.units ??= "us";
  shown = 0;
  say("");
  drawAll();
}

byId("form").addEventListener("submit", (event) => event.preventDefault());
byId("form").addEventListener("keydown", (event) => { // the key of a phone that says next
  if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
  const all = [...byId("form").querySelectorAll("input, select, textarea")].filter((one) => one.offsetParent && !one.disabled);
  all[all.indexOf(event.target) + 1]?.focus();
});
byId("open").addEventListener("change", async (event) => {
  for (const file of event.target.files) open(file.name, await file.text());
  event.target.value = "";
});
byId("save").addEventListener("click", save);
byId("next").addEventListener("click", () => {
  const answer = ask("next", written());
  if (!answer.answer) return say("First fix what is wrong.");
  if (confirm("Start the next visit? What was read in this one is lost unless you saved it.")) judge(take({ ...asTyped(answer.answer), date: blank().date }));
});
byId("new").addEventListener("click", () => {
  if (confirm("Start a new visit? This one is lost unless you saved it.")) judge(take(blank()));
});
for (const id of ["whole", "paper"]) byId(id).addEventListener("toggle", judge);
addEventListener("storage", (event) => {
  if (event.key === "visit") say("The page is open twice: only what is typed last stays in this browser.");
});
addEventListener("resize", () => { if (doc) judge(); });

// Called by the library once it can be asked.
globalThis.libraryReady = () => {
  for (const field of ask("fields", "").answer) (fields[field.part] ??= []).push(field);
  let kept;
  try { kept = JSON.parse(localStorage.getItem("visit")); } catch { /* nothing kept */ }
  tables = kept?.tables ?? [];
  for (const table of tables) ask("open", table.text);
  showTables();
  try { take(kept?.doc ?? blank()); } catch { take(blank()); }
  if (doc.tires[kept?.shown]) showTire(kept.shown);
  document.body.classList.add("ready");
  setTimeout(judge); // the rules take a while to load, and the form is there
  if ("serviceWorker" in navigator) navigator.serviceWorker.register("offline.js").catch((err) => say("Without a network this page will not load: " + err.message));
  else say("This address is not https: without a network this page will not load.");
};

const go = new Go();
fetch("library.packed")
  .then((packed) => WebAssembly.instantiateStreaming(new Response(packed.body.pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": "application/wasm" } }), go.importObject))
  .then((library) => go.run(library.instance))
  .catch((err) => { for (const id of ["wait", "head", "bar"]) if (byId(id)) byId(id).textContent = "The library did not load: " + err.message; });
