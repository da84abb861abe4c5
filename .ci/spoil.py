#!/usr/bin/python3
"""Takes one triangle out of a binary STL or a 3MF file: what a judge that judges must refuse.

Usage: spoil.py IN OUT
"""

import re
import struct
import sys
import zipfile


def main():
    source, target = sys.argv[1:]
    if source.endswith(".stl"):
        with open(source, "rb") as f:
            data = f.read()
        (count,) = struct.unpack("<I", data[80:84])
        with open(target, "wb") as f:
            f.write(data[:80] + struct.pack("<I", count - 1) + data[84:-50])
        return
    with zipfile.ZipFile(source) as z, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as out:
        for name in z.namelist():
            data = z.read(name)
            if name.endswith(".model"):
                data = re.sub(rb"<triangle [^>]*/>", b"", data, count=1)
            out.writestr(name, data)


if __name__ == "__main__":
    main()
