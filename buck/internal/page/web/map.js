// The map: where the knife, drawn by so much, touches the inside of a half, and where the half has to open.

class ContactMap {
  constructor(canvas, told, data) {
    this.canvas = canvas;
    this.told = told;
    Object.assign(this, data); // map, knife, cavities, outline, handle, guard, trim
    this.image = document.createElement("canvas");
    this.image.width = this.map.nx;
    this.image.height = this.map.ny;
    const xs = this.trim.length ? this.trim.map((p) => p[0]) : [0, this.map.x + this.map.nx * this.map.step];
    const ys = this.trim.length ? this.trim.map((p) => p[1]) : [this.map.y, this.map.y + this.map.ny * this.map.step];
    this.box = [Math.min(...xs) - 30, Math.min(...ys) - 4, Math.max(...xs) + 4, Math.max(...ys) + 4];
  }

  // touch looks at every cell of a half's inside over which a part of the knife lies when it is drawn by so many cells.
  touch(cavity, cells, paint) {
    const { map, knife, told } = this, felt = told.felt + 0.004; // heights are rounded
    const sum = { free: 0, touched: 0, locked: 0, opened: 0, most: 0, at: null, left: 0 };
    const mouth = Math.ceil(-map.x / map.step - 0.5 - 1e-6);
    for (let j = 0; j < map.ny; j++) {
      for (let i = mouth; i < map.nx - cells; i++) {
        const n = j * map.nx + i, h = knife[n + cells];
        if (h <= 0) continue;
        sum.left++;
        const gap = cavity.free[n] - h, open = h - cavity.lets[n];
        let what = 0;
        if (open > felt) {
          what = this.locks(i, j, open) ? 2 : 3;
          if (what === 3 && open > sum.most) {
            sum.most = open;
            sum.at = [map.x + (i + 0.5) * map.step, map.y + (j + 0.5) * map.step];
          }
        } else if (gap < felt) {
          what = 1;
        }
        sum[["free", "touched", "locked", "opened"][what]]++;
        if (paint) paint(n, what);
      }
    }
    return sum;
  }

  // locks tells whether a half opens there by no more than the lock asks of it.
  locks(i, j, open) {
    const lock = this.told.lock;
    if (!lock || open > lock.half + 0.054) return false;
    const x = this.map.x + (i + 0.5) * this.map.step, y = this.map.y + (j + 0.5) * this.map.step;
    return x >= lock.box[0] && y >= lock.box[1] && x <= lock.box[2] && y <= lock.box[3];
  }

  // draw shows one half and gives what it found.
  draw(cavity, cells, colours) {
    const { map, box } = this, c = this.canvas, fine = Math.min(window.devicePixelRatio || 1, 2);
    c.width = Math.max(1, Math.round(c.clientWidth * fine));
    c.height = Math.round((c.width * (box[3] - box[1])) / (box[2] - box[0]));
    const scale = c.width / (box[2] - box[0]);
    const pen = c.getContext("2d");
    pen.setTransform(scale, 0, 0, -scale, -box[0] * scale, box[3] * scale);
    pen.lineWidth = 1.4 / scale * fine;
    pen.lineJoin = "round";
    this.line(pen, this.trim, colours.sheath, colours.quiet);
    const sum = this.field(pen, cavity, cells, colours);
    const turn = (map.turn * Math.PI) / 180, off = -cells * map.step;
    pen.save();
    pen.translate(off * Math.cos(turn), off * Math.sin(turn));
    this.line(pen, this.outline, null, colours.ink);
    this.line(pen, this.handle, null, colours.ink);
    this.line(pen, this.guard, null, colours.ink);
    pen.restore();
    pen.fillStyle = colours.card;
    for (const [x, y] of this.told.eyelets) {
      pen.beginPath();
      pen.arc(x, y, this.told.hole / 2, 0, 2 * Math.PI);
      pen.fill();
      pen.strokeStyle = colours.quiet;
      pen.stroke();
    }
    return sum;
  }

  field(pen, cavity, cells, colours) {
    const { map } = this, paint = this.image.getContext("2d");
    const pixels = paint.createImageData(map.nx, map.ny);
    const tones = [colours.far, colours.touch, colours.lock, colours.hit].map(rgbOf);
    const sum = this.touch(cavity, cells, (n, what) => {
      const at = 4 * n;
      pixels.data.set(tones[what], at);
      pixels.data[at + 3] = 255;
    });
    paint.putImageData(pixels, 0, 0);
    pen.save();
    pen.rotate((map.turn * Math.PI) / 180);
    pen.imageSmoothingEnabled = false;
    pen.drawImage(this.image, map.x, map.y, map.nx * map.step, map.ny * map.step);
    pen.restore();
    return sum;
  }

  line(pen, points, fill, stroke) {
    if (!points.length) return;
    pen.beginPath();
    points.forEach(([x, y], n) => (n ? pen.lineTo(x, y) : pen.moveTo(x, y)));
    pen.closePath();
    if (fill) {
      pen.fillStyle = fill;
      pen.fill();
    }
    pen.strokeStyle = stroke;
    pen.stroke();
  }
}

function rgbOf(hex) {
  const h = hex.trim().slice(1), full = h.length === 3 ? [...h].map((c) => c + c).join("") : h;
  return [0, 2, 4].map((k) => parseInt(full.slice(k, k + 2), 16));
}
