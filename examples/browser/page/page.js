"use strict";

const at = (id) => document.getElementById(id);

// Called by the library once it can be asked.
globalThis.libraryReady = () => {
  at("judge").disabled = false;
  at("judge").textContent = "Judge it";
};

at("form").addEventListener("submit", (event) => {
  event.preventDefault();
  const answer = judgeVisit(at("visit").value);
  // Texts, never markup: a visit may hold anything.
  at("sheet").textContent = answer.page ?? "";
  at("wrong").textContent = answer.wrong ?? "";
});

const go = new Go();
WebAssembly.instantiateStreaming(fetch("library.wasm"), go.importObject)
  .then((library) => go.run(library.instance))
  .catch((err) => { at("wrong").textContent = "The library did not load: " + err; });
