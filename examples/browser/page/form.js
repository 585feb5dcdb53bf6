"use strict";

// Controls for the fields of a visit, drawn from how the library describes them.
// page.js holds the visit: at(path) reads it, put(path, value) writes it. Every
// value is a text as in a file, with its unit; "" is what nobody read.

const METRIC = ["kg", "kPa", "mm", "km", "C", "km/h", "N-m", "L"];
const NOT_READ = "not read";
let fields = {}; // by part
let count = 0;   // of ids

function make(tag, props = {}, ...kids) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (key in node) node[key] = value;
    else node.setAttribute(key, value);
  }
  node.append(...kids.filter((kid) => kid !== undefined && kid !== null));
  return node;
}

// unitOf gives the unit that a bare number gets.
function unitOf(field) {
  const units = field.units ?? [];
  if (units.includes("psi")) return doc.pressure_unit || (doc.units === "metric" ? "kPa" : "psi");
  return doc.units === "metric" && units.find((unit) => METRIC.includes(unit)) || units[0] || "";
}

const bare = (text) => /^[-+]?[\d.,/ ]+$/.test(text);

function withUnit(text, unit) {
  text = text.trim();
  if (!unit || !bare(text)) return text;
  if (!unit.startsWith("/")) return text + " " + unit;
  return text.includes("/") ? text + unit.slice(unit.indexOf(" ")) : text + unit;
}

function withoutUnit(text, unit) {
  const end = unit.startsWith("/") ? unit : " " + unit;
  const number = text.slice(0, -end.length);
  return unit && text.endsWith(end) && bare(number) ? number : text;
}

const words = (value) => [].concat(value ?? []).join(", ");

// shared gives what all tires say of a tire's field.
function shared(field, path) {
  return path[0] === "tires" && field.shared ? at([everyFor(path[1]), field.key]) : undefined;
}

// held is what a field says; "not read" is said by itself only over what all say.
const held = (field, path) => at(path) === NOT_READ && !shared(field, path) ? "" : at(path) ?? "";

function empty(field, path) {
  const all = words(shared(field, path));
  return all ? "as all: " + all : field.unread ? NOT_READ : "not said";
}

// frame puts a control under its label, with a line on what it is and one on what
// is wrong with it. several says that the control is a group.
function frame(field, path, several, ...kids) {
  const id = "f" + ++count;
  const all = several ? "" : words(shared(field, path));
  const hint = make("p", { className: "hint", id: id + "h" }, field.meaning.replaceAll("`", "") + (all ? "; as all: " + all : ""));
  const wrong = make("p", { className: "wrong", id: id + "w" });
  const out = several
    ? make("fieldset", { className: "field" }, make("legend", {}, field.label), hint, ...kids, wrong)
    : make("div", { className: "field" }, make("label", { htmlFor: id }, field.label), make("div", { className: "entry" }, ...kids), hint, wrong);
  if (several) out.setAttribute("aria-describedby", id + "h " + id + "w");
  else kids[0].id = id;
  for (const input of out.querySelectorAll("input, select, textarea")) {
    if (!several || input.type === "text") input.setAttribute("aria-describedby", id + "h " + id + "w");
    input.autocomplete = "off";
  }
  out.path = path;
  out.id = id + "f";
  return out;
}

// typed is an input line whose text goes where save puts it.
function typed(value, mode, save, label) {
  const input = make("input", { type: "text", inputMode: mode, value: value ?? "", enterKeyHint: "next", spellcheck: false });
  if (label) input.ariaLabel = label;
  input.addEventListener("input", () => save(input.value));
  return input;
}

// said is a key for a word that stands in place of a value.
function said(word, path, ...inputs) {
  const key = make("button", { type: "button" }, word);
  const show = () => {
    const on = at(path) === word;
    key.ariaPressed = on;
    for (const input of inputs) {
      input.disabled = on;
      if (on) input.value = "";
    }
  };
  key.addEventListener("click", () => { put(path, at(path) === word ? "" : word); show(); });
  show();
  return key;
}

