// A storm by its numbers: which shape, what has failed, what is strained, and the odds below.

const SVG = "http://www.w3.org/2000/svg";

/** Add to a drawing what has a name, attributes, and perhaps words. */
export function ink(drawing, name, values, words) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(values)) one.setAttribute(key, value);
  if (words) one.textContent = words;
  drawing.append(one);
}

export class Storm {
  constructor(home, changed) {
    this.home = home;
    this.changed = changed;
    this.drawing = home.querySelector(".odds-band");
    new ResizeObserver(() => this.band()).observe(this.drawing);
    this.gust = home.querySelector("#storm-gust");
    this.depth = home.querySelector("#storm-snow");
    for (const one of [this.gust, this.depth]) one.addEventListener("input", () => this.moved(one));
  }

  take(storm) {
    this.storm = storm;
    for (const [slider, one] of [[this.gust, storm.wind], [this.depth, storm.snow]]) {
      slider.max = one.most;
      slider.step = one.step;
      slider.parentElement.querySelector(".unit").textContent = one.unit;
    }
    this.band();
    this.tell();
  }

  /** One storm at a time: the other slider goes back. */
  moved(slider) {
    const other = slider === this.gust ? this.depth : this.gust;
    if (Number(slider.value) > 0 && Number(other.value) > 0) {
      other.value = 0;
      other.dispatchEvent(new Event("input", { bubbles: true }));
    }
    this.tell();
    this.changed();
  }

  /** No storm: a day is looked at. */
  calm() {
    for (const one of [this.gust, this.depth]) {
      one.value = 0;
      one.parentElement.querySelector("output").textContent = "0";
    }
    this.tell();
  }

  get still() {
    return Number(this.gust.value) === 0 && Number(this.depth.value) === 0;
  }

  now() {
    const windy = Number(this.gust.value) > 0 || Number(this.depth.value) === 0;
    const one = windy ? this.storm.wind : this.storm.snow;
    return { windy, one, at: Number(windy ? this.gust.value : this.depth.value) };
  }

  /** What the model draws, or null in calm. */
  state() {
    if (!this.storm || this.still) return null;
    const { windy, one, at } = this.now();
    const failed = new Set(one.rungs.filter((rung) => rung.half <= at).map((rung) => rung.seen));
    const strained = new Set(one.rungs.filter((rung) => rung.careful <= at && rung.half > at).map((rung) => rung.seen));
    const shapes = windy ? (failed.has("sides") ? one.opened : one.closed) : one.half;
    // Where the path ends the hoop has gone; it is drawn as it stood last, and as failed.
    const step = at / one.step;
    if (step > shapes.length - 1) failed.add("hoops");
    // A cover that is off carries nothing: the hoops stand as unloaded.
    const line = windy && failed.has("film") ? null : between(shapes, Math.min(step, shapes.length - 1));
    return { line, failed, strained, windy };
  }

  tell() {
    const told = this.home.querySelector(".storm-told");
    const { one, at } = this.now();
    if (this.still) {
      told.textContent = "Calm. Move a slider: what is past what nine beds in ten stand is tinted, what half of the beds have lost is drawn lost.";
      return;
    }
    told.textContent = one.told[Math.round(at / one.step)];
  }

  /** The odds under the slider: a band for opened, a darker one for lost, the place's gusts on it. */
  band() {
    // As many units as pixels, so that its words keep their size on a phone.
    const drawing = this.drawing;
    const wide = drawing.clientWidth;
    if (!wide || !this.storm) return;
    const { wind } = this.storm;
    const high = 56;
    drawing.setAttribute("viewBox", `0 0 ${wide} ${high + 52}`);
    drawing.replaceChildren();
    const x = (gust) => (gust / wind.most) * wide;
    const add = ink.bind(null, drawing);
    for (const which of ["opens", "lost"]) {
      const line = wind.odds[which].map((odds, n) => `L${x(n * wind.step).toFixed(1)} ${(high - odds * high).toFixed(1)}`).join("");
      add("path", { class: which, d: `M0 ${high}${line}L${wide} ${high}Z` });
    }
    add("path", { class: "base", d: `M0 ${high}H${wide}` });
    wind.place.filter((one) => one.at < wind.most).forEach((one, n) => {
      add("path", { class: "gust", d: `M${x(one.at).toFixed(1)} 0V${high + 4}` });
      const words = one.years === 1 ? "yearly" : `in ${one.years} yr`;
      add("text", { x: x(one.at).toFixed(1), y: high + 16 + 15 * n, "text-anchor": "middle" }, words);
    });
  }
}

/** The shape between the two nearest sent. */
function between(shapes, step) {
  const low = Math.floor(step);
  const high = Math.min(shapes.length - 1, low + 1);
  const part = step - low;
  return shapes[low].map(([x, y], n) => [x + (shapes[high][n][0] - x) * part, y + (shapes[high][n][1] - y) * part]);
}
