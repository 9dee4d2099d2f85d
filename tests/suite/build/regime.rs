//! A small build under a regime of its own: two stages, roles in the builder's words, a rib and the box that it goes into.

pub const BUILD: &str = r#"
[aircraft]
name = "Dunlin"
[[role]]
id = "builder"
may = ["do", "look"]
[[role]]
id = "examiner"
word = "Examiner"
may = ["look", "release"]
asks = ["authorisation no.", "report no."]
says = "The examiner signs for what was seen on that day."
[[role]]
id = "adviser"
may = ["look", "advise"]
[[stage]]
id = "S1"
name = "Rib before the box"
sign = { all = ["examiner"], other = true }
releases = ["RIB-10"]
outcomes = ["in order", "not in order"]
[[stage]]
id = "S2"
name = "Box before closing"
sign = { all = ["examiner"], any = ["B2", "A1"], other = true }
releases = ["fin-box"]
outcomes = ["in order", "in order with remarks", "not in order"]
go-on = ["in order", "in order with remarks"]
[[signer]]
initials = "B1"
role = "builder"
[[signer]]
initials = "B2"
role = "builder"
[[signer]]
initials = "P1"
role = "examiner"
[[signer]]
initials = "P2"
role = "examiner"
[[signer]]
initials = "A1"
role = "adviser"
[[space]]
id = "fin-box"
name = "Fin, inside the box"
stage = "S2"
"#;

pub const RIB: &str = r#"
[traveler]
id = "RIB-10"
title = "Rib"
revision = "A"
[[part]]
id = "R1"
name = "Rib web"
material = "2024-T3"
thickness = "0.032"
[[part]]
id = "R2"
name = "Angle"
material = "2024-T3"
thickness = "0.032"
[[joint]]
id = "J1"
name = "Angle to web"
stack = ["R2", "R1"]
fastener = "MS20470AD4-4"
count = 12
edge = "0.32"
pitch = "0.75"
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1"]
[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]
[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]
[[step]]
id = "look"
title = "Look at the rib"
do = "inspect"
joints = ["J1"]
stage = "S1"
"#;

pub const BOX: &str = r#"
[traveler]
id = "BOX-10"
title = "Fin box"
revision = "A"
after = ["RIB-10"]
[[part]]
id = "X1"
name = "Spar"
material = "2024-T3"
thickness = "0.040"
[[part]]
id = "X2"
name = "Skin"
material = "2024-T3"
thickness = "0.032"
[[joint]]
id = "J1"
name = "Skin to spar"
stack = ["X2", "X1"]
fastener = "MS20470AD4-4"
count = 30
edge = "0.32"
pitch = "0.75"
[[step]]
id = "drill"
title = "Drill and deburr"
do = "drill"
joints = ["J1"]
[[step]]
id = "rivet"
title = "Rivet the skin on"
do = "rivet"
joints = ["J1"]
spaces = ["fin-box"]
[[step]]
id = "close"
title = "Close the box"
do = "close"
closes = ["fin-box"]
stage = "S2"
"#;
