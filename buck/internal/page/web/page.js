// The page: what is shown, from where, and how far the knife is drawn.

const by = (id) => document.getElementById(id);

class Page {
  // The page shows knife and pieces first; the rest of what is packed is read once these are seen.
  constructor(told, meshes, scene) {
    this.told = told;
    this.scene = scene;
    this.camera = new Camera();
    this.hand = told.hands.find((h) => h.name === told.start) || told.hands[0];
    this.cells = 0;
    this.rows = told.parts.map((part, n) => ({
      name: part.name, label: part.label, hands: part.hands, on: part.on,
      bodies: [scene.add({ shape: shapeOf(meshes[n].vertices, meshes[n].triangles), colour: part.colour, draws: part.draws })],
    }));
    this.colours();
    this.camera.look(this.askew(), 24);
    this.now();
  }

  // live adds sheath, map and controls.
  live(data) {
    this.data = data;
    if (data.trim.length) this.sheath();
    this.controls();
    this.listen();
    this.carry(this.hand.name);
  }

  // sheath adds the two halves, for a face with a boss and for one without.
  sheath() {
    const { told, data, scene } = this, colour = [0.87, 0.8, 0.7];
    const sheath = new Sheath(told, data.map, data.trim);
    this.glassy = true;
    const halves = Object.entries(data.cavities).flatMap(([kind, cavity]) => {
      const half = sheath.half(cavity.free), common = { colour, kind, face: "right", sheet: true };
      return [["outer", false], ["rim", false], ["inner", true]].map(([name, within]) => scene.add({ ...common, within, shape: half[name] }));
    });
    for (const [face, side] of [["left", -1], ["right", 1]]) {
      const row = { name: face + " half", label: "sheath, " + face + " half", hands: null, on: true, colour };
      row.bodies = side > 0 ? halves : halves.map((b) => scene.mirrored(b));
      const ring = (at, z, inner, outer, colour, kind) => row.bodies.push(scene.add({ colour, kind, face, shape: ringOf(at, side * z, side, inner, outer) }));
      const dark = [0.2, 0.2, 0.22], rivet = [0.72, 0.55, 0.3];
      for (const p of told.posts) if (p.face === face) ring([p.x, p.y], p.z + 0.06, 0, p.d / 2, dark, "boss");
      for (const e of told.eyelets) {
        ring(e, told.sheet + 0.06, told.hole / 2, told.flange / 2, rivet);
        ring(e, told.sheet + 0.06, 0, told.hole / 2, dark);
      }
      this.rows.push(row);
    }
  }

  controls() {
    const { told } = this;
    for (const h of told.hands) {
      const box = field("radio", h.name, () => this.carry(h.name));
      box.input.name = "hand";
      by("hands").append(box.label);
      h.input = box.input;
    }
    for (const row of this.rows) {
      const box = field("checkbox", row.label, () => { row.on = box.input.checked; this.show(); });
      box.input.checked = row.on;
      box.input.dataset.part = row.name;
      row.field = box.label;
      const dab = document.createElement("span");
      dab.className = "dab";
      dab.style.background = `rgb(${(row.colour || row.bodies[0].colour).map((c) => Math.round(255 * c))})`;
      box.input.after(dab);
      const mark = (on) => () => { for (const b of row.bodies) b.marked = on; this.show(); };
      for (const [event, on] of [["focusin", true], ["focusout", false], ["mouseenter", true], ["mouseleave", false]]) box.label.addEventListener(event, mark(on));
      by("pieces").append(box.label);
    }
    if (this.data.trim.length) {
      const box = field("checkbox", "see through the sheath", () => { this.glassy = box.input.checked; this.show(); });
      box.input.checked = this.glassy;
      by("pieces").append(box.label);
    }
    const looks = [["right face", 0, 0], ["left face", 180, 0], ["three-quarter", null, 24], [told.sides[1], 0, 90], [told.sides[0], 0, -90], ["tip", -90, 0], ["mouth", 90, 0]];
    for (const [name, side, up] of looks) by("looks").append(button(name, () => this.look(side ?? this.askew(), up)));
    this.faces = ["left", "right"].map((face) => {
      const b = button(face + " half", () => this.turnMap(face));
      by("faces").append(b);
      return [face, b];
    });
    this.last = Math.ceil(this.told.tip / this.data.map.step) + 2;
    by("out").max = this.last; // the slider counts cells of the map
    by("key").append(...[["far", "over it, clear"], ["touch", "touches"], ["lock", "locks, as it should"], ["hit", "has to open"]]
      .filter(([name]) => name !== "lock" || told.lock).map(([name, text]) => keyOf(name, text)));
    by("panel").hidden = by("draw").hidden = false;
  }

  // askew is from where the boss of the hand is seen.
  askew() { return this.hand.faces[0] === "left" ? 152 : -28; }

  // carry changes the hand.
  carry(name) {
    this.hand = this.told.hands.find((h) => h.name === name);
    this.hand.input.checked = true;
    for (const row of this.rows) row.field.hidden = Boolean(row.hands) && !row.hands.includes(name);
    this.map = this.hand.faces.length ? (this.hand.faces[0] === "left" ? "right" : "left") : "right";
    this.look(this.askew(), 24);
  }

