// The bed as solids, made from the numbers the server sends. Along is x, up is y, across is z [m].
import * as T from "./three-0.187.0.min.js";

const LEAN = { "ends lean": 0.2, "ends fall": 0.9 }; // [rad] an end hoop is drawn leaning
const CORDS = 0.004;

// What solids are painted with outlives them: with the last of its kind a shader would go, to be
// compiled anew for the next bed.
const paints = new Map();
const paint = (key, make) => {
  if (!paints.has(key)) paints.set(key, make());
  return paints.get(key);
};

export const inks = () => {
  const held = getComputedStyle(document.documentElement);
  const of = (name) => new T.Color(held.getPropertyValue(name).trim());
  return {
    paper: of("--paper"), ink: of("--ink"), line: of("--line"), accent: of("--accent"),
    pipe: of("--tone-light").lerp(of("--line"), 0.45), light: of("--tone-light"), dark: of("--tone-dark"), grey: of("--grey"), person: of("--person"),
  };
};

/** The whole bed; `show(storm)` draws it as a storm leaves it. */
export class Model {
  constructor(bed) {
    this.bed = bed;
    this.ink = inks();
    this.root = new T.Group();
    this.moved = new T.Group(); // what slides or tips with the box
    this.root.add(this.moved);
    this.boards();
    this.plants();
    this.person();
    this.north();
    this.covered = new T.Group();
    this.moved.add(this.covered);
  }

  tone(color, see = 1) {
    return paint(`${color.getHexString()} ${see}`, () =>
      new T.MeshLambertMaterial({ color, transparent: see < 1, opacity: see, side: T.DoubleSide, depthWrite: see === 1 }));
  }

  line(color) {
    return paint(`line ${color.getHexString()}`, () => new T.LineBasicMaterial({ color }));
  }

  /** A box by its middle and sizes, with one thin line round it. */
  solid(group, [x, y, z], [a, b, c], color, edge = this.ink.ink) {
    const shape = new T.BoxGeometry(a, b, c);
    const made = new T.Mesh(shape, this.tone(color));
    made.position.set(x, y, z);
    made.castShadow = made.receiveShadow = true;
    const round = new T.LineSegments(new T.EdgesGeometry(shape), this.line(edge));
    made.add(round);
    group.add(made);
    return made;
  }

  rod(group, from, to, radius, color) {
    const path = new T.Vector3().subVectors(to, from);
    const made = new T.Mesh(new T.CylinderGeometry(radius, radius, path.length(), 12), this.tone(color));
    made.position.addVectors(from, to).multiplyScalar(0.5);
    made.quaternion.setFromUnitVectors(new T.Vector3(0, 1, 0), path.normalize());
    made.castShadow = true;
    group.add(made);
  }

  cord(group, places, color) {
    const shape = new T.BufferGeometry().setFromPoints(places);
    group.add(new T.Line(shape, this.line(color)));
  }

  boards() {
    const { length, width, wall, height, courses, soil } = this.bed.box;
    const high = height / courses;
    for (let course = 0; course < courses; course += 1) {
      const y = (course + 0.5) * high;
      for (const side of [-1, 1]) {
        this.solid(this.moved, [0, y, (side * (width - wall)) / 2], [length, high, wall], this.ink.light);
        this.solid(this.moved, [(side * (length - wall)) / 2, y, 0], [wall, high, width - 2 * wall], this.ink.light);
      }
    }
    const ground = new T.Mesh(new T.PlaneGeometry(length - 2 * wall, width - 2 * wall), this.tone(this.ink.dark));
    ground.rotation.x = -Math.PI / 2;
    ground.position.y = soil;
    ground.receiveShadow = true;
    this.moved.add(ground);
    const shade = new T.Mesh(new T.PlaneGeometry(40, 40), paint("shade", () => new T.ShadowMaterial({ opacity: 0.16 })));
    shade.rotation.x = -Math.PI / 2;
    shade.receiveShadow = true;
    this.root.add(shade);
  }