function quantity(field, path) {
  const unit = unitOf(field);
  const mode = unit === "/32 in" ? "numeric" : ["temperature", "signed length"].includes(field.kind) ? "text" : "decimal";
  const value = at(path) ?? "";
  const input = typed(value === NOT_READ || value === "none" ? "" : withoutUnit(value, unit), mode, (text) => { put(path, withUnit(text, unit)); show(); });
  const beside = make("span");
  const show = () => { beside.textContent = !input.value || bare(input.value) ? unit : ""; }; // else it is typed with its own
  show();
  return frame(field, path, false, input, beside,
    field.kind === "placard" ? said("none", path, input) : null, shared(field, path) ? said(NOT_READ, path, input) : null);
}

// time has a unit of its own: minutes, hours or days.
function time(field, path) {
  const [number, unit] = /^([\d.,]+) (\w+)$/.exec(at(path) ?? "")?.slice(1) ?? [at(path) ?? "", "h"];
  const pick = make("select", { ariaLabel: field.label + ", unit" }, ...field.units.map((word) => make("option", { selected: word === unit }, word)));
  const input = typed(number, "decimal", save);
  function save() { put(path, withUnit(input.value, pick.value)); }
  pick.addEventListener("input", save);
  return frame(field, path, false, input, pick);
}

function stamp(field, path) {
  const parts = (at(path) ?? "").split(" at ");
  const units = [doc.units === "metric" ? "kg" : "lb", unitOf({ units: ["psi"] })];
  const inputs = [0, 1].map((i) => typed(parts[i] === NOT_READ ? "" : withoutUnit(parts[i] ?? "", units[i]), "decimal",
    () => put(path, inputs.map((input, j) => withUnit(input.value, units[j])).filter(Boolean).join(" at ")), field.label + [", load", ", cold pressure"][i]));
  return frame(field, path, true, make("div", { className: "entry" }, inputs[0], make("span", {}, units[0] + " at"), inputs[1], make("span", {}, units[1]),
    shared(field, path) ? said(NOT_READ, path, ...inputs) : null));
}

function text(field, path) {
  const date = field.kind === "date" && /^(\d{4}-\d\d-\d\d)?$/.test(at(path) ?? "");
  const input = typed(at(path) === NOT_READ ? "" : at(path), field.kind === "number" ? "numeric" : "text", (value) => put(path, value.trim()));
  if (date) input.type = "date";
  return frame(field, path, false, input, shared(field, path) ? said(NOT_READ, path, input) : null);
}

// own has the values of house measures, one a line: since_mounted: 180 mi.
function own(field, path) {
  const input = make("textarea", { rows: 2, value: Object.entries(at(path) ?? {}).map((pair) => pair.join(": ")).join("\n") });
  input.addEventListener("input", () => {
    const pairs = input.value.split("\n").filter((line) => line.trim()).map((line) => [line.split(":")[0].trim(), line.split(":").slice(1).join(":").trim()]);
    put(path, pairs.length ? Object.fromEntries(pairs) : "");
  });
  const out = frame(field, path, false, input);
  out.querySelector("label").append(", one a line: since_mounted: 180 mi");
  return out;
}

function lines(field, path) {
  const input = make("textarea", { rows: 2, value: [].concat(at(path) ?? []).join("\n") });
  input.addEventListener("input", () => put(path, input.value.split("\n").map((line) => line.trim()).filter(Boolean)));
  const out = frame(field, path, false, input);
  out.querySelector("label").append(", one a line");
  return out;
}

// choices are the words that may stand in a field, the first for nothing said.
function choices(field, path) {
  const own = field.kind === "place" ? placesFor(field.key) : field.words;
  const out = field.needed && field.kind !== "place" ? [] : [["", empty(field, path)]];
  out.push(...own.map((word) => [word, word]));
  if (shared(field, path)) out.push([NOT_READ, NOT_READ]);
  const now = held(field, path);
  if (now && !out.some(([word]) => word === now)) out.push([now, now]);
  return out;
}

function pick(type, name, value, label, checked, save) {
  const input = make("input", { type, name, value, checked });
  input.addEventListener("input", () => save(input));
  return make("label", { className: "pick" }, input, make("span", {}, label));
}

