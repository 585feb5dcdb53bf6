"use strict";

// Keeps the files of this edition, so that the page comes up without a network.
const edition = "visit-EDITION";
const files = ["./", "page.css", "form.js", "page.js", "wasm_exec.js", "library.packed"];

addEventListener("install", (event) => event.waitUntil(caches.open(edition)
  .then((kept) => kept.addAll(files.map((name) => new Request(name, { cache: "no-cache" }))))
  .then(() => skipWaiting())));

addEventListener("activate", (event) => event.waitUntil(caches.keys()
  .then((all) => Promise.all(all.filter((name) => name.startsWith("visit-") && name !== edition).map((name) => caches.delete(name))))
  .then(() => clients.claim())));

addEventListener("fetch", (event) => {
  if (event.request.method === "GET") {
    event.respondWith(caches.match(event.request, { ignoreSearch: true }).then((kept) => kept ?? fetch(event.request)));
  }
});