  /** Plants of the plan's crops, a strip of the bed for each, at their height and spacing. */
  plants() {
    const { length, width, wall, soil } = this.bed.box;
    const crops = this.bed.plants;
    if (!crops.length) return;
    const strip = (length - 2 * wall) / crops.length;
    crops.forEach((crop, number) => {
      const apart = Math.max(crop.spacing, 0.15);
      const along = Math.max(1, Math.floor(strip / apart));
      const across = Math.max(1, Math.floor((width - 2 * wall) / apart));
      const wide = 0.42 * apart;
      const made = new T.InstancedMesh(new T.SphereGeometry(1, 8, 6), this.tone(this.ink.dark), along * across);
      const place = new T.Matrix4();
      let n = 0;
      for (let i = 0; i < along; i += 1) {
        for (let j = 0; j < across; j += 1) {
          const x = -length / 2 + wall + strip * (number + (i + 0.5) / along);
          const z = -width / 2 + wall + ((width - 2 * wall) * (j + 0.5)) / across;
          const high = Math.min(crop.height, this.clear(z) - soil);
          place.makeScale(wide, high / 2, wide).setPosition(x, soil + high / 2, z);
          made.setMatrixAt(n, place);
          n += 1;
        }
      }
      made.castShadow = true;
      this.moved.add(made);
    });
  }

  /** How high there is room under the cover at a place across: a taller plant lies against it. */
  clear(z) {
    const inside = this.bed.hoops.line.filter(([x]) => Math.abs(x - z) < 0.06).map(([, y]) => y);
    return Math.max(this.bed.box.height, ...inside) - 3 * this.bed.hoops.radius;
  }

  person() {
    const { body, head } = this.bed.person;
    const stand = new T.Group();
    const round = body.map(([x, y]) => new T.Vector3(x, y, 0));
    const turn = [...Array(33).keys()].map((n) => (n * Math.PI) / 16);
    const face = turn.map((a) => new T.Vector3(head[0] + head[2] * Math.cos(a), head[1] + head[2] * Math.sin(a), 0));
    this.cord(stand, [...round, round[0]], this.ink.person);
    this.cord(stand, face, this.ink.person);
    stand.position.set(-this.bed.box.length / 2 - 0.55, 0, -this.bed.box.width / 2 - 0.35);
    this.root.add(stand);
    this.stands = stand;
  }

  /** An arrow on the ground beyond the far corner, where the plan says how the bed lies. */
  north() {
    if (this.bed.north === null) return;
    const arrow = new T.Group();
    const places = [[0, -0.3], [0, 0.3], [-0.08, 0.14], [0, 0.3], [0.08, 0.14]].map(([a, b]) => new T.Vector3(b, 0.002, a));
    this.cord(arrow, places, this.ink.accent);
    // North lies so many degrees clockwise, seen from above, of the way the first end looks.
    arrow.rotation.y = Math.PI - (this.bed.north * Math.PI) / 180;
    arrow.position.set(this.bed.box.length / 2 + 0.5, 0, this.bed.box.width / 2 + 0.55);
    this.root.add(arrow);
  }

  /** Draw frame and cover, still, as a storm leaves them {line, failed, strained}, or on a day. */
  show(storm, day = null) {
    this.day = day;
    this.covered.traverse((one) => one.geometry?.dispose());
    this.covered.clear();
    const has = (what) => Boolean(storm?.failed.has(what));
    this.has = has;
    this.color = (what, usual) => (has(what) ? this.ink.accent : storm?.strained.has(what) ? usual.clone().lerp(this.ink.accent, 0.6) : usual);
    this.place();
    if (storm?.windy) this.wind();
    if (day) this.heaven(day);
    const bent = this.bent(storm);
    this.hoops(bent);
    if (day && !day.covered) return;
    this.cover(bent);
    this.fastenings();
  }

