// Handling: pointers, wheel and keys that turn the scene.

class Handling {
  constructor(canvas, camera, changed, home) {
    Object.assign(this, { canvas, camera, changed, home });
    this.down = new Map();
    canvas.addEventListener("pointerdown", (e) => {
      canvas.setPointerCapture(e.pointerId);
      this.down.set(e.pointerId, [e.clientX, e.clientY]);
    });
    canvas.addEventListener("pointermove", (e) => this.move(e));
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (e) => this.down.delete(e.pointerId));
    canvas.addEventListener("wheel", (e) => {
      e.preventDefault();
      this.done(() => camera.zoom(Math.exp(-Math.max(-200, Math.min(200, e.deltaY)) * 0.0015)));
    }, { passive: false });
    canvas.addEventListener("keydown", (e) => this.key(e));
  }

  done(change) {
    change();
    this.changed();
  }

  move(e) {
    const was = this.down.get(e.pointerId);
    if (!was) return;
    const now = [e.clientX, e.clientY], high = this.canvas.clientHeight;
    const [dx, dy] = [now[0] - was[0], now[1] - was[1]];
    if (this.down.size === 2) {
      const other = [...this.down].find(([id]) => id !== e.pointerId)[1];
      const apart = (p) => Math.max(1, Math.hypot(p[0] - other[0], p[1] - other[1]));
      this.camera.zoom(apart(now) / apart(was));
      this.camera.shift(dx / 2 / high, -dy / 2 / high);
    } else if (e.shiftKey || e.buttons === 2 || e.buttons === 4) {
      this.camera.shift(dx / high, -dy / high);
    } else {
      this.camera.look(this.camera.side - dx * 0.4, this.camera.up + dy * 0.4);
    }
    this.down.set(e.pointerId, now);
    this.changed();
  }

  key(e) {
    const c = this.camera, d = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (d && e.shiftKey) this.done(() => c.shift(0.04 * d[0], 0.04 * d[1]));
    else if (d) this.done(() => c.look(c.side - 6 * d[0], c.up - 6 * d[1]));
    else if (e.key === "+" || e.key === "=") this.done(() => c.zoom(1.15));
    else if (e.key === "-") this.done(() => c.zoom(1 / 1.15));
    else if (e.key === "Home") this.home();
    else return;
    e.preventDefault();
  }
}
