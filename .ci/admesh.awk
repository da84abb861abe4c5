#!/usr/bin/awk -f
# Judges what admesh says of an STL file against what formbuck says of it.
# Usage: admesh.awk INSPECT.json ADMESH.txt
# admesh repairs what it finds and counts the repairs; a file without a fault needs none.

FNR == 1 { file++ }

file == 1 {
  volume = number($0, "volume_mm3")
  triangles = number($0, "triangles")
  shells = number($0, "shells")
  name = $0
  sub(/.*"file":"[^"]*\//, "", name)
  sub(/".*/, "", name)
}

function number(text, key) {
  if (!match(text, "\"" key "\":[-0-9.e+]+")) return ""
  return substr(text, RSTART + length(key) + 3, RLENGTH - length(key) - 3)
}

function complain(what) {
  print name ": admesh: " what
  bad = 1
}

file == 2 && /^Number of facets/ { seen++; if ($5 != triangles) complain("facets " $5 ", formbuck says " triangles) }
file == 2 && /^(Facets with [123] disconnected|Total disconnected)/ { seen++; if ($(NF - 1) != 0) complain($0) }
file == 2 && /^(Degenerate facets|Edges fixed|Facets removed|Facets added|Facets reversed|Backwards edges|Normals fixed)/ {
  seen++
  if ($NF != 0) complain($0)
}
file == 2 && /^Number of parts/ {
  seen++
  parts = $5
  theirs = $NF
  if (parts != shells) complain("parts " parts ", formbuck says " shells)
  # admesh adds up in float32: a part in ten thousand is what that leaves sure.
  off = theirs / volume - 1
  if (off > 1e-4 || off < -1e-4) complain("volume " theirs ", formbuck says " volume)
}

END {
  if (seen != 13) complain("only " seen + 0 " of 13 lines understood")
  if (!bad) printf "%s: %d facets, %d part(s), 0 open edges, 0 repairs, volume %s (formbuck: %s)\n", name, triangles, parts, theirs, volume
  exit bad
}