  /** The sun on its path of the day, and the skyline that it goes behind. */
  heaven({ path, sun, skyline }) {
    const far = 0.62 * Math.max(this.bed.box.length, 2);
    const at = (one) => new T.Vector3(...one).multiplyScalar(far);
    if (path.length > 1) this.cord(this.covered, path.map(at), this.ink.line);
    if (skyline.some(([, up]) => up > 0.001)) this.cord(this.covered, skyline.map(at), this.ink.grey);
    if (!sun) return;
    const disc = new T.Mesh(new T.SphereGeometry(0.045 * far, 20, 14), paint(`sun ${this.ink.accent.getHexString()}`, () => new T.MeshBasicMaterial({ color: this.ink.accent })));
    disc.position.copy(at(sun));
    this.covered.add(disc);
  }

  place() {
    const { width } = this.bed.box;
    // Over the lee board, which stays on the ground.
    const tip = this.has("tips") ? 0.2 : 0;
    this.moved.rotation.x = tip;
    this.moved.position.set(0, (this.has("lifts") ? 0.12 : 0) + (width / 2) * Math.sin(tip), this.has("slides") ? 0.22 : 0);
  }

  /** An arrow on the ground from where the wind comes. */
  wind() {
    const from = -this.bed.box.width / 2 - 0.75;
    const places = [[0, from], [0, from + 0.6], [-0.09, from + 0.44], [0, from + 0.6], [0.09, from + 0.44]];
    this.cord(this.covered, places.map(([x, z]) => new T.Vector3(x, 0.002, z)), this.ink.accent);
  }

  /** The pipe's line, foot to foot, as it is loaded. */
  bent(storm) {
    const still = this.bed.hoops.line;
    let line = still;
    if (storm?.line) line = [still[0], ...storm.line, still[still.length - 1]];
    if (this.has("hoops")) line = line.map(([x, y]) => (y > this.bed.box.height ? [x + 0.5 * (y - this.bed.box.height), this.bed.box.height + 0.5 * (y - this.bed.box.height)] : [x, y]));
    if (this.has("legs")) line = line.map(([x, y], n) => (n < line.length / 2 ? [x, y + 0.18 * (1 - (2 * n) / line.length)] : [x, y]));
    return line;
  }

  hoops(line) {
    const { marks, radius, straps, strap } = this.bed.hoops;
    const half = this.bed.box.length / 2;
    const curve = new T.CatmullRomCurve3(line.map(([x, y]) => new T.Vector3(0, y, x)), false, "centripetal");
    const shape = new T.TubeGeometry(curve, 72, radius, 8);
    const usual = this.color(this.has("legs") ? "legs" : "hoops", this.color("crown", this.ink.pipe));
    marks.forEach((mark, n) => {
      const end = n === 0 || n === marks.length - 1;
      const lean = end ? (this.has("ends fall") ? LEAN["ends fall"] : this.has("ends lean") ? LEAN["ends lean"] : 0) : 0;
      const color = end ? this.color("ends fall", this.color("ends lean", usual)) : usual;
      const made = new T.Mesh(shape, this.tone(color));
      made.position.x = mark - half;
      made.rotation.z = n === 0 ? -lean : lean;
      made.castShadow = true;
      this.covered.add(made);
      for (const side of [0, line.length - 1]) {
        const out = Math.sign(line[side][0]);
        for (const high of straps) {
          this.solid(this.covered, [mark - half, high, this.bed.hoops.line[side][0] + out * (radius + 0.001)], [strap, 0.016, 0.003], this.ink.dark);
        }
      }
    });
    if (this.bed.ridge) {
      const [across, crown] = line[Math.floor(line.length / 2)];
      const top = crown - 2 * radius;
      const a = new T.Vector3(marks[0] - half, top, across);
      const b = new T.Vector3(marks[marks.length - 1] - half, top, across);
      this.rod(this.covered, a, b, radius, this.ink.pipe);
      const wide = this.bed.box.width / 2;
      for (const [[from], [x, z, y]] of this.bed.braces) {
        this.cord(this.covered, [from - half < 0 ? a : b, new T.Vector3(x - half, y, z - wide)], this.ink.ink);
      }
    }
  }

