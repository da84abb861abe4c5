// The formed sheath: each half lies between the cavity, to which the press forms it, and a surface that
// is everywhere the sheet's thickness outside of it, cut along the trim line.

class Sheath {
  constructor(told, map, trim) {
    this.sheet = told.sheet;
    this.step = map.step;
    this.map = map;
    const turn = (-map.turn * Math.PI) / 180;
    [this.sin, this.cos] = [-Math.sin(turn), Math.cos(turn)];
    this.trim = trim.map(([x, y]) => [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)]);
    const xs = this.trim.map((p) => p[0]), ys = this.trim.map((p) => p[1]);
    const i0 = Math.floor((Math.min(...xs) - map.x) / map.step - 0.5) - 1, j0 = Math.floor((Math.min(...ys) - map.y) / map.step - 0.5) - 1;
    this.i0 = i0; // cell of the map under node (0, 0)
    this.j0 = j0;
    this.nx = Math.ceil((Math.max(...xs) - map.x) / map.step) - i0 + 2;
    this.ny = Math.ceil((Math.max(...ys) - map.y) / map.step) - j0 + 2;
    this.cut();
  }

  x(i) { return this.map.x + (i + this.i0 + 0.5) * this.step; }
  y(j) { return this.map.y + (j + this.j0 + 0.5) * this.step; }

  // cut finds which nodes lie within the trim line, and where it crosses the lines between them.
  cut() {
    this.inside = new Uint8Array(this.nx * this.ny);
    this.crossed = [new Map(), new Map()]; // share of the way to the next node along x, along y
    for (let j = 0; j < this.ny; j++) {
      const xs = crossings(this.trim, 1, this.y(j));
      for (const x of xs) this.crossed[0].set(j * this.nx + Math.floor((x - this.x(0)) / this.step), ((x - this.x(0)) / this.step) % 1);
      for (let i = 0, k = 0; i < this.nx; i++) {
        while (k < xs.length && xs[k] < this.x(i)) k++;
        this.inside[j * this.nx + i] = k % 2;
      }
    }
    for (let i = 0; i < this.nx; i++) {
      for (const y of crossings(this.trim, 0, this.x(i))) {
        this.crossed[1].set(Math.floor((y - this.y(0)) / this.step) * this.nx + i, ((y - this.y(0)) / this.step) % 1);
      }
    }
  }

  // half is the right half's two surfaces over a cavity and the cut edge between them; the left one is its mirror.
  half(cavity) {
    const inner = this.heights(cavity), outer = this.outer(inner);
    return { outer: this.surface(outer), inner: this.surface(inner), rim: this.rim(inner, outer) };
  }

  heights(cavity) {
    const { nx, ny, map } = this, out = new Float32Array(nx * ny);
    const mouth = Math.ceil(-map.x / map.step - 0.5 - 1e-6); // the first cell of the sheath
    for (let j = 0; j < ny; j++) {
      const mj = j + this.j0;
      for (let i = 0; i < nx; i++) {
        const mi = Math.max(i + this.i0, mouth);
        if (mj >= 0 && mj < map.ny && mi < map.nx) out[j * nx + i] = cavity[mj * map.nx + mi];
      }
    }
    return out;
  }

  // outer is what a ball of the sheet's thickness reaches from everywhere on the inner surface.
  outer(inner) {
    const { nx, ny, sheet } = this, out = new Float32Array(nx * ny).fill(sheet);
    const reach = Math.floor(sheet / this.step);
    for (let v = -reach; v <= reach; v++) {
      for (let u = -reach; u <= reach; u++) {
        const rest = sheet * sheet - (u * u + v * v) * this.step * this.step;
        if (rest < 0) continue;
        const rise = Math.sqrt(rest);
        for (let j = Math.max(0, -v); j < Math.min(ny, ny - v); j++) {
          for (let i = Math.max(0, -u), n = j * nx + i, m = n + v * nx + u; i < Math.min(nx, nx - u); i++, n++, m++) {
            if (inner[m] > 0 && inner[m] + rise > out[n]) out[n] = inner[m] + rise;
          }
        }
      }
    }
    return out;
  }

  // surface is the part of a height over the plan that lies within the trim line.
  surface(z) {
    const { nx, ny, inside } = this, build = new Builder(this, z);
    for (let j = 0; j < ny - 1; j++) {
      for (let i = 0; i < nx - 1; i++) {
        const n = j * nx + i, count = inside[n] + inside[n + 1] + inside[n + nx] + inside[n + nx + 1];
        if (count === 0) continue;
        if (count < 4) {
          build.fan(this.cell(i, j));
          continue;
        }
        let far = i + 1; // over a strip that is level all along two triangles will do
        while (z[n] === z[n + nx] && far < nx && z[n - i + far] === z[n] && z[n - i + far + nx] === z[n] && inside[n - i + far] && inside[n - i + far + nx]) far++;
        far = Math.max(i + 1, far - 1);
        build.quad(n, n - i + far);
        i = far - 1;
      }
    }
    return build.done();
  }

  // cell is the part of a cell within the trim line, its corners counted in nodes.
  cell(i, j) {
    const { nx, inside } = this, out = [];
    const ring = [[i, j], [i + 1, j], [i + 1, j + 1], [i, j + 1]];
    for (let k = 0; k < 4; k++) {
      const [a, b] = [ring[k], ring[(k + 1) % 4]];
      const here = inside[a[1] * nx + a[0]], next = inside[b[1] * nx + b[0]];
      if (here) out.push(a);
      if (here === next) continue;
      const along = a[1] === b[1] ? 0 : 1, low = [Math.min(a[0], b[0]), Math.min(a[1], b[1])];
      const share = this.crossed[along].get(low[1] * nx + low[0]) ?? 0.5;
      out.push(along === 0 ? [low[0] + share, low[1]] : [low[0], low[1] + share]);
    }
    return out;
  }

  // rim is the cut edge between two surfaces.
  rim(inner, outer) {
    const places = [], normals = [];
    this.trim.forEach((p, n) => {
      const q = this.trim[(n + 1) % this.trim.length], length = Math.hypot(q[0] - p[0], q[1] - p[1]);
      if (!length) return;
      const out = this.turned((q[1] - p[1]) / length, (p[0] - q[0]) / length);
      const at = (r, z) => {
        const x = (r[0] - this.x(0)) / this.step, y = (r[1] - this.y(0)) / this.step;
        return [...this.blade(x, y), mixed(z, this.nx, x, y)];
      };
      const quad = [at(p, inner), at(q, inner), at(q, outer), at(p, outer)];
      for (const c of [0, 1, 2, 0, 2, 3]) {
        places.push(...quad[c]);
        normals.push(...out, 0);
      }
    });
    return { places, normals };
  }

  // blade is the node (x, y) in the blade's axes, turned a direction.
  blade(x, y) { return this.turned(this.x(0) + x * this.step, this.y(0) + y * this.step); }
  turned(x, y) { return [x * this.cos - y * this.sin, x * this.sin + y * this.cos]; }
}

