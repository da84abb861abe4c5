#!/usr/bin/python3
"""Compares the volumes that a judge has found with those that formbuck states.

Usage: volumes.py NAME INSPECT.json JUDGED.txt
INSPECT.json holds a line for each solid; JUDGED.txt a line "KEY<tab>VOLUME" for each, where KEY is the
file, followed by # and the object's name in a 3MF file. Every solid must be there, no other, and every
volume must agree to a millionth.
"""

import json
import sys

MOST = 1e-6  # relative


def stated(name):
    with open(name, encoding="utf-8") as lines:
        for line in lines:
            s = json.loads(line)
            key = s["file"] + ("#" + s["object"] if "object" in s else "")
            if s["problems"] or not s["closed"]:
                sys.exit(f"{key}: formbuck itself finds {s['problems']}")
            yield key, s["volume_mm3"]


def judged(name):
    with open(name, encoding="utf-8") as lines:
        for line in lines:
            key, volume = line.rstrip("\n").split("\t")
            yield key, float(volume)


def main():
    judge, ours, theirs = sys.argv[1], dict(stated(sys.argv[2])), dict(judged(sys.argv[3]))
    if not ours or ours.keys() != theirs.keys():
        sys.exit(f"{judge}: judged {sorted(theirs)}, formbuck has {sorted(ours)}")
    off = {key: abs(theirs[key] / volume - 1) for key, volume in ours.items()}
    for key, d in off.items():
        if not d <= MOST:
            print(f"{key}: {judge}: volume {theirs[key]}, formbuck says {ours[key]}")
    if max(off.values()) <= MOST:
        print(f"{judge}: {len(ours)} solids without a fault, volumes within {max(off.values()):.1e} of formbuck's")
    return max(off.values()) > MOST


if __name__ == "__main__":
    sys.exit(main())