  /** Places of the cover's line, moved as the pipe nearest to each has moved. */
  carried(line, places) {
    const still = this.bed.hoops.line;
    if (line === still) return places;
    return places.map(([x, y]) => {
      if (y <= this.bed.box.height) return [x, y];
      const far = still.map(([a, b]) => (a - x) ** 2 + (b - y) ** 2);
      const n = far.indexOf(Math.min(...far));
      return [x + line[n][0] - still[n][0], y + line[n][1] - still[n][1]];
    });
  }

  cover(line) {
    const { cover, box } = this.bed;
    const half = box.length / 2;
    const flown = this.has("film");
    let arch = this.carried(line, cover.line);
    if (this.has("sides") && !flown) arch = flapped(arch, box.height);
    if (this.day?.opening > 0) arch = rolled(arch, box.height + this.day.opening, cover.edges);
    if (flown) arch = arch.map(([x, y], n) => [x + 0.55 * box.width + 0.1 * Math.sin(n / 3), y * 0.8 + 0.75 + 0.07 * Math.cos(n / 4)]);
    this.edge = arch;
    const tint = this.color("film", this.color("sides", this.ink.line));
    const film = paint("film", () => new T.MeshPhongMaterial({ shininess: 70, transparent: true, side: T.DoubleSide, depthWrite: false }));
    film.color.set(tint);
    film.specular.set(this.ink.paper);
    film.opacity = cover.clear ? (flown ? 0.3 : 0.16) : 0.5;
    const [a, b] = cover.ends.map((x) => x - half);
    this.covered.add(lofted(arch, a, b, film));
    const ring = (x) => arch.map(([z, y]) => new T.Vector3(x, y, z));
    const drawn = flown || this.has("sides") ? this.ink.accent : this.ink.ink;
    for (const x of [a, b]) this.cord(this.covered, ring(x), drawn);
    for (const n of [0, arch.length - 1]) this.cord(this.covered, [a, b].map((x) => new T.Vector3(x, arch[n][1], arch[n][0])), drawn);
    if (!flown) this.ends(arch, a, b, film);
    if (cover.laced && !flown) {
      const { marks } = this.bed.hoops;
      for (let n = 1; n < marks.length; n += 1) {
        const x = (marks[n - 1] + marks[n]) / 2 - half;
        this.cord(this.covered, arch.map(([z, y]) => new T.Vector3(x, y + CORDS, z)), this.ink.grey);
      }
    }
    for (const [z, y] of flown ? [] : this.carried(line, cover.clips)) {
      for (const x of [this.bed.hoops.marks[0], this.bed.hoops.marks[this.bed.hoops.marks.length - 1]]) {
        const clip = new T.Mesh(new T.SphereGeometry(this.bed.hoops.radius * 1.35, 8, 6), this.tone(this.color("film", this.ink.ink)));
        clip.position.set(x - half, y, z);
        this.covered.add(clip);
      }
    }
    if (cover.mesh > 0) this.mesh();
  }

  ends(arch, a, b, film) {
    const { box, cover } = this.bed;
    const open = this.has("ends open");
    const drawn = open ? this.ink.accent : this.ink.line;
    for (const [x, out] of [[a, -1], [b, 1]]) {
      const foot = cover.wrapped ? (out * box.length) / 2 : x;
      const up = arch.filter(([, y]) => y >= box.height);
      const low = up.map(([z]) => [Math.max(-box.width / 2, Math.min(box.width / 2, z)), box.height]);
      if (open) {
        this.cord(this.covered, up.map(([z, y]) => new T.Vector3(x + out * 0.25 * Math.sin((y - box.height) * 6), y, z)), drawn);
        continue;
      }
      this.covered.add(between(up.map(([z, y]) => [x, y, z]), low.map(([z, y]) => [foot, y, z]), film));
      if (cover.wrapped) for (const n of [0, up.length - 1]) this.cord(this.covered, [new T.Vector3(x, up[n][1], up[n][0]), new T.Vector3(foot, low[n][1], low[n][0])], drawn);
    }
  }

