// Judges binary STL files by manifold-3d: corners made one where their coordinates are equal, then
// the library must take the mesh without a fault. Prints the name of each file and its volume.
// Usage: node manifold.mjs FILE.stl...
import {readFileSync} from 'node:fs';
import Module from 'manifold-3d';

const wasm = await Module();
wasm.setup();

// read gives the corners of all triangles as indices into distinct points.
function read(name) {
  const data = readFileSync(name);
  const count = data.readUInt32LE(80);
  if (data.length !== 84 + 50 * count) throw new Error('is no binary STL');
  const points = [];
  const index = new Map();
  const triVerts = new Uint32Array(3 * count);
  for (let i = 0; i < 3 * count; i++) {
    const at = 84 + 50 * Math.floor(i / 3) + 12 + 12 * (i % 3);
    const p = [0, 4, 8].map((k) => data.readFloatLE(at + k));
    const key = p.join();
    if (!index.has(key)) {
      index.set(key, points.length / 3);
      points.push(...p);
    }
    triVerts[i] = index.get(key);
  }
  return {numProp: 3, vertProperties: new Float32Array(points), triVerts};
}

let bad = 0;
for (const name of process.argv.slice(2)) {
  try {
    const solid = new wasm.Manifold(new wasm.Mesh(read(name)));
    if (solid.status() !== 'NoError') throw new Error(`status ${solid.status()}`);
    console.log(`${name}\t${solid.volume()}`);
    solid.delete();
  } catch (error) {
    console.log(`${name}: manifold-3d: ${error.message}`);
    bad = 1;
  }
}
process.exit(bad);
