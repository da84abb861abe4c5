package main

const batchLong = `Turn a list of orders into a plan for the shop: what to print, cut, press, drill and count, and
when. The list is a table in CSV whose first line names its columns:

  order      its name, once in the list
  variant    the variant file, seen from the list's folder
  hand       right, left, both or plain
  colour     of the sheet
  gauge      of the sheet, where it is not the variant's: 2.4 or "0.093 in"
  quantity   how many sheaths
  due        the day it has to be done, as 2026-12-24 or 24.12.2026
  note       what goes along with it

gauge, due and note may be left out; any other column goes along to the travellers as it is.
Fields may be parted by semicolons or tabs too, and then 2,4 is a gauge like 2.4. What the shop
has and how long its steps take stands in shop.toml beside the list, or in the file that --shop
names: stock sheets, presses, bucks that are owned, supplies, and the drawer: job folders whose
pieces are printed already.

The folder gets bucks/NAME, the job folder of each variant, and plan with what is pinned up
(plan.pdf; day-1.png and so on), fetched (picklist.pdf) and goes along with the orders
(travellers.pdf), a drawing of each sheet to be cut (DXF, SVG), the cut list (cuts.csv), the steps
in their time (steps.csv) and, for each day, one run of the mill for each set-up and tool
(day-1-drill.ngc, day-1-posts.ngc, day-1-trim.ngc), which stops for the work to be changed and was
proved; mill.pdf lists the works of each. The two blanks of a sheath lie one way on the sheets;
where a variant states layout.extrusion, they lie as it says.

What make warns of is told at every run and stands on the papers; what spoils a sheath stands
first on the plan. What is done is kept in status.csv: mark it with --done, and the rest is
planned anew. A run that was stopped goes on where it was.

A shop file with all of its keys follows. List your sheets; of the rest, what is left
out is as here (bucks, supplies and drawer: none). Times are minutes, lengths mm or a quantity in
quotes.

`

const batchExample = `  formbuck batch week.csv                        plan the week's orders into the folder week
  formbuck batch week.csv --start 2026-12-07     say who is late
  formbuck batch week.csv --done 1041=press      order 1041 is pressed; plan the rest
  formbuck batch week.csv --shop other.toml      with another shop
  formbuck batch week.csv --json | jq .late`

// shopExample is a shop file with every key: the usual shop, and one each of what is listed.
const shopExample = `  drawer = ["thistle", "otter"]  # job folders whose pieces are printed

  [day]
  begins = "08:00"
  hours = 8

  [heat]
  places = 1                # pairs that are heated at once
  minutes_per_mm = 3.5      # of gauge

  [press]
  presses = 1
  minutes = 15              # until the pair can be taken out cold
  change_buck = 5
  change_gauge = 10
  change_colour = 1

  [mill]
  mills = 1
  set_up = 3                # a pair or a half put on and taken off, for each program
  hole = 0.15
  minutes_per_mm = 0.0011   # along the trim line, both passes
  posts_by_hand = false     # true: the posts' holes are drilled at the bench

  [bench]
  people = 1
  split = 2
  post = 1.5                # each hole, where posts are drilled by hand
  finish = 20
  eyelet = 0.5              # each

  [saw]
  kerf = 3
  keep = 80                 # rests as wide as this both ways go back on the shelf

  [[sheet]]                 # a kind of stock sheet, its extrusion along the height
  colour = "moss"
  gauge = "0.080 in"
  width = "24 in"
  height = "48 in"
  count = 4                 # 0: as many as it takes

  [[buck]]                  # bucks that are there already
  variant = "thistle"       # its name
  hand = "right"
  count = 1

  [[supply]]                # on the shelf: eyelet, plate, screw or clip
  name = "eyelet"
  count = 200`
