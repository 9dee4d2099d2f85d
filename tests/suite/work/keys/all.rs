//! A project that uses every key of the format; it is read, and need not be a good one.

/// A project that uses every key; whether it is a good one is no matter here.
pub const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
serial = "D-014"
registration = "N00DN"
[project]
unit = "inch"
second = "mm"
torque = "in-lb"
paper = "us-letter"
specs = "specs"
output = "output"
pictures = "pictures"
archive = "archive"
words = "english"
spare = 10
date = 2026-03-02
[[role]]
id = "builder"
word = "Builder"
may = ["do", "look"]
asks = ["licence no."]
says = "It is done."
[[role]]
id = "inspector"
may = ["look", "release"]
[[role]]
id = "technical counselor"
may = "advise"
[[stage]]
id = "S1"
name = "Before closing"
sign = { all = ["inspector"], any = ["B1"], other = true }
releases = ["B"]
outcomes = ["seen", "not seen"]
go-on = ["seen"]
[[stage]]
id = "S2"
name = "Box before closing"
sign = { all = ["inspector"] }
[[procedure]]
id = "shop-prime"
revision = "B"
text = "Thin coats."
tools = ["spray gun"]
uses = ["masking tape"]
cure = "24 h"
source = "common practice"
minutes = { step = 10, hole = 0.25 }
[[procedure]]
id = "shop-rivet"
revision = "A"
text = "Slow and square."
[board]
first = ["A"]
later = ["B"]
[[board.wait]]
traveler = "B"
hand = "left"
for = "part"
what = "plates"
until = 2026-03-09
[shop]
drills = ["0.098", "0.1285"]
sheets = ["0.032", "0.040"]
rivets = ["1/8", "5/32"]
[[signer]]
initials = "B1"
name = "The builder"
role = "builder"
[[space]]
id = "bay"
name = "Bay"
hold = "inspector"
holds = "fuel"
hands = ["left", "right"]
[[space]]
id = "box"
name = "Box"
stage = "S2"
[[part]]
id = "P3"
name = "Bottom skin"
material = "2024-T3"
thickness = "0.050"
look-alike = "P1"
bend = { radius = "3/16", angle = 80, grain = "along" }
fitted = true
[callouts]
"R-A" = "MS20470AD4-5"
[[fastener]]
id = "K-1"
kind = "blind-rivet"
diameter = "1/8"
hole = ["0.128", "0.133"]
grip = ["0.020", "0.125"]
head = "protruding"
material = "aluminium"
source = "kit drawing H-2"
[[fastener]]
id = "K-BOLT"
kind = "bolt"
diameter = "0.190"
thread = "10-32"
length = "1.5"
thread-length = "0.5"
property-class = "8.8"
drilled-shank = true
pin-hole = "0.07"
source = "kit drawing H-4"
[[fastener]]
id = "K-NUT"
kind = "nut"
diameter = "0.190"
thread = "10-32"
height = "0.26"
self-locking = true
castle = false
source = "kit drawing H-4"
[[fastener]]
id = "K-WASHER"
kind = "washer"
diameter = "0.190"
thickness = "0.063"
source = "kit drawing H-4"
[[torque]]
thread = "10-32"
class = "8.8"
nut = "self-locking"
lubrication = "dry"
low = "20 in-lb"
high = "25 in-lb"
most = "40 in-lb"
source = "kit drawing H-4"
[[drawing]]
sheet = "W-1"
title = "Bay"
revision = "C"
date = 2026-03-02
[[stock]]
item = "MS20470AD4-5"
on-hand = 3
bin = "drawer 7"
[[caution]]
id = "hot"
word = "WARNING"
text = "The iron is hot."
kinds = ["bond"]
words = ["iron"]
closes = false
general = false
signs = ["M009"]
[[caution]]
id = "eye-protection"
omit = true
because = "worn all day"
[[tool]]
id = "wrench"
name = "Torque wrench"
calibrated = 2026-01-01
"#;

pub const EARLIER: &str = r#"
[traveler]
id = "B"
title = "Before"
revision = "A"
[[joint]]
id = "K1"
stack = [{ material = "2024-T3", thickness = "0.040" }]
fastener = "MS20470AD4-4"
count = 1
[[step]]
id = "s"
title = "Level"
do = "level"
"#;

/// A traveler with usual steps and what can be said of them.
pub const USUAL: &str = r#"
[traveler]
id = "U"
title = "Clip"
revision = "A"
steps = "usual"
closes = ["box"]
[[part]]
id = "U1"
name = "Clip"
[[part]]
id = "U2"
name = "Rib"
[[joint]]
id = "J1"
stack = ["U1", "U2"]
fastener = "MS20470AD4-4"
count = 4
[[step]]
id = "deburr"
omit = true
because = "made by others"
[[step]]
id = "prime"
procedure = "shop-prime"
[[step]]
id = "rivet"
procedure = "shop-rivet"
[[step]]
id = "level"
title = "Level"
do = "level"
before = "drill"
[[step]]
id = "again"
title = "Level again"
do = "level"
behind = "drill"
"#;

