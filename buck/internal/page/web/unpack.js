// What is packed: whole numbers, each as its difference from the one before, in groups of seven bits,
// the low ones first; the sign is the lowest bit. All of it is deflated and written in base 64.

async function unpack(text) {
  const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const flow = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Reader(new Uint8Array(await new Response(flow).arrayBuffer()));
}

class Reader {
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }

  number() {
    let value = 0, factor = 1, byte;
    do {
      byte = this.bytes[this.at++];
      value += (byte & 127) * factor;
      factor *= 128;
    } while (byte > 127);
    return value % 2 ? -(value + 1) / 2 : value / 2;
  }

  // list reads so many groups of numbers, each number told from the same one of the group before.
  list(groups, size, into) {
    const last = new Array(size).fill(0);
    for (let n = 0; n < groups; n++) {
      for (let k = 0; k < size; k++) {
        last[k] += this.number();
        into[n * size + k] = last[k];
      }
    }
    return into;
  }

  // lengths are numbers of steps, in mm.
  lengths(groups, size, step) {
    const into = this.list(groups, size, new Float32Array(groups * size));
    return into.map((v) => v * step);
  }

  // field is a height for every cell, told from the one before in its row, or from the row before.
  field(nx, ny, step) {
    const into = new Float32Array(nx * ny);
    let first = 0;
    for (let j = 0; j < ny; j++) {
      let last = first;
      for (let i = 0; i < nx; i++) {
        last += this.number();
        into[j * nx + i] = last * step;
        if (i === 0) first = last;
      }
    }
    return into;
  }

  points(count, step) {
    const flat = this.lengths(count, 2, step);
    return Array.from({ length: count }, (_, n) => [flat[2 * n], flat[2 * n + 1]]);
  }
}
