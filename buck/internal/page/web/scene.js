// The scene: bodies drawn with WebGL2. Light hangs at the eye, a key from above and left and a sky that is brighter
// above, so that every view is lit alike.

const seeing = `#version 300 es
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 normal;
uniform mat3 turn;
uniform vec3 moved;
uniform float side; // -1: mirrored to the left face
uniform vec4 frame; // what is in the middle, and by what to go from mm to the picture's edge
uniform vec2 deep;
out vec3 facing;
void main() {
  vec3 way = vec3(1.0, 1.0, side);
  vec3 e = turn * (place * way + moved);
  gl_Position = vec4((e.xy - frame.xy) * frame.zw, deep.y - e.z * deep.x, 1.0);
  facing = turn * (normal * way);
}`;

const lighting = `#version 300 es
precision highp float;
in vec3 facing;
uniform vec4 colour;
uniform float flat_;
out vec4 seen;
void main() {
  if (flat_ > 0.5) { seen = colour; return; }
  vec3 n = normalize(facing);
  if (n.z < 0.0) n = -n;
  float key = max((dot(n, vec3(-0.40, 0.60, 0.693)) + 0.45) / 1.45, 0.0);
  float fill = max(dot(n, vec3(0.83, -0.05, 0.555)), 0.0);
  float shine = pow(max(dot(n, vec3(-0.2174, 0.3261, 0.92)), 0.0), 16.0);
  float light = 0.36 + 0.10 * n.y + 0.66 * key * key + 0.06 * fill * fill;
  vec3 lit = pow(colour.rgb, vec3(2.2)) * light + 0.07 * shine;
  seen = vec4(pow(min(lit, vec3(1.0)), vec3(1.0 / 2.2)) * colour.a, colour.a);
}`;

class Scene {
  constructor(canvas) {
    this.canvas = canvas;
    const gl = canvas.getContext("webgl2", { antialias: true, alpha: false, preserveDrawingBuffer: true });
    if (!gl) throw new Error("no WebGL2");
    this.gl = gl;
    this.program = programOf(gl, seeing, lighting);
    this.at = {};
    for (const name of ["turn", "moved", "side", "frame", "deep", "colour", "flat_"]) this.at[name] = gl.getUniformLocation(this.program, name);
    this.bodies = [];
    this.ground = [1, 1, 1];
    gl.useProgram(this.program);
    gl.enable(gl.DEPTH_TEST);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
  }

  // add puts a body into the scene: what the shape is, its colour and how it is drawn.
  add(body) {
    const gl = this.gl;
    body.box = boxOf(body.shape.places);
    body.mesh = this.buffer(body.shape.places, body.shape.normals, body.shape.index);
    body.edge = body.shape.lines && body.shape.lines.length ? this.buffer(body.shape.lines) : null;
    delete body.shape;
    this.bodies.push(body);
    gl.bindVertexArray(null);
    return body;
  }

  // mirrored is a body of the right half as one of the left half.
  mirrored(body) {
    const [lo, hi] = body.box, other = { ...body, face: "left", side: -1, box: [[lo[0], lo[1], -hi[2]], [hi[0], hi[1], -lo[2]]] };
    this.bodies.push(other);
    return other;
  }

