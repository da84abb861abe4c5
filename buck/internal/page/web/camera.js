// The eye: which way one looks, at what, and how much of it fits. Projection is parallel, so that a length
// looks the same wherever it lies.

class Camera {
  constructor() {
    this.look(-28, 24);
    this.pan = [0, 0];
    this.high = 100; // mm from the middle of the picture to its upper edge
    this.wide = 1; // of the picture: width by height
    this.free = false; // the user has chosen what is seen
  }

  // look turns the eye: degrees to the left of the right face's direction, and up from it.
  look(side, up) {
    this.side = ((side + 540) % 360) - 180;
    this.up = Math.max(-90, Math.min(90, up));
    const [a, b] = [(this.side * Math.PI) / 180, (this.up * Math.PI) / 180];
    const [sa, ca, sb, cb] = [Math.sin(a), Math.cos(a), Math.sin(b), Math.cos(b)];
    this.right = [ca, 0, sa];
    this.upward = [sa * sb, cb, -ca * sb];
    this.toward = [-sa * cb, sb, ca * cb];
  }

  // seen is a point as it is seen: to the right, up, towards the eye.
  seen(p) {
    const dot = (v) => v[0] * p[0] + v[1] * p[1] + v[2] * p[2];
    return [dot(this.right), dot(this.upward), dot(this.toward)];
  }

  // fit shows all of some boxes.
  fit(boxes) {
    const low = [Infinity, Infinity], high = [-Infinity, -Infinity];
    for (const [lo, hi] of boxes) {
      for (let c = 0; c < 8; c++) {
        const q = this.seen([0, 1, 2].map((k) => ((c >> k) & 1 ? hi[k] : lo[k])));
        for (const k of [0, 1]) {
          low[k] = Math.min(low[k], q[k]);
          high[k] = Math.max(high[k], q[k]);
        }
      }
    }
    if (low[0] > high[0]) return;
    this.pan = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2];
    this.high = 1.08 * Math.max((high[1] - low[1]) / 2, (high[0] - low[0]) / 2 / this.wide, 1);
  }

  zoom(factor) {
    this.high = Math.max(2, Math.min(1000, this.high / factor));
    this.free = true;
  }

  // shift moves the picture by parts of its height.
  shift(x, y) {
    this.pan = [this.pan[0] - 2 * x * this.high, this.pan[1] - 2 * y * this.high];
    this.free = true;
  }
}
