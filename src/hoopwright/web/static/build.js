// The Build page: one card at a time, the next mark large, ticks that stay without a connection.
"use strict";

(() => {
  const KEPT = "hoopwright-build";
  const AGAIN = 20000;
  const build = document.getElementById("build");
  const { plan, from } = build.dataset;
  const rendered = Number(build.dataset.at);
  const boxes = [...build.querySelectorAll("input[name=on]")];
  const place = `hoopwright ticks ${plan}`;
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(place)) || {};
    } catch {
      return {};
    }
  };
  const write = (held) => {
    try {
      localStorage.setItem(place, JSON.stringify(held));
    } catch {
      // A browser that keeps nothing: the ticks hold as long as the page is open.
    }
  };

  // What was ticked here and the page does not know of: sent since it was made, or not sent yet.
  let held = Object.fromEntries(Object.entries(read()).filter(([, one]) => !one.at || one.at > rendered));
  for (const box of boxes) if (box.value in held) box.checked = held[box.value].on;

  const counted = () => {
    const shopping = document.getElementById("shopping");
    const all = { "#shopping > summary": shopping.querySelectorAll("input[name=on]:checked"), "#steps-title": build.querySelectorAll(".card-done input[name=on]:checked") };
    for (const [where, ticked] of Object.entries(all)) build.querySelector(`${where} [data-count]`).textContent = ticked.length;
    for (const one of build.querySelectorAll("#all-steps a")) {
      const ticked = build.querySelector(`${one.hash} .card-done input[name=on]`).checked;
      one.textContent = one.textContent.replace(/, done$/, "") + (ticked ? ", done" : "");
    }
  };

  const says = document.getElementById("kept");
  let keeps = "";
  const waiting = () => Object.entries(held).filter(([, one]) => !one.at);
  const tell = () => {
    const left = waiting().length;
    says.textContent = left ? `Not connected: ${left} ${left === 1 ? "tick is" : "ticks are"} kept on this device and sent when the server is back. ${keeps}` : `All ticks are kept with the plan. ${keeps}`;
  };

  let sending = false;
  const send = async () => {
    const now = waiting();
    if (sending || !now.length) return tell();
    sending = true;
    const body = new URLSearchParams();
    for (const [key, one] of now) {
      body.append("shown", key);
      if (one.on) body.append("on", key);
    }
    const headers = { accept: "application/json" };
    const answer = await fetch(`${from}/ticks`, { method: "POST", body, headers }).catch(() => null);
    sending = false;
    if (answer?.ok && !answer.redirected) {
      const { at } = await answer.json();
      for (const [key, one] of now) if (held[key] === one) one.at = at;
      write(held);
      if (waiting().length) return send();
    }
    tell();
  };
  build.addEventListener("change", (event) => {
    if (event.target.name !== "on") return;
    held[event.target.value] = { on: event.target.checked };
    write(held);
    counted();
    next();
    send();
  });
  addEventListener("online", send);
  document.addEventListener("visibilitychange", send);
  setInterval(send, AGAIN);

  // The next mark in large figures.
  const marks = [...build.querySelectorAll("#marks input[name=on]")];
  const button = document.getElementById("marked");
  const next = () => {
    if (!button) return;
    const one = marks.find((box) => !box.checked);
    const line = one?.closest("li");
    build.querySelector("[data-hoop]").textContent = one ? `${line.querySelector("[data-name]").textContent} of ${marks.length}, both boards` : "All marks are made";
    build.querySelector("[data-figure]").innerHTML = one ? line.querySelector("[data-mark-at]").innerHTML : "";
    button.disabled = !one;
  };
  button?.addEventListener("click", () => marks.find((box) => !box.checked)?.click());

  // One card at a time; the place in the address, so that the page opens where it was left.
  const cards = [...build.querySelectorAll(".card")];
  const [back, forth] = ["card-back", "card-next"].map((id) => document.getElementById(id));
  let current = 0;
  const show = (index, moved) => {
    current = Math.max(0, Math.min(cards.length - 1, index));
    cards.forEach((card, n) => { card.hidden = n !== current; });
    back.disabled = current === 0;
    forth.disabled = current === cards.length - 1;
    if (!moved) return;
    history.replaceState(null, "", `#${cards[current].id}`);
    const title = cards[current].querySelector("h3");
    title.focus({ preventScroll: true });
    cards[current].scrollIntoView({ block: "start" });
  };
  back.addEventListener("click", () => show(current - 1, true));
  forth.addEventListener("click", () => show(current + 1, true));
  const named = () => cards.findIndex((card) => `#${card.id}` === location.hash);
  addEventListener("hashchange", () => named() >= 0 && show(named(), true));
  const undone = cards.findIndex((card) => !card.querySelector(".card-done input[name=on]").checked);
  show(named() >= 0 ? named() : Math.max(0, undone), false);

  // Kept on the device where the browser allows it: over https, or on the machine itself.
  const forget = document.getElementById("forget");
  const keep = async () => {
    if (!isSecureContext || !navigator.serviceWorker) {
      keeps = "This browser keeps pages only over https or on the server's own machine: leave the page open and it goes on without a connection, or take the sheet away.";
      return tell();
    }
    try {
      await navigator.serviceWorker.register("/worker.js", { scope: "/plans/" });
      const parts = [...document.querySelectorAll("link[href], script[src]")].map((one) => one.href || one.src);
      const fonts = ["Regular", "SemiBold"].map((one) => `/fonts/FiraSans-${one}.woff2`);
      await (await caches.open(KEPT)).addAll([from, ...parts, ...fonts]);
      await navigator.serviceWorker.ready;
      keeps = "This page is kept on this device and opens without a connection.";
      build.dataset.kept = "yes";
      forget.hidden = false;
    } catch {
      keeps = navigator.onLine ? "It could not be kept on this device; leave it open." : "Opened from this device, without a connection.";
    }
    tell();
  };
  forget.addEventListener("click", async () => {
    await (await caches.open(KEPT)).delete(from);
    if (!waiting().length) localStorage.removeItem(place);
    forget.hidden = true;
    keeps = "Forgotten on this device.";
    tell();
  });

  counted();
  next();
  send();
  keep();
})();
