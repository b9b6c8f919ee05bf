// Keeps the Build pages opened on this device, so that they open again without a connection.
"use strict";

const KEPT = "hoopwright-build";
const WAITS = 4000;
const HEAD = {
  "Content-Type": "text/html; charset=utf-8",
  "Content-Security-Policy": "default-src 'none'; style-src 'self'; font-src 'self'; frame-ancestors 'none'",
};

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));
addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  const build = /^\/plans\/[^/]+\/build(\.webmanifest)?$/.test(url.pathname);
  if (build || /^\/(static|fonts)\//.test(url.pathname)) event.respondWith(fresh(request, build));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(away));
});

/** The server's answer, or what was kept where it does not come; what is kept is kept fresh. */
async function fresh(request, build) {
  const held = await caches.open(KEPT);
  const kept = await held.match(request.url, { ignoreVary: true });
  const asked = fetch(request).then((answer) => {
    if (kept && answer.ok && !answer.redirected) held.put(request.url, answer.clone());
    return answer;
  });
  if (!kept) return build && request.mode === "navigate" ? asked.catch(away) : asked;
  asked.catch(() => {});
  const late = new Promise((_, refuse) => setTimeout(refuse, WAITS));
  return Promise.race([asked, late]).catch(() => kept);
}

/** What is said where there is neither the server nor a copy. */
async function away() {
  const held = await (await caches.open(KEPT)).keys();
  const pages = held.map((one) => new URL(one.url).pathname).filter((path) => path.endsWith("/build"));
  const links = pages.map((path, n) => `<li><a href="${path}">Build page ${n + 1}</a></li>`).join("");
  const words = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>No connection</title><link rel="stylesheet" href="/static/page.css"></head><body><main><h1>No connection to the server</h1><p>This page is not kept on this device. What was saved is on the server and not lost.</p>${links ? `<p>Kept here:</p><ul>${links}</ul>` : ""}</main></body></html>`;
  return new Response(words, { status: 503, headers: HEAD });
}