  buffer(places, normals, index) {
    const gl = this.gl, array = gl.createVertexArray();
    gl.bindVertexArray(array);
    [places, normals].forEach((list, n) => {
      if (!list) return;
      gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ARRAY_BUFFER, list instanceof Float32Array ? list : new Float32Array(list), gl.STATIC_DRAW);
      gl.vertexAttribPointer(n, 3, gl.FLOAT, false, 0, 0);
      gl.enableVertexAttribArray(n);
    });
    if (index) {
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, index, gl.STATIC_DRAW);
    }
    return { array, count: index ? index.length : places.length / 3, indexed: Boolean(index) };
  }

  // resize makes the picture as fine as the screen is.
  resize() {
    const fine = Math.min(window.devicePixelRatio || 1, 2);
    const [w, h] = [Math.round(this.canvas.clientWidth * fine), Math.round(this.canvas.clientHeight * fine)];
    if (w && h && (this.canvas.width !== w || this.canvas.height !== h)) {
      this.canvas.width = w;
      this.canvas.height = h;
    }
    return this.canvas.width / this.canvas.height;
  }

  draw(camera) {
    const gl = this.gl, shown = this.bodies.filter((b) => b.shown);
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(...this.ground, 1);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    const { right: r, upward: u, toward: t } = camera;
    gl.uniformMatrix3fv(this.at.turn, false, [r[0], u[0], t[0], r[1], u[1], t[1], r[2], u[2], t[2]]);
    gl.uniform4f(this.at.frame, ...camera.pan, 1 / (camera.high * camera.wide), 1 / camera.high);
    const deep = depths(shown, camera);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(0, 16); // a factor would push needle triangles out through what is before them
    this.deep = [2 / (deep[1] - deep[0]), (deep[1] + deep[0]) / (deep[1] - deep[0])];
    for (const b of shown) if (!b.glass) this.body(b, 1);
    for (const b of shown) if (b.glass) this.glass(b);
    gl.bindVertexArray(null);
  }

  body(b, cover) {
    const gl = this.gl;
    gl.uniform2f(this.at.deep, ...this.deep);
    gl.uniform3f(this.at.moved, ...(b.moved || [0, 0, 0]));
    gl.uniform1f(this.at.side, b.side || 1);
    gl.uniform4f(this.at.colour, ...b.colour, cover);
    gl.uniform1f(this.at.flat_, 0);
    this.run(b.mesh, gl.TRIANGLES);
    if (!b.edge || cover < 1) return;
    gl.uniform4f(this.at.colour, ...(b.marked ? [0.85, 0.2, 0.1] : b.colour.map((c) => 0.45 * c)), 1);
    gl.uniform1f(this.at.flat_, 1);
    this.run(b.edge, gl.LINES);
  }

  // glass draws only what is nearest of a body, over what lies behind it.
  glass(b) {
    const gl = this.gl;
    gl.colorMask(false, false, false, false);
    this.body(b, 0.5);
    gl.colorMask(true, true, true, true);
    gl.depthMask(false);
    gl.depthFunc(gl.EQUAL);
    gl.enable(gl.BLEND);
    this.body(b, 0.42);
    gl.disable(gl.BLEND);
    gl.depthFunc(gl.LESS);
    gl.depthMask(true);
  }

  run(mesh, mode) {
    const gl = this.gl;
    gl.bindVertexArray(mesh.array);
    if (mesh.indexed) gl.drawElements(mode, mesh.count, gl.UNSIGNED_INT, 0);
    else gl.drawArrays(mode, 0, mesh.count);
  }
}

function programOf(gl, ...sources) {
  const program = gl.createProgram();
  sources.forEach((source, n) => {
    const shader = gl.createShader(n ? gl.FRAGMENT_SHADER : gl.VERTEX_SHADER);
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  });
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) throw new Error("the shaders do not link");
  return program;
}

// depths is from where to where, towards the eye, there is something.
function depths(bodies, camera) {
  let low = -1, high = 1;
  for (const b of bodies) {
    for (let c = 0; c < 8; c++) {
      const z = camera.seen([0, 1, 2].map((k) => b.box[(c >> k) & 1][k] + (b.moved ? b.moved[k] : 0)))[2];
      low = Math.min(low, z);
      high = Math.max(high, z);
    }
  }
  return [low - 1, high + 1];
}

function boxOf(places) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (let n = 0; n < places.length; n++) {
    low[n % 3] = Math.min(low[n % 3], places[n]);
    high[n % 3] = Math.max(high[n % 3], places[n]);
  }
  return [low, high];
}
