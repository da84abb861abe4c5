// Start: the page works without any of this; where the browser can, it comes alive.

async function start() {
  const told = JSON.parse(by("told").textContent);
  const from = await unpack(by("packed").textContent);
  const step = told.step;
  const meshes = told.parts.map((p) => ({
    vertices: from.lengths(p.vertices, 3, step),
    triangles: from.list(p.triangles, 3, new Uint32Array(3 * p.triangles)),
  }));
  document.body.classList.add("live");
  const page = new Page(told, meshes, new Scene(by("scene")));
  await new Promise((seen) => requestAnimationFrame(() => setTimeout(seen)));
  const map = told.map, data = { map, cavities: {} };
  for (const name of ["outline", "handle", "guard", "trim"]) data[name] = from.points(told[name], step);
  data.knife = from.field(map.nx, map.ny, map.high);
  for (const name of told.cavities) {
    const free = from.field(map.nx, map.ny, map.high), lets = from.field(map.nx, map.ny, map.high);
    data.cavities[name] = { free, lets: lets.map((v, n) => v + free[n]) };
  }
  data.maps = new ContactMap(by("map"), told, data);
  page.live(data);
  document.body.dataset.live = Math.round(performance.now());
}

start().catch((why) => {
  document.body.classList.remove("live");
  document.body.dataset.still = why.message || String(why);
});
