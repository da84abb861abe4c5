#!/usr/bin/awk -f
# Prints the folder of each test that asks how much of its property to try (testdata/size), and its
# name. A call that is not in a test itself would go unseen by .ci/run full, and is a fault.
FNR == 1 { test = "" }
/^func / { test = match($0, /^func Test[A-Za-z0-9_]*\(/) ? substr($0, 6, RLENGTH - 6) : "" }
/size\.(Full|Of|Or)\(/ {
  if (test == "") {
    print FILENAME ":" FNR ": asked outside of a test" >"/dev/stderr"
    bad = 1
    next
  }
  folder = FILENAME
  sub(/\/[^\/]*$/, "", folder)
  if (!seen[folder, test]++) print folder, test
}
END { exit bad }
