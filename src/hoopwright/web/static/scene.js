// The bed in space: loads its numbers, turns it, moves its handles, and lets a storm come.
import { OrbitControls, AmbientLight, DirectionalLight, PerspectiveCamera, Plane, Raycaster, Scene, Vector2, Vector3, WebGLRenderer } from "./three-0.187.0.min.js";
import { Model, inks } from "./scene-model.js";
import { Day } from "./scene-day.js";
import { Storm } from "./scene-storm.js";

const VIEWS = { corner: [0.9, 0.75, 1.15], end: [-1.6, 0.25, 0.001], side: [0.001, 0.25, 1.6], above: [0.001, 1.7, 0.002] };
const TURN = Math.PI / 24;
// What draws where there is no graphics card, as browsers call it.
const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;
// Points of the drawing for one of the page, while something is pulled there.
const COARSE = 0.6;
const fineness = () => Math.min(2, devicePixelRatio);

class Bench {
  constructor(home) {
    this.home = home;
    this.stage = home.querySelector(".stage");
    this.renderer = new WebGLRenderer({ antialias: true });
    this.renderer.shadowMap.enabled = true;
    this.canvas = this.renderer.domElement;
    this.canvas.setAttribute("aria-hidden", "true");
    this.stage.prepend(this.canvas);
    this.camera = new PerspectiveCamera(32, 1, 0.05, 60);
    this.controls = new OrbitControls(this.camera, this.canvas);
    this.controls.maxPolarAngle = Math.PI / 2 - 0.02;
    this.controls.addEventListener("change", () => this.draw());
    this.controls.addEventListener("start", () => this.hurry(true));
    this.controls.addEventListener("end", () => this.hurry(false));
    const about = this.renderer.getContext().getExtension("WEBGL_debug_renderer_info");
    this.slow = Boolean(about) && SOFTWARE.test(this.renderer.getContext().getParameter(about.UNMASKED_RENDERER_WEBGL));
    this.scene = new Scene();
    this.sun = new DirectionalLight(0xffffff, 1.9);
    this.sun.castShadow = true;
    this.sun.shadow.mapSize.set(2048, 2048);
    this.sun.shadow.normalBias = 0.02;
    this.sky = new AmbientLight(0xffffff, 1.7);
    this.scene.add(this.sky, this.sun, this.sun.target);
    this.storm = new Storm(home, () => {
      this.day.leave();
      this.stormed();
    });
    this.day = new Day(home, () => {
      this.storm.calm();
      this.stormed();
    });
    this.handles = new Map();
    new ResizeObserver(() => this.fit()).observe(this.stage);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.built());
    this.keys();
  }

  async load() {
    const answer = await fetch(this.home.dataset.from);
    if (!answer.ok) throw new Error(`it answered ${answer.status}`);
    const { bed, storm } = await answer.json();
    this.storm.take(storm);
    this.take(bed);
    this.day.forget();
    this.home.dataset.shown = "yes";
  }

  take(bed) {
    this.bed = bed;
    this.stage.setAttribute("aria-label", bed.description);
    this.built();
  }

  built() {
    if (!this.bed) return;
    if (this.model) {
      this.scene.remove(this.model.root);
      this.model.dispose();
    }
    this.model = new Model(this.bed);
    this.scene.add(this.model.root);
    this.scene.background = inks().paper;
    const far = Math.max(this.bed.box.length, 2);
    Object.assign(this.sun.shadow.camera, { left: -far, right: far, top: far, bottom: -far, far: 6 * far });
    this.sun.shadow.camera.updateProjectionMatrix();
    this.placeHandles();
    this.stormed();
  }

  stormed() {
    if (!this.model) return;
    const day = this.day.state();
    this.model.show(this.storm.state(), day);
    this.lit(day);
    this.draw();
  }

  /** Light as a drawing is lit, or as the sun stands: low light where it is hidden, dusk without. */
  lit(day) {
    const far = Math.max(this.bed.box.length, 2);
    const from = day?.sun || [-0.26, 0.86, 0.46];
    this.sun.position.set(...from.map((one) => one * 1.75 * far));
    this.sun.intensity = day ? 2.6 * day.light : 1.9;
    this.sky.intensity = day ? (day.up ? 1.9 : 1.1) : 1.7;
  }

  /** Without a graphics card shadows and fine points wait while something is pulled. */
  hurry(on) {
    if (!this.slow || this.sun.castShadow === !on) return;
    this.sun.castShadow = !on;
    this.renderer.setPixelRatio(on ? COARSE : fineness());
    this.draw();
  }

  /** Look from one of the named sides, the whole bed in sight. */
  look(name) {
    const top = Math.max(...this.bed.hoops.line.map(([, y]) => y));
    const around = Math.hypot(this.bed.box.length, this.bed.box.width, top) / 2;
    const wide = Math.min(1, this.camera.aspect);
    const away = (around / Math.sin((this.camera.fov * Math.PI) / 360) / Math.max(0.45, wide)) * 0.95;
    this.controls.target.set(0, top * 0.42, 0);
    this.camera.position.copy(this.controls.target).add(new Vector3(...VIEWS[name]).normalize().multiplyScalar(away));
    this.controls.update();
    this.draw();
  }

  fit() {
    const { clientWidth: wide, clientHeight: high } = this.stage;
    if (!wide || !high || !this.bed) return;
    this.renderer.setPixelRatio(fineness());
    this.renderer.setSize(wide, high, false);
    const before = this.camera.aspect;
    this.camera.aspect = wide / high;
    this.camera.updateProjectionMatrix();
    if (!this.fitted || Math.abs(before - this.camera.aspect) > 0.2) this.look("corner");
    this.fitted = true;
    this.draw();
  }

  draw() {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      if (!this.model) return;
      this.model.face(this.camera);
      this.renderer.render(this.scene, this.camera);
      this.moveHandles();
      this.home.dispatchEvent(new CustomEvent("drawn"));
    });
  }

  keys() {
    const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    this.stage.addEventListener("keydown", (event) => {
      if (event.target !== this.stage || event.ctrlKey || event.metaKey || event.altKey) return;
      const way = turn[event.key];
      const zoom = { "+": 0.9, "=": 0.9, "-": 1.1 }[event.key];
      if (!way && !zoom) return;
      event.preventDefault();
      const from = new Vector3().subVectors(this.camera.position, this.controls.target);
      if (zoom) from.multiplyScalar(zoom);
      if (way?.[0]) from.applyAxisAngle(new Vector3(0, 1, 0), way[0] * TURN);
      if (way?.[1]) {
        const axis = new Vector3(from.z, 0, -from.x).normalize();
        const turned = from.clone().applyAxisAngle(axis, way[1] * TURN);
        if (turned.y > 0.05 && Math.hypot(turned.x, turned.z) > 0.05) from.copy(turned);
      }
      this.camera.position.addVectors(this.controls.target, from);
      this.controls.update();
      this.draw();
    });
    for (const one of this.home.querySelectorAll("[data-look]")) one.addEventListener("click", () => this.look(one.dataset.look));
  }

  /** Handles are buttons over the picture: pulled by a pointer, stepped by keys, read aloud. */
  placeHandles() {
    for (const one of this.bed.handles) {
      let handle = this.handles.get(one.key);
      if (!handle) {
        const button = document.createElement("button");
        button.type = "button";
        button.className = "handle";
        button.setAttribute("role", "slider");
        button.setAttribute("aria-label", one.label);
        button.innerHTML = "<span></span>";
        this.stage.append(button);
        handle = { button, key: one.key };
        this.handles.set(one.key, handle);
        this.listen(handle);
      }
      handle.one = one;
      if (!handle.held) handle.value = one.value;
      this.told(handle);
    }
  }

  told({ button, one, value }) {
    const words = written(value, this.bed.units);
    button.setAttribute("aria-valuenow", value.toFixed(3));
    button.setAttribute("aria-valuemin", one.low.toFixed(3));
    button.setAttribute("aria-valuemax", one.high.toFixed(3));
    button.setAttribute("aria-valuetext", words);
    button.firstChild.textContent = `${one.label} ${words}`;
  }

  moveHandles() {
    const still = this.storm.still && !this.day.now;
    for (const { button, one } of this.handles.values()) {
      const at = new Vector3(...one.at).project(this.camera);
      button.hidden = !still || at.z > 1 || Math.abs(at.x) > 1.05 || Math.abs(at.y) > 1.05;
      button.style.left = `${((at.x + 1) / 2) * this.stage.clientWidth}px`;
      button.style.top = `${((1 - at.y) / 2) * this.stage.clientHeight}px`;
    }
  }

  listen(handle) {
    const { button } = handle;
    const step = () => (this.bed.units === "us" ? 0.0254 : 0.01);
    const snapped = (value) => Math.min(handle.one.high, Math.max(handle.one.low, Math.round(value / step()) * step()));
    button.addEventListener("pointerdown", (event) => {
      button.setPointerCapture(event.pointerId);
      handle.held = true;
      handle.pulled = { value: handle.value, from: this.along(handle.one, event), one: handle.one };
    });
    button.addEventListener("pointermove", (event) => {
      if (!handle.pulled) return;
      const value = snapped(handle.pulled.value + (this.along(handle.pulled.one, event) - handle.pulled.from) * handle.one.scale);
      if (value === handle.value) return;
      handle.value = value;
      this.hurry(true);
      this.told(handle);
      this.bend(handle);
    });
    const leave = () => {
      if (!handle.pulled) return;
      this.hurry(false);
      const before = handle.pulled.value;
      handle.pulled = null;
      if (handle.value === before) handle.held = false;
      else this.keep(handle);
    };
    button.addEventListener("pointerup", leave);
    button.addEventListener("pointercancel", leave);
    button.addEventListener("keydown", (event) => {
      const way = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 6, PageDown: -6 }[event.key];
      if (!way) return;
      event.preventDefault();
      event.stopPropagation();
      handle.held = true;
      handle.value = snapped(handle.value + way * step());
      this.hurry(true);
      this.told(handle);
      this.bend(handle);
      clearTimeout(handle.later);
      handle.later = setTimeout(() => this.keep(handle), 700);
    });
  }

  /** Where along a handle's own line the pointer is [m]. */
  along(one, event) {
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(at, this.camera);
    const axis = new Vector3(...one.axis);
    const origin = new Vector3(...one.at);
    const away = new Vector3().subVectors(this.camera.position, origin);
    const normal = away.sub(axis.clone().multiplyScalar(away.dot(axis))).normalize();
    const met = ray.ray.intersectPlane(new Plane().setFromNormalAndCoplanarPoint(normal, origin), new Vector3());
    return met ? met.dot(axis) : origin.dot(axis);
  }

  /** Ask for the true curve of the size pulled; the latest is asked when the last has come. */
  async bend(handle) {
    this.wanted = { [handle.key]: written(handle.value, this.bed.units) };
    if (this.asking) return;
    this.asking = true;
    while (this.wanted) {
      const body = new URLSearchParams(this.wanted);
      this.wanted = null;
      const answer = await fetch(this.home.dataset.bend, { method: "POST", body }).catch(() => null);
      const told = answer && (answer.ok || answer.status === 422) ? await answer.json() : null;
      if (answer?.ok) this.take(told);
      this.home.querySelector(".refusal").textContent = answer?.ok ? "" : told?.problems?.[0] || "The server did not answer; the handle goes back.";
    }
    this.asking = false;
  }

  /** Put the size into the plan, through the same field that a person would fill. */
  keep(handle) {
    const field = document.getElementById(handle.one.field);
    handle.held = false;
    this.hurry(false);
    if (!field) return;
    field.value = written(handle.value, this.bed.units);
    field.dispatchEvent(new Event("change", { bubbles: true }));
  }
}

/** A length as the plan file takes it. */
function written(value, units) {
  if (units !== "us") return `${Math.round(value * 1000) / 10} cm`;
  const inches = Math.round(value / 0.0254);
  const feet = Math.floor(inches / 12);
  return inches < 24 ? `${inches} in` : inches % 12 ? `${feet} ft ${inches % 12} in` : `${feet} ft`;
}

let bench = null;

/** Show the scene where the page has room for it and the browser can; else the drawing stays. */
export async function open(home) {
  bench ??= new Bench(home);
  await bench.load();
}
