// What the pages do beside swapping parts: mark what changed, fill sliders, show help, keys.
"use strict";

(() => {
  const MARKED_FOR = 2000;
  const page = document.documentElement;
  page.classList.add("scripted");

  const told = () =>
    new Map([...document.querySelectorAll("[data-mark]")].map((one) => [one.dataset.mark, one.textContent.trim()]));
  const drawn = () => document.querySelector("#picture svg")?.outerHTML;
  let before = null;
  let opened = [];

  const mark = (one) => {
    one.classList.add("marked");
    setTimeout(() => one.classList.remove("marked"), MARKED_FOR);
  };

  document.addEventListener("htmx:beforeSwap", (event) => {
    if (!document.querySelector(".workbench")) return;
    before = before || { told: told(), drawn: drawn() };
    opened = [...document.querySelectorAll("details[open][id]")].map((one) => one.id);
    if (event.detail.requestConfig?.elt?.id === "choices-form") {
      for (const one of document.querySelectorAll("#choices .problem")) one.textContent = "";
      for (const one of document.querySelectorAll("#choices [aria-invalid]")) one.removeAttribute("aria-invalid");
    }
  });

  document.addEventListener("htmx:afterSettle", () => {
    for (const id of opened) {
      const one = document.getElementById(id);
      if (one) one.open = true;
    }
    for (const one of document.querySelectorAll("#choices .problem")) {
      if (one.textContent.trim()) document.getElementById(one.dataset.field)?.setAttribute("aria-invalid", "true");
    }
    if (!before) return;
    const was = before;
    before = null;
    for (const [key, words] of told()) {
      if (key === "picture" || was.told.get(key) === words) continue;
      const one = document.querySelector(`[data-mark="${key}"]`);
      mark(one.closest(".answer") || one);
    }
    if (was.drawn !== drawn()) mark(document.getElementById("picture"));
  });

  // The slider says its number at once; the drawing follows.
  document.addEventListener("input", (event) => {
    const shown = event.target.matches?.("input[type=range]:not(#day-hour)") && document.querySelector(`output[for="${event.target.id}"]`);
    if (shown) shown.textContent = event.target.value;
  });

  // Dimensions are only hidden, so nothing is asked of the server.
  document.getElementById("look")?.addEventListener("change", (event) => {
    if (event.target.id === "dimensions") event.stopPropagation();
  });
  document.getElementById("look")?.addEventListener("input", (event) => {
    if (event.target.id === "dimensions") event.stopPropagation();
  });

  // The model is drawn here, where the browser can; the server's drawing stays where it cannot.
  const scene = document.getElementById("scene");
  const wanted = () => document.getElementById("view-model")?.checked;
  const solid = () => {
    try {
      return Boolean(document.createElement("canvas").getContext("webgl2"));
    } catch {
      return false;
    }
  };
  const shown = (modelled) => {
    page.classList.toggle("modelled", modelled);
    scene.hidden = !modelled;
    document.getElementById("picture").hidden = modelled;
  };
  const space = async () => {
    if (!wanted() || scene.dataset.failed || !solid()) return shown(false);
    try {
      // The drawing stays in its place until the model can take it.
      await (await import(scene.dataset.script)).open(scene);
      return shown(wanted());
    } catch {
      scene.dataset.failed = "yes";
      return shown(false);
    }
  };
  if (scene) {
    document.getElementById("look").addEventListener("change", space);
    document.addEventListener("htmx:afterSettle", (event) => {
      if (["picture", "choices"].includes(event.detail.target?.id)) space();
    });
    addEventListener("load", () => requestAnimationFrame(space));
  }

  // One line of help under the choices, for the choice that has the focus; its room is reserved.
  const side = document.getElementById("choices-side");
  if (side) {
    const line = document.createElement("p");
    line.className = "help-line";
    line.setAttribute("aria-hidden", "true");
    side.append(line);
    side.addEventListener("focusin", (event) => {
      line.textContent = event.target.closest(".field")?.querySelector(".help")?.textContent || "";
    });
  }

  // Tab goes as the eye does: on a wide screen the choices stand first, on a phone last.
  const bench = document.querySelector(".workbench");
  if (bench) {
    const [wide, phone] = ["(min-width: 76rem)", "(max-width: 47.99rem)"].map((one) => matchMedia(one));
    const ordered = () => {
      if (wide.matches) bench.prepend(side);
      else if (phone.matches) bench.append(side);
      else bench.insertBefore(side, document.getElementById("answers"));
    };
    ordered();
    for (const one of [wide, phone]) one.addEventListener("change", ordered);
    // Where the picture would scroll away it is pinned while choices are made.
    side.addEventListener("focusin", () => page.classList.toggle("choosing", !wide.matches));
    side.addEventListener("focusout", (event) => {
      if (!side.contains(event.relatedTarget)) page.classList.remove("choosing");
    });
  }

  // A long list of ticks is searched by name, and what is picked is counted.
  document.addEventListener("input", (event) => {
    if (!event.target.matches?.("[data-find]")) return;
    const wanted = event.target.value.trim().toLowerCase();
    for (const one of event.target.closest(".picker").querySelectorAll(".tickbox")) one.hidden = !one.textContent.toLowerCase().includes(wanted);
  });
  document.addEventListener("change", (event) => {
    const picker = event.target.closest?.(".picker");
    if (!picker) return;
    if (event.target.matches("[data-find]")) return event.stopPropagation();
    const told = picker.querySelector("[data-picked]");
    told.textContent = picker.querySelectorAll(":checked").length || told.dataset.none;
  }, true);

  // What a lost connection has kept from being saved is marked, and sent again by itself.
  const AGAIN = 4000;
  const sent = new Set();
  let again = 0;
  const ofChoices = (event) => event.detail.requestConfig?.elt?.id === "choices-form";
  const unsaved = () => document.querySelectorAll(".field.unsaved");
  const resend = () => document.getElementById("choices-form")?.dispatchEvent(new Event("change", { bubbles: true }));
  document.addEventListener("change", (event) => {
    if (event.target.name && event.target.form?.id === "choices-form") sent.add(event.target.name);
  });
  const lost = (event) => {
    if (!ofChoices(event)) return;
    for (const name of sent) {
      const field = document.querySelector(`#choices [name="${CSS.escape(name)}"]`)?.closest(".field");
      field?.classList.add("unsaved");
      const line = field?.querySelector(".problem");
      if (line) line.textContent = "Not saved yet: the server did not answer. It is tried again by itself.";
    }
    clearTimeout(again);
    again = setTimeout(resend, AGAIN);
  };
  for (const kind of ["htmx:sendError", "htmx:timeout"]) document.addEventListener(kind, lost);
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!ofChoices(event) || !event.detail.successful) return;
    sent.clear();
    clearTimeout(again);
    if (!unsaved().length) return;
    for (const one of unsaved()) one.classList.remove("unsaved");
    trouble.hidden = true;
  });
  addEventListener("online", () => unsaved().length && resend());
  addEventListener("beforeunload", (event) => unsaved().length && event.preventDefault());

  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (event.target.matches?.("input[type=text], input[type=file], select, textarea")) return;
    const key = event.key.toLowerCase();
    const button = key === "z" && !event.shiftKey ? "undo" : key === "y" || (key === "z" && event.shiftKey) ? "redo" : null;
    const found = button && document.getElementById(button);
    if (found && !found.disabled) {
      event.preventDefault();
      found.click();
    }
  });

  // After undo the button that was pressed is a new one, perhaps of no more use: keep a place.
  document.addEventListener("htmx:afterSettle", (event) => {
    const asked = event.detail.requestConfig?.path || "";
    const pressed = asked.endsWith("/undo") ? "undo" : asked.endsWith("/redo") ? "redo" : null;
    if (!pressed) return;
    const wanted = document.getElementById(pressed);
    (wanted.disabled ? document.getElementById(pressed === "undo" ? "redo" : "undo") : wanted)?.focus();
  });

  // Over a plot of the year the pointer reads the day under it: the slider is moved, its words shown.
  const MIDDLE = { Jan: 15, Dec: 349 };
  const hover = document.createElement("div");
  hover.className = "hover-told";
  hover.setAttribute("aria-hidden", "true");
  hover.hidden = true;
  document.body.append(hover);

  const dayAt = (drawing, x) => {
    const at = {};
    for (const one of drawing.querySelectorAll("text")) {
      const name = one.textContent.trim();
      const box = one.getBoundingClientRect();
      if (name in MIDDLE) at[name] = box.left + box.width / 2;
    }
    if (at.Jan === undefined || at.Dec === undefined) return null;
    const share = (x - at.Jan) / (at.Dec - at.Jan);
    const day = Math.round(MIDDLE.Jan + share * (MIDDLE.Dec - MIDDLE.Jan));
    return day >= 0 && day <= 364 ? day : null;
  };

  document.addEventListener("pointermove", (event) => {
    const slider = document.getElementById("day");
    const drawing = event.target.closest?.(".chart svg");
    const day = slider && drawing ? dayAt(drawing, event.clientX) : null;
    hover.hidden = day === null;
    if (day === null) return;
    const right = event.clientX > innerWidth / 2;
    hover.style.left = right ? "" : `${event.clientX + 16}px`;
    hover.style.right = right ? `${innerWidth - event.clientX + 16}px` : "";
    hover.style.top = `${Math.min(event.clientY + 16, innerHeight - hover.offsetHeight - 8)}px`;
    if (Number(slider.value) === day) return;
    slider.value = day;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
  });
  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.target.id === "told") hover.innerHTML = event.target.innerHTML;
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") hover.hidden = true;
  });

  const trouble = document.getElementById("trouble");
  const complain = (words) => {
    trouble.querySelector("span").textContent = words;
    trouble.hidden = false;
  };
  document.addEventListener("htmx:sendError", () => complain("It may have been stopped; start it again and this page goes on."));
  document.addEventListener("htmx:timeout", () => complain("It took too long."));
  document.addEventListener("htmx:responseError", (event) => {
    const status = event.detail.xhr.status;
    if (status === 401 || event.detail.xhr.responseURL?.endsWith("/join")) location.assign("/join");
    const words = new DOMParser().parseFromString(event.detail.xhr.responseText, "text/html").querySelector(".problems")?.textContent;
    complain(words ? words.trim() : status === 429 ? "Too many changes at once; wait a moment." : `It refused the change (${status}).`);
  });
  document.getElementById("trouble-close").addEventListener("click", () => { trouble.hidden = true; });
})();