function word(field, path) {
  const all = choices(field, path);
  if (all.length <= 5 && all.map(([, label]) => label).join("").length <= 40) {
    const name = "r" + ++count;
    return frame(field, path, true, make("div", { className: "picks" },
      ...all.map(([value, label]) => pick("radio", name, value, label, held(field, path) === value, () => put(path, value)))));
  }
  const select = make("select", {}, ...all.map(([value, label]) => make("option", { value, selected: held(field, path) === value }, label)));
  select.addEventListener("input", () => put(path, select.value));
  return frame(field, path, false, select);
}

// ticks are boxes for a list of words; told hears of a change.
function ticks(options, path, told = () => {}) {
  const now = [].concat(at(path) ?? []);
  return make("div", { className: "picks" }, ...[...new Set([...options, ...now])].filter((value) => value !== "nothing" && value !== NOT_READ)
    .map((value) => pick("checkbox", "", value, value, now.includes(value), (input) => {
      const rest = [].concat(at(path) ?? []).filter((one) => one !== value && one !== "nothing" && one !== NOT_READ);
      put(path, input.checked ? [...rest, value] : rest);
      told();
    })));
}

function several(field, path) {
  const options = field.kind === "key" ? fields[field.part].map((one) => one.key) : placesFor(field.key);
  const summary = make("summary");
  const told = () => { summary.textContent = words(at(path)) || "Choose"; };
  told();
  return frame(field, path, true, make("details", { open: field.needed && !at(path) }, summary, ticks(options, path, told)));
}

function seen(field, path) {
  const name = "r" + ++count;
  const list = ticks(field.words.filter((one) => one !== "nothing"), path);
  list.classList.add("words");
  const few = typed("", "search", (text) => {
    for (const one of list.children) one.hidden = !one.textContent.includes(text.trim().toLowerCase()) && !one.firstChild.checked;
  });
  const boxes = make("div", {}, make("label", {}, "find a word", few), list);
  const found = "something found";
  const now = Array.isArray(at(path)) ? found : held(field, path);
  const all = [["", shared(field, path) ? empty(field, path) : "not looked over"], ["nothing", "looked over, nothing found"], [found, found], ...(shared(field, path) ? [[NOT_READ, NOT_READ]] : [])];
  boxes.hidden = now !== found;
  return frame(field, path, true, make("div", { className: "picks" }, ...all.map(([value, label]) => pick("radio", name, value, label, now === value, () => {
    boxes.hidden = value !== found;
    for (const box of boxes.querySelectorAll("input")) box.checked = false;
    put(path, value === found ? [] : value);
  }))), boxes);
}

// treads takes the depth at three places, or several without a place, typed or by
// a key each.
function treads(field, path) {
  const unit = unitOf(field);
  const show = (value) => {
    const all = [].concat(value ?? []);
    const short = all.map((one) => withoutUnit(one, unit));
    return (short.every(bare) ? short : all).join(", ");
  };
  const read = (text) => { // 9 10 or 9, 10; what 8,5 means the library says
    const all = text.split(bare(text) ? /[,;]? +/ : /[,;] +/).map((one) => withUnit(one, unit)).filter(Boolean);
    return all.length > 1 ? all : all[0] ?? "";
  };
  const value = at(path);
  const placed = value && typeof value === "object" && !Array.isArray(value);
  const places = fields.tread.toReversed(); // outer first: it faces who looks
  const anywhere = typed(placed || value === NOT_READ ? "" : show(value), "numeric", (text) => { put(path, read(text)); take(); }, field.label + ", no place said");
  const inputs = places.map((place) => {
    const input = typed(placed ? show(value[place.key]) : "", "numeric", () => { save(); take(); }, field.label + " " + place.label);
    input.addEventListener("focus", () => turn(inputs.indexOf(input)));
    return input;
  });
  let next = 0;
  function save() {
    const out = {};
    inputs.forEach((input, i) => { if (input.value.trim()) out[places[i].key] = read(input.value); });
    put(path, Object.keys(out).length ? out : "");
  }
  function take() { // one of the two ways
    for (const input of inputs) input.disabled = anywhere.value !== "";
    anywhere.disabled = inputs.some((input) => input.value !== "");
  }
  function turn(i) {
    next = i;
    inputs.forEach((input, j) => input.classList.toggle("turn", j === i));
  }
  const keys = Array.from({ length: 21 }, (_, depth) => {
    const key = make("button", { type: "button", tabIndex: -1, ariaLabel: depth + unit }, String(depth));
    key.addEventListener("click", () => {
      if (inputs[next].disabled) return;
      inputs[next].value = depth;
      save();
      take();
      turn((next + 1) % inputs.length);
    });
    return key;
  });
  take();
  turn(Math.max(0, inputs.findIndex((input) => input.value === "")));
  const out = frame({ ...field, label: field.label + ", " + unit }, path, true,
    make("div", { className: "three" }, ...inputs.map((input, i) => make("label", {}, places[i].label, input))),
    make("div", { className: "depths" }, ...keys), make("label", {}, "or several, no place said", anywhere));
  out.classList.add("wide");
  return out;
}

