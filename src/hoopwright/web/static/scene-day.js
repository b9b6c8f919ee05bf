// A day by its numbers: where the sun stands, what the skyline hides, how far the sides are up.
import { ink } from "./scene-storm.js";

const LOOKS = { "air inside": "inside", "leaves inside": "inside leaf", "air outside": "outside", "leaves in the open": "outside leaf" };

export class Day {
  constructor(home, changed) {
    this.home = home;
    this.changed = changed;
    this.on = false;
    this.hour = home.querySelector("#day-hour");
    this.month = home.querySelector("#day-month");
    this.cloudy = home.querySelector("#day-cloudy");
    this.drawing = home.querySelector(".day-curves");
    this.told = home.querySelector(".day-told");
    new ResizeObserver(() => this.curves()).observe(this.drawing);
    for (const one of [this.hour, this.month, this.cloudy]) one.addEventListener("input", () => this.touched());
  }

  /** The plan has changed: its days are no longer these. */
  forget() {
    this.days = null;
    if (this.on) this.touched();
  }

  async touched() {
    this.on = true;
    this.home.querySelector(".day").classList.add("on");
    if (!this.days && !this.asking) {
      this.asking = true;
      this.told.textContent = "Running the bed through a year; a second or two, longer the first time on this machine.";
      const answer = await fetch(this.home.dataset.days).catch(() => null);
      this.asking = false;
      this.days = answer?.ok ? await answer.json() : null;
      if (!this.days) {
        this.told.textContent = "The server did not answer; move the slider to ask again.";
        this.on = false;
        return;
      }
    }
    if (!this.days) return;
    this.curves();
    this.tell();
    this.changed();
  }

  /** Back to the still bed, where a storm is looked at. */
  leave() {
    if (!this.on) return;
    this.on = false;
    this.tell();
  }

  get now() {
    if (!this.on || !this.days) return null;
    const wanted = Number(this.month.value);
    return this.days.days.find((one) => one.month === wanted && one.cloudy === this.cloudy.checked) || null;
  }

  get at() {
    return Number(this.hour.value) - 1;
  }

  /** What the scene draws, or null where no day is looked at. */
  state() {
    const day = this.now;
    if (!day) return null;
    const n = this.at;
    const shines = day.up[n] && !day.hidden[n];
    return {
      path: day.sun.filter((_, k) => day.up[k]), sun: day.up[n] ? day.sun[n] : null, skyline: this.days.skyline,
      light: shines ? Math.min(1, day.beam[n] / 800) : 0, up: day.up[n], covered: day.covered, opening: day.opening[n],
    };
  }

  tell() {
    const day = this.now;
    this.home.querySelector('output[for="day-hour"]').textContent = day ? day.rows[this.at].clock : "";
    if (!day) {
      this.told.textContent = this.on ? "" : "Move the slider: sun, sides, and the air and leaves inside and out.";
      return;
    }
    const row = day.rows[this.at];
    const mark = this.days.mark ? `${this.days.mark}. ` : "";
    this.told.textContent = `${mark}${day.title}, ${row.says}`;
    this.hour.setAttribute("aria-valuetext", row.clock);
  }

  /** Four curves over the day, the hour marked; the same numbers as in the words and the table. */
  curves() {
    const day = this.now;
    const drawing = this.drawing;
    const wide = drawing.clientWidth;
    drawing.replaceChildren();
    if (!wide || !day) return;
    const high = 120;
    const right = 138;
    drawing.setAttribute("viewBox", `0 0 ${wide} ${high + 22}`);
    const all = Object.values(day.curves).flat();
    const [low, top] = [Math.min(...all), Math.max(...all)];
    const x = (n) => (n / 23) * (wide - right);
    const y = (value) => high - ((value - low) / Math.max(top - low, 1)) * (high - 14) - 4;
    const add = ink.bind(null, drawing);
    add("path", { class: "now", d: `M${x(this.at).toFixed(1)} 0V${high}` });
    const ends = Object.entries(day.curves).map(([name, values]) => ({ name, at: y(values[23]) }));
    ends.sort((a, b) => a.at - b.at);
    ends.forEach((one, n) => { one.at = Math.max(one.at, n ? ends[n - 1].at + 15 : 10); });
    const over = Math.max(0, ends[ends.length - 1].at - (high + 4));
    for (const [name, values] of Object.entries(day.curves)) {
      add("path", { class: LOOKS[name], d: `M${values.map((one, n) => `${x(n).toFixed(1)} ${y(one).toFixed(1)}`).join("L")}` });
    }
    for (const { name, at } of ends) add("text", { x: wide - right + 6, y: (at - over + 4).toFixed(1), class: LOOKS[name] }, name);
    for (const n of [5, 11, 17]) add("text", { x: x(n).toFixed(1), y: high + 18, "text-anchor": "middle" }, day.rows[n].clock);
  }
}