// Builder gathers the triangles of a surface over the nodes of a sheath.
class Builder {
  constructor(sheath, z) {
    Object.assign(this, { sheath, z, nodes: new Int32Array(z.length).fill(-1), between: new Map() });
    this.room(65536);
    this.count = 0;
    this.index = [];
  }

  room(vertices) {
    const { places, normals } = this;
    this.places = new Float32Array(3 * vertices);
    this.normals = new Float32Array(3 * vertices);
    if (!places) return;
    this.places.set(places);
    this.normals.set(normals);
  }

  // put is the vertex at (x, y), counted in nodes, that faces as the surface does at node n.
  put(x, y, n, height) {
    if (3 * this.count === this.places.length) this.room(2 * this.count);
    const { sheath, z, count } = this, nx = sheath.nx, at = 3 * count;
    const [px, py] = sheath.blade(x, y);
    const [sx, sy] = sheath.turned((z[n - 1] - z[n + 1]) / (2 * sheath.step), (z[n - nx] - z[n + nx]) / (2 * sheath.step));
    this.places[at] = px;
    this.places[at + 1] = py;
    this.places[at + 2] = height;
    this.normals[at] = sx || 0;
    this.normals[at + 1] = sy || 0;
    this.normals[at + 2] = 1;
    this.count++;
    return count;
  }

  node(n) {
    if (this.nodes[n] < 0) {
      const nx = this.sheath.nx;
      this.nodes[n] = this.put(n % nx, (n / nx) | 0, n, this.z[n]);
    }
    return this.nodes[n];
  }

  // quad lies between two nodes and those above them.
  quad(n, m) {
    const nx = this.sheath.nx, [a, b, c, d] = [this.node(n), this.node(m), this.node(m + nx), this.node(n + nx)];
    this.index.push(a, b, c, a, c, d);
  }

  fan(corners) {
    const nx = this.sheath.nx;
    const at = corners.map(([x, y]) => {
      const n = Math.round(y) * nx + Math.round(x);
      if (x % 1 === 0 && y % 1 === 0) return this.node(n);
      const name = x * 4096 + y;
      if (!this.between.has(name)) this.between.set(name, this.put(x, y, n, mixed(this.z, nx, x, y)));
      return this.between.get(name);
    });
    for (let k = 2; k < at.length; k++) this.index.push(at[0], at[k - 1], at[k]);
  }

  done() {
    return { places: this.places.slice(0, 3 * this.count), normals: this.normals.slice(0, 3 * this.count), index: new Uint32Array(this.index) };
  }
}

// crossings are where a closed line crosses x or y, whichever along names, in order.
function crossings(line, along, level) {
  const found = [];
  line.forEach((p, n) => {
    const q = line[(n + 1) % line.length];
    if (p[along] < level !== q[along] < level) {
      found.push(p[1 - along] + ((level - p[along]) / (q[along] - p[along])) * (q[1 - along] - p[1 - along]));
    }
  });
  return found.sort((a, b) => a - b);
}

// mixed is a height between nodes.
function mixed(z, nx, x, y) {
  const i = Math.floor(x), j = Math.floor(y), u = x - i, v = y - j, n = j * nx + i;
  const east = u > 0 ? 1 : 0, up = v > 0 ? nx : 0;
  return (z[n] * (1 - u) + z[n + east] * u) * (1 - v) + (z[n + up] * (1 - u) + z[n + up + east] * u) * v;
}
