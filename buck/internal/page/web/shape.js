// Shapes: triangles with a direction for each corner, so that what is round looks round and what is
// sharp looks sharp, and the lines along sharp edges.

const crease = Math.cos((33 * Math.PI) / 180);

function shapeOf(vertices, triangles) {
  const count = triangles.length / 3;
  const flats = new Float32Array(count * 3); // unit normals
  const sizes = new Float32Array(count);
  for (let t = 0; t < count; t++) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const ux = vertices[b] - vertices[a], uy = vertices[b + 1] - vertices[a + 1], uz = vertices[b + 2] - vertices[a + 2];
    const vx = vertices[c] - vertices[a], vy = vertices[c + 1] - vertices[a + 1], vz = vertices[c + 2] - vertices[a + 2];
    const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;
    const size = Math.hypot(x, y, z) || 1;
    sizes[t] = size;
    flats[3 * t] = x / size;
    flats[3 * t + 1] = y / size;
    flats[3 * t + 2] = z / size;
  }
  const dot = (s, t) => flats[3 * s] * flats[3 * t] + flats[3 * s + 1] * flats[3 * t + 1] + flats[3 * s + 2] * flats[3 * t + 2];
  return { ...corners(vertices, triangles, flats, sizes, dot), lines: edges(vertices, triangles, sizes, dot) };
}

// corners are all corners of all triangles, each with the mean direction of those around it that lie nearly alike.
function corners(vertices, triangles, flats, sizes, dot) {
  const around = listAround(vertices.length / 3, triangles);
  const places = new Float32Array(triangles.length * 3);
  const normals = new Float32Array(triangles.length * 3);
  for (let n = 0; n < triangles.length; n++) {
    const v = triangles[n], t = (n / 3) | 0;
    let x = 0, y = 0, z = 0;
    for (let k = around.starts[v]; k < around.starts[v + 1]; k++) {
      const o = around.list[k];
      if (dot(t, o) < crease) continue;
      x += flats[3 * o] * sizes[o];
      y += flats[3 * o + 1] * sizes[o];
      z += flats[3 * o + 2] * sizes[o];
    }
    for (let k = 0; k < 3; k++) places[3 * n + k] = vertices[3 * v + k];
    normals[3 * n] = x;
    normals[3 * n + 1] = y;
    normals[3 * n + 2] = z;
  }
  return { places, normals };
}

// listAround lists the triangles around every vertex.
function listAround(count, triangles) {
  const starts = new Uint32Array(count + 1);
  for (const v of triangles) starts[v + 1]++;
  for (let v = 0; v < count; v++) starts[v + 1] += starts[v];
  const at = starts.slice(), list = new Uint32Array(triangles.length);
  triangles.forEach((v, n) => { list[at[v]++] = (n / 3) | 0; });
  return { starts, list };
}

// least is how high a triangle stands over an edge, in mm, for its direction to say anything.
const least = 0.03;

// edges are the ends of all sharp edges.
function edges(vertices, triangles, sizes, dot) {
  const seen = new Map(), count = vertices.length / 3, ends = [];
  for (let n = 0; n < triangles.length; n++) {
    const t = (n / 3) | 0;
    const a = triangles[n], b = triangles[3 * t + ((n + 1) % 3)];
    const name = a < b ? a * count + b : b * count + a;
    const other = seen.get(name);
    if (other === undefined) {
      seen.set(name, t);
    } else if (dot(t, other) < crease) {
      const [p, q] = [vertices.subarray(3 * a, 3 * a + 3), vertices.subarray(3 * b, 3 * b + 3)];
      const long = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
      if (Math.min(sizes[t], sizes[other]) > least * long) ends.push(...p, ...q);
    }
  }
  return new Float32Array(ends);
}

// ringOf is a flat ring, or a disc where the inner radius is 0, that looks along z.
function ringOf([x, y], z, side, inner, outer) {
  const places = [], normals = [], parts = 28;
  const at = (k, r) => [x + r * Math.cos((2 * Math.PI * k) / parts), y + r * Math.sin((2 * Math.PI * k) / parts), z];
  for (let k = 0; k < parts; k++) {
    const quad = [at(k, inner), at(k, outer), at(k + 1, outer), at(k + 1, inner)];
    for (const c of [0, 1, 2, 0, 2, 3]) {
      places.push(...quad[c]);
      normals.push(0, 0, side);
    }
  }
  return { places, normals };
}