// listed is a list of mappings, each of which can be taken away.
function listed(field, path) {
  const out = make("fieldset", { className: "wide" }, make("legend", {}, field.label), make("p", { className: "hint" }, field.meaning));
  const draw = (focus) => {
    out.replaceChildren(out.firstChild, out.children[1]);
    (at(path) ?? []).forEach((_, i) => {
      const away = make("button", { type: "button" }, "Remove " + field.label + " " + (i + 1));
      away.addEventListener("click", () => { at(path).splice(i, 1); put(path, at(path)); draw(at(path)?.length ?? 0); });
      out.append(make("fieldset", {}, make("legend", {}, field.label + " " + (i + 1)), ...part(field.kind, [...path, i]), away));
    });
    const key = (label, ...entries) => {
      const out = make("button", { type: "button" }, label);
      out.addEventListener("click", () => {
        const before = (at(path) ?? []).length;
        put(path, [...(at(path) ?? []), ...structuredClone(entries)]);
        draw(before + 1);
      });
      return out;
    };
    const more = key("Add to " + field.label, {});
    out.append(make("div", { className: "keys" }, more,
      ...(field.kind === "reading" && !at(path)?.length ? [key("One for each end", ...endNames().map((on) => ({ on: [on] }))), key("One for each tire", ...wheels.map((wheel) => ({ on: [wheel.Name] })))] : [])));
    if (focus !== undefined) (out.querySelectorAll(":scope > fieldset")[focus - 1]?.querySelector("input, select, textarea") ?? more).focus();
  };
  draw();
  out.redraw = draw;
  return out;
}

// control draws one field.
function control(field, path) {
  if (fields[field.kind]) {
    return field.many ? listed(field, path) : make("fieldset", { className: "wide" }, make("legend", {}, field.label), ...part(field.kind, path));
  }
  switch (field.kind) {
    case "treads": return treads(field, path);
    case "condition": return seen(field, path);
    case "stamp": return stamp(field, path);
    case "time": return time(field, path);
    case "own values": return own(field, path);
    case "place": case "key": if (field.many) return several(field, path);
  }
  if (field.many && !field.units) return lines(field, path);
  if (field.words || field.kind === "place" && field.key !== "id") return word(field, path);
  return field.units ? quantity(field, path) : text(field, path);
}

// part draws the fields of a mapping: the first ones, and the others behind a
// line that opens. only leaves out what it is false of.
function part(name, path, only = () => true, first = FIRST[name]) {
  const all = fields[name].filter(only);
  const front = first ? first.map((key) => all.find((field) => field.key === key)).filter(Boolean) : all;
  const rest = all.filter((field) => !front.includes(field));
  const out = [make("div", { className: "fields" }, ...front.map((field) => control(field, [...path, field.key])))];
  if (rest.length) out.push(behind("More fields", () => rest.map((field) => control(field, [...path, field.key]))));
  return out;
}

// behind is a line that opens, and draws what is in it then.
function behind(title, draw) {
  const body = make("div", { className: "fields" });
  const out = make("details", {}, make("summary", {}, title), body);
  out.fill = () => { if (!body.firstChild) body.append(...draw()); };
  out.addEventListener("toggle", out.fill);
  return out;
}