  turnMap(face) {
    this.map = face;
    this.show();
  }

  look(side, up) {
    this.camera.look(side, up);
    this.camera.free = false;
    this.show();
  }

  // carries tells whether a half has the boss.
  carries(face) { return this.hand.faces.includes(face) && this.told.cavities.includes("boss"); }

  // cavity is the inside of a half.
  cavity(face) { return this.data.cavities[this.carries(face) ? "boss" : "plain"]; }

  listen() {
    const canvas = this.scene.canvas;
    new Handling(canvas, this.camera, () => this.show(), () => this.look(this.askew(), 24));
    by("out").addEventListener("input", () => { this.stop(); this.pull(Number(by("out").value)); });
    by("run").addEventListener("click", () => (this.running ? this.stop() : this.start()));
    by("panel").addEventListener("submit", (e) => e.preventDefault());
    window.addEventListener("resize", () => this.show());
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { this.colours(); this.show(); });
    canvas.addEventListener("webglcontextlost", () => document.body.classList.remove("live"));
  }

  // start draws the knife out in four seconds, or in one step for those who want nothing to move.
  start() {
    if (this.cells >= this.last) this.cells = 0;
    if (window.matchMedia("(prefers-reduced-motion: reduce)").matches) return this.pull(this.last);
    const from = this.cells, begin = performance.now();
    const step = (now) => {
      if (this.running === 0) return;
      this.pull(Math.min(this.last, from + Math.floor(Math.max(0, now - begin) / 4000 * this.last)));
      this.running = this.cells < this.last ? requestAnimationFrame(step) : 0;
      by("run").setAttribute("aria-pressed", String(this.running !== 0));
    };
    this.running = requestAnimationFrame(step);
    by("run").setAttribute("aria-pressed", "true");
  }

  stop() {
    cancelAnimationFrame(this.running);
    this.running = 0;
    by("run").setAttribute("aria-pressed", "false");
  }

  pull(cells) {
    this.cells = cells;
    this.show();
  }

  colours() {
    const style = getComputedStyle(document.documentElement);
    this.tones = {};
    for (const name of ["card", "ink", "quiet", "sheath", "far", "touch", "lock", "hit"]) this.tones[name] = style.getPropertyValue("--" + name).trim();
    this.scene.ground = rgbOf(this.tones.card).map((c) => c / 255);
  }

  // show draws everything anew, once before the next picture of the screen.
  show() {
    if (this.due) return;
    this.due = true;
    requestAnimationFrame(() => { this.due = false; this.now(); });
  }

  now() {
    const map = this.told.map, turn = (map.turn * Math.PI) / 180, far = -this.cells * map.step;
    for (const row of this.rows) {
      for (const b of row.bodies) {
        const mine = b.kind ? (b.kind === "boss") === this.carries(b.face) : !row.hands || row.hands.includes(this.hand.name);
        b.shown = row.on && mine && !(b.within && this.glassy);
        b.glass = Boolean(b.sheet && this.glassy);
        if (b.draws) b.moved = [far * Math.cos(turn), far * Math.sin(turn), 0];
      }
    }
    this.camera.wide = this.scene.resize() || 1;
    if (!this.camera.free) this.fit();
    this.scene.draw(this.camera);
    if (this.data) this.contacts();
    if (!document.body.dataset.first) document.body.dataset.first = Math.round(performance.now());
  }

  fit() {
    const boxes = this.scene.bodies.filter((b) => b.shown).map((b) => [b.box[0], b.box[1]].map((p) => p.map((v, k) => v + (b.moved ? b.moved[k] : 0))));
    this.camera.fit(boxes);
  }

  // contacts draws the map and says what it shows.
  contacts() {
    const { map, maps } = this.data, area = map.step * map.step;
    for (const [face, b] of this.faces) b.setAttribute("aria-pressed", String(face === this.map));
    const sum = maps.draw(this.cavity(this.map), this.cells, this.tones);
    const far = this.cells * map.step;
    let text = `${far.toFixed(1)} mm: `;
    if (!sum.left) text += "the knife is out";
    else text += `touches on ${(sum.touched * area).toFixed(0)} mm²`;
    if (sum.locked) text += ", locks";
    if (sum.opened) text += `, has to open by ${sum.most.toFixed(2)} mm at (${sum.at.map((v) => v.toFixed(1)).join(", ")})`;
    by("said").textContent = text;
    by("out").value = this.cells;
    by("out").setAttribute("aria-valuetext", text);
  }
}

function field(type, text, changed) {
  const label = document.createElement("label"), input = document.createElement("input"), words = document.createElement("span");
  input.type = type;
  words.textContent = text;
  label.append(input, words);
  input.addEventListener("change", changed);
  return { label, input };
}

function button(text, pressed) {
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = text;
  b.addEventListener("click", pressed);
  return b;
}

function keyOf(name, text) {
  const span = document.createElement("span"), dab = document.createElement("span");
  dab.className = "dab";
  dab.style.background = `var(--${name})`;
  span.append(dab, text);
  return span;
}