pub const TRAVELER: &str = r##"
[traveler]
id = "A"
title = "Box"
revision = "A"
hands = ["left", "right"]
drawings = ["W-1:C"]
after = ["B"]
packet = "both hands"
picture = { file = "row.png", width = "80 mm", marks = { J1 = "30 %, 45 %" } }
summary = "A box."
[[part]]
id = "P1"
name = "Rib"
quantity = 2
material = "2024-T3"
thickness = 0.063
look-alike = "P2"
bend = { radius = "3/16", angle = 80, grain = "along" }
fitted = true
[[part]]
id = "P2"
name = "Skin"
material = "2024-T3"
thickness = "0.040"
[[part]]
id = "P3"
[[joint]]
id = "J1"
name = "Rib to skin"
stack = ["P1", { part = "P2", material = "7075-T6", thickness = "0.050" }]
fastener = "R-A"
count = 4
holes = { start = "#40", final = "#30", chamfer = "0.005" }
edge = ["0.30", "0.35"]
pitch = "0.75"
rows = 2
row-gap = "0.5"
pattern = { end = "0.5", edge = "0.4", pitch = "0.8", stagger = true, edge-name = "flange edge", end-name = "root", across = "forward", along = "outboard" }
prepare = ["dimple", "countersink"]
structure = "primary"
access = "both sides"
wet = "sealant"
leave-open = { count = 1, until = "B/s", joint = "K1", why = "a bracket comes later" }
bend-distance = "0.20"
stringer-leg = "0.50"
tube = "1.00"
limits = { edge = "1.5 D", pitch = "3 D", row-gap = "3 D", bend = "1.8 D", hole = ["#31", "#29"], grip = ["0.050", "0.125"], torque = "18-30 in-lb", because = "note 4" }
nut = "AN310-3"
washers = { head = ["NAS1149F0332P"], nut = ["NAS1149F0363P"] }
cotter = "MS24665-132"
torque = "20-25 in-lb"
rotates = true
clamped = "inner race"
drag = "included"
check-nut = "AN316-3"
temperature = "180 F"
lubricated = false
temporary = { fastener = "AN3-6A", nut = "AN315-3R", why = "removed for painting" }
often-removed = true
run-down = "2-18 in-lb"
replaces = "MS20470AD4-4"
shop-head = { diameter = "0.17", height = "0.06" }
[[joint]]
id = "J2"
stack = ["P1", "P2"]
fastener = "K-1"
count = 2
pattern = { points = [["0.5", "0.5"], ["1.5", "0.5"]] }
[[joint]]
id = "J3"
stack = ["P1", "P2"]
fastener = "K-BOLT"
nut = "K-NUT"
washers = { nut = ["K-WASHER"] }
count = 2
[[step]]
id = "skin"
title = "Look at the skin"
do = "inspect"
parts = ["P3"]
[[step]]
id = "bolt-kit"
title = "Bolt"
do = "bolt"
joints = ["J3"]
[[step]]
id = "torque-kit"
title = "Torque"
do = "torque"
joints = ["J3"]
[[step]]
id = "lay-out"
title = "Lay out"
do = "lay-out"
joints = ["J1", "J2"]
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1", "J2"]
to = "#40"
parts = ["P1"]
text = "Slowly."
drawings = ["W-1 view C"]
manual = ["p. 6-12"]
tools = ["stop"]
uses = ["cutting oil"]
needs = ["B/s"]
sets = ["drilled"]
undoes = ["level"]
while = ["drilled"]
spaces = ["bay"]
opens = ["bay"]
cautions = ["hot"]
photo = "before covering"
helper = true
minutes = 40
[[step]]
id = "ream"
title = "Ream"
do = "ream"
joints = ["J1"]
[[step]]
id = "countersink"
title = "Countersink"
do = "countersink"
joints = ["J1"]
[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]
[[step]]
id = "fit"
title = "Fit"
do = "fit"
joints = ["J1"]
[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1", "J2"]
[[step]]
id = "torque"
title = "Torque"
do = "torque"
joints = ["J1"]
[[step]]
id = "shut"
title = "Shut"
do = "close"
closes = ["box"]
[[step]]
id = "paint"
title = "Paint"
do = "paint"
parts = ["P1"]
text = "Two thin coats."
cure = "24 h"
cure-latest = "48 h"
[[step]]
id = "look"
title = "Look"
do = "inspect"
joints = ["J1", "J2"]
closes = ["bay"]
hold = "inspector"
stage = "S1"
witness = "technical counselor"
records = [
  { id = "twist", label = "Twist", unit = "deg", min = "-0.1", max = "0.1", tool = "level", measures = "torque" },
  { id = "again", label = "Twist again", unit = "deg", within = "0.1 of twist" },
]
[[step]]
id = "bushing"
title = "Press the bushing in"
do = "press-fit"
fit = { bore = "bore", pin = "pin", interference = ["0.0005", "0.0015"] }
records = [{ id = "bore", label = "Bore", unit = "in" }, { id = "pin", label = "Pin", unit = "in" }]
[[allow]]
rule = "edge-distance-short"
joint = "J1"
because = "letter"
[[allow]]
rule = "pitch-short"
step = "drill"
because = "letter"
[[allow]]
rule = "bend-too-tight"
part = "P1"
because = "letter"
"##;