  mesh() {
    const { box, cover } = this.bed;
    for (const side of [-1, 1]) {
      const z = (side * (box.width - 0.02)) / 2;
      for (let high = 0; high <= cover.mesh; high += 0.05) this.cord(this.covered, [-1, 1].map((end) => new T.Vector3((end * box.length) / 2, box.height + high, z)), this.ink.line);
    }
  }

  fastenings() {
    const { box, cover } = this.bed;
    const half = box.length / 2;
    const [a, b] = cover.ends.map((x) => x - half);
    const [wide, thick, low] = cover.batten;
    const gone = this.has("film");
    [0, this.edge.length - 1].forEach((n, side) => {
      const [z, y] = this.edge[n];
      const out = side === 0 ? -1 : 1;
      if (cover.edges[side] === "rail") {
        const high = this.has("sides") || gone ? y : Math.max(y, cover.rail);
        this.rod(this.covered, new T.Vector3(a, high, z + out * cover.rail), new T.Vector3(b, high, z + out * cover.rail), cover.rail, this.color("sides", this.ink.pipe));
        for (const mark of this.has("sides") || gone ? [] : cover.ties) {
          this.solid(this.covered, [mark - half, high, z + out * 2 * cover.rail], [0.012, 3 * cover.rail, 0.006], this.ink.ink);
        }
      } else if (cover.edges[side] === "batten") {
        this.solid(this.covered, [0, cover.skirt + wide / 2, out * (box.width / 2 + thick / 2)], [box.length, wide, thick], this.ink.dark);
      }
    });
    const loose = this.has("ends open");
    for (const out of [-1, 1]) {
      this.solid(this.covered, [out * (half + thick / 2 + (loose ? 0.12 : 0)), low + wide / 2, 0], [thick, wide, box.width], loose ? this.ink.accent : this.ink.dark);
    }
  }

  /** Give back what the graphics hold of it. */
  dispose() {
    this.root.traverse((one) => one.geometry?.dispose());
  }

  /** Turn what is flat towards whoever looks. */
  face(camera) {
    this.stands.rotation.y = Math.atan2(camera.position.x - this.stands.position.x, camera.position.z - this.stands.position.z);
  }
}

/** The sheet with the sides that have a rail rolled up to a level. */
function rolled(arch, level, edges) {
  const top = arch.reduce((best, [, y], n) => (y > arch[best][1] ? n : best), 0);
  const from = edges[0] === "rail" ? Math.min(top, arch.findIndex(([, y]) => y >= level)) : 0;
  const last = arch.length - 1;
  const to = edges[1] === "rail" ? Math.max(top, last - [...arch].reverse().findIndex(([, y]) => y >= level)) : last;
  return from < 0 ? arch.slice(top - 1, top + 2) : arch.slice(from, to + 1);
}

/** A side's loose sheet blown out and up. */
function flapped(arch, level) {
  return arch.map(([x, y]) => {
    const low = Math.max(0, level + 0.18 - y);
    return low > 0 ? [x + Math.sign(x) * 0.9 * low, y + 1.15 * low] : [x, y];
  });
}

function lofted(arch, a, b, material) {
  return between(arch.map(([z, y]) => [a, y, z]), arch.map(([z, y]) => [b, y, z]), material);
}

/** The surface between two lines of as many places. */
function between(one, two, material) {
  const shape = new T.BufferGeometry();
  shape.setAttribute("position", new T.BufferAttribute(new Float32Array([...one.flat(), ...two.flat()]), 3));
  const count = one.length;
  const corners = [];
  for (let n = 0; n < count - 1; n += 1) corners.push(n, n + 1, count + n, n + 1, count + n + 1, count + n);
  shape.setIndex(corners);
  shape.computeVertexNormals();
  return new T.Mesh(shape, material);
}
