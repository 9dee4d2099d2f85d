//! What fires each caution and what does not: a table in the words of the trade.

type Row = (&'static str, &'static str, &'static [&'static str], &'static [&'static str]);

/// What fires a caution, in the words of the trade: caution, steps that fire it, steps that do not.
pub const TRIGGERS: &[Row] = &[
    (
        "cutters and rivets",
        "eye-protection",
        &[
            "title = \"Open\"\ndo = \"drill\"",
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JB\"]",
            "title = \"Deburr\"\ndo = \"deburr\"",
        ],
        &["title = \"Read the scales\"\ndo = \"level\"", "title = \"Photograph\"\ndo = \"photograph\""],
    ),
    (
        "a title that cuts, a saw among the tools",
        "eye-protection",
        &[
            "title = \"Cut the blank\"\ndo = \"prepare\"",
            "title = \"Mark out, then trim the skin\"\ndo = \"prepare\"",
            "title = \"Fit the hinge\"\ndo = \"fit\"\ntools = [\"hacksaw\"]",
        ],
        &[
            "title = \"Count the parts\"\ndo = \"prepare\"\ntext = \"The cut edge faces aft; sand lies outside.\"",
            "title = \"Fit the cut-out cover\"\ndo = \"fit\"",
        ],
    ),
    (
        "gun and bar",
        "hearing",
        &["title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]", "title = \"Drive\"\ndo = \"rivet\""],
        &[
            "title = \"Pull\"\ndo = \"rivet\"\njoints = [\"JB\"]",
            "title = \"Bolt\"\ndo = \"bolt\"",
            "title = \"Level\"\ndo = \"level\"\ntext = \"Riveting comes later; no rivet gun here.\"",
        ],
    ),
    (
        "gun and bar",
        "vibration",
        &["title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JM\"]", "title = \"Drive\"\ndo = \"rivet\""],
        &[
            "title = \"Drive a few\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Pull\"\ndo = \"rivet\"\njoints = [\"JB\"]",
            "title = \"Bolt\"\ndo = \"bolt\"",
        ],
    ),
    (
        "compressed air on chips",
        "compressed-air",
        &[
            "title = \"Clean\"\ndo = \"clean\"\ntext = \"Blow off the chips.\"",
            "title = \"Deburr\"\ndo = \"deburr\"\ntools = [\"air gun\"]",
        ],
        &[
            "title = \"Clean\"\ndo = \"clean\"\ntext = \"Never blow off the chips.\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"Blow through the vent tube by mouth.\"",
            "title = \"Photograph\"\ndo = \"photograph\"\ntext = \"Compressed air is off.\"",
        ],
    ),
    (
        "chromate",
        "chromate",
        &[
            "title = \"Prime with zinc chromate\"\ndo = \"prime\"",
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JZ\"]",
            "title = \"Conversion coating\"\ndo = \"clean\"",
            "title = \"Deburr\"\ndo = \"deburr\"\ntext = \"The part has a chromate finish.\"",
        ],
        &[
            "title = \"Prime\"\ndo = \"prime\"",
            "title = \"Prime with chromate-free primer\"\ndo = \"prime\"",
            "title = \"Prime\"\ndo = \"prime\"\ntext = \"Non-chromated primer.\"",
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JW\"]",
            "title = \"Look for chromate\"\ndo = \"inspect\"",
        ],
    ),
    (
        "isocyanate paint",
        "isocyanate",
        &[
            "title = \"Paint\"\ndo = \"paint\"\ntext = \"Mix paint and hardener.\"",
            "title = \"Prime\"\ndo = \"prime\"\ntools = [\"2K primer\"]",
            "title = \"Bond\"\ndo = \"bond\"\ntext = \"Polyurethane adhesive.\"",
        ],
        &[
            "title = \"Paint\"\ndo = \"paint\"\ntext = \"Stir the paint.\"",
            "title = \"Bond\"\ndo = \"bond\"\ntext = \"Resin and hardener by weight.\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"Is the hardener in the locker?\"",
        ],
    ),
    (
        "solvents, etch",
        "solvent",
        &[
            "title = \"Clean\"\ndo = \"clean\"",
            "title = \"Old paint off\"\ndo = \"prepare\"\ntools = [\"paint stripper\"]",
            "title = \"Seal\"\ndo = \"seal\"\ntext = \"Wipe with acetone first.\"",
        ],
        &[
            "title = \"Look\"\ndo = \"inspect\"",
            "title = \"Fit\"\ndo = \"fit\"\ntext = \"The thinner sheet lies on top.\"",
            "title = \"Fit the wires\"\ndo = \"fit\"\ntools = [\"wire stripper\"]",
        ],
    ),
    (
        "fuel",
        "fuel-vapour",
        &[
            "title = \"Open the tank\"\ndo = \"inspect\"\nopens = [\"tank\"]",
            "title = \"Slosh the tank\"\ndo = \"seal\"",
            "title = \"Look in\"\ndo = \"prepare\"\ntext = \"Drain the fuel.\"",
        ],
        &[
            "title = \"Look inside the tank\"\ndo = \"inspect\"\nspaces = [\"tank\"]",
            "title = \"Fit\"\ndo = \"fit\"\nopens = [\"bay\"]",
            "title = \"Photograph\"\ndo = \"photograph\"\ntext = \"Fuel vapour cannot be seen.\"",
        ],
    ),
    (
        "sealant and resin",
        "sealant-skin",
        &[
            "title = \"Fay the flange\"\ndo = \"seal\"",
            "title = \"Bond\"\ndo = \"bond\"",
            "title = \"Drive wet\"\ndo = \"rivet\"\njoints = [\"JW\"]",
            "title = \"Bolt\"\ndo = \"bolt\"\ntext = \"Set the bolts in epoxy.\"",
        ],
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Deburr\"\ndo = \"deburr\"\ntext = \"Sealant tears on a sharp edge.\"",
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]\ntext = \"No sealant here.\"",
        ],
    ),
    (
        "cold-shrink fit",
        "cold-shrink",
        &[
            "title = \"Bush in\"\ndo = \"fit\"\ntext = \"Cool it in liquid nitrogen.\"",
            "title = \"Freeze-fit the bushing\"\ndo = \"fit\"",
            "title = \"Bush in\"\ndo = \"fit\"\ntools = [\"dry ice\"]",
        ],
        &[
            "title = \"Bush in\"\ndo = \"fit\"\ntext = \"Press it in.\"",
            "title = \"Fit\"\ndo = \"fit\"\ntext = \"Shrink the heat-shrink sleeve.\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"After the freeze fit: no gap.\"",
        ],
    ),
    (
        "frozen bolt before torque",
        "torque-warm",
        &[
            "title = \"Torque\"\ndo = \"torque\"\ntext = \"The bolt was in dry ice.\"",
            "title = \"Bolt\"\ndo = \"bolt\"\ntext = \"The bolts come from the freezer.\"",
        ],
        &["title = \"Torque\"\ndo = \"torque\"", "title = \"Fit\"\ndo = \"fit\"\ntext = \"From the freezer.\""],
    ),
    (
        "heat gun, oven, solder",
        "heat",
        &[
            "title = \"Shrink\"\ndo = \"fit\"\ntools = [\"heat gun\"]",
            "title = \"Solder the shield\"\ndo = \"fit\"",
            "title = \"Bond\"\ndo = \"bond\"\ntext = \"Cure it in the oven.\"",
        ],
        &[
            "title = \"Fit\"\ndo = \"fit\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"Heat the oven later.\"",
            "title = \"Look with a torch\"\ndo = \"inspect\"\ntools = [\"torch\"]",
        ],
    ),
    (
        "drill where nobody sees behind",
        "behind-the-hole",
        &[
            "title = \"Drill\"\ndo = \"drill\"\njoints = [\"JO\"]",
            "title = \"Drill over the tank\"\ndo = \"drill\"",
            "title = \"Ream\"\ndo = \"ream\"\ntext = \"The tank is behind.\"",
        ],
        &[
            "title = \"Match-drill to final size\"\ndo = \"drill\"\njoints = [\"J\"]",
            "title = \"Drill\"\ndo = \"drill\"\ntext = \"Leave the skin in place; nothing lies behind it.\"",
            "title = \"Look behind the skin\"\ndo = \"inspect\"",
        ],
    ),
    (
        "rivet over a finished skin",
        "finished-skin",
        &[
            "title = \"Paint\"\ndo = \"paint\"\nparts = [\"P\"]\n[[step]]\nid = \"t\"\ntitle = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Drive the painted side\"\ndo = \"rivet\"",
        ],
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Paint\"\ndo = \"paint\"\nparts = [\"S\"]\n[[step]]\nid = \"t\"\ntitle = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Drive\"\ndo = \"rivet\"\ntext = \"The finished rib lies on the painted mark.\"",
        ],
    ),
    (
        "sheet edges",
        "sheet-edges",
        &["title = \"Fit\"\ndo = \"fit\"", "title = \"Verify\"\ndo = \"prepare\""],
        &["title = \"Drive\"\ndo = \"rivet\"", "title = \"Torque\"\ndo = \"torque\""],
    ),
    (
        "turning tool and gloves",
        "gloves-and-rotation",
        &["title = \"Ream\"\ndo = \"ream\"", "title = \"Countersink\"\ndo = \"countersink\""],
        &[
            "title = \"Dimple\"\ndo = \"dimple\"",
            "title = \"Level\"\ndo = \"level\"\ntext = \"Drill nothing while it is out.\"",
        ],
    ),
    (
        "fuel, oil, brake line",
        "fluid-line",
        &[
            "title = \"Torque the brake line\"\ndo = \"torque\"",
            "title = \"Bolt\"\ndo = \"bolt\"\njoints = [\"JF\"]",
            "title = \"Fit\"\ndo = \"fit\"\ntools = [\"flare nut wrench\"]",
            "title = \"Fit\"\ndo = \"fit\"\ntext = \"Hold the flare nut.\"",
        ],
        &[
            "title = \"Torque the hinge\"\ndo = \"torque\"",
            "title = \"Run the coax cable\"\ndo = \"fit\"\ntext = \"Keep it two inches clear of the fuel line and the brake line.\"",
            "title = \"Look at the brake line\"\ndo = \"inspect\"",
        ],
    ),
    (
        "bolts",
        "bolt-now",
        &[
            "title = \"Bolt\"\ndo = \"bolt\"",
            "title = \"Torque\"\ndo = \"torque\"\ntext = \"From the middle outward.\"",
        ],
        &[
            "title = \"Drive\"\ndo = \"rivet\"\ntext = \"The bolt comes later.\"",
            "title = \"Torque, as the procedure says\"\ndo = \"torque\"",
        ],
    ),
    (
        "cotter pins and safety wire",
        "used-once",
        &[
            "title = \"Torque\"\ndo = \"torque\"\njoints = [\"JC\"]",
            "title = \"Bolt\"\ndo = \"bolt\"\njoints = [\"JN\"]\ntext = \"Safety wire through the heads.\"",
        ],
        &[
            "title = \"Torque\"\ndo = \"torque\"\njoints = [\"JN\"]",
            "title = \"Look\"\ndo = \"inspect\"\njoints = [\"JC\"]",
            "title = \"Torque\"\ndo = \"torque\"\njoints = [\"JN\"]\ntext = \"No cotter pin here.\"",
        ],
    ),
    (
        "galvanic pair",
        "unlike-metals",
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JS\"]",
            "title = \"Bolt\"\ndo = \"bolt\"\ntext = \"Dissimilar metals: wet.\"",
        ],
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Drill\"\ndo = \"drill\"\njoints = [\"JS\"]",
        ],
    ),
    (
        "jack, hoist, turn over, mate",
        "lifting",
        &[
            "title = \"Set on jacks\"\ndo = \"level\"",
            "title = \"Mate the wing\"\ndo = \"fit\"",
            "title = \"Fit\"\ndo = \"fit\"\ntools = [\"engine hoist\"]",
        ],
        &[
            "title = \"Set the jacket on\"\ndo = \"level\"",
            "title = \"Lift the skin on with a helper\"\ndo = \"fit\"",
            "title = \"Fit\"\ndo = \"fit\"\ntext = \"Turn over the page.\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"The fuselage stands on jacks.\"",
        ],
    ),
    (
        "close a space",
        "close-space",
        &[
            "title = \"Close\"\ndo = \"close\"\ncloses = [\"bay\"]",
            "title = \"Drive\"\ndo = \"rivet\"\ncloses = [\"bay\"]",
        ],
        &["title = \"Look\"\ndo = \"inspect\"\nspaces = [\"bay\"]"],
    ),
    (
        "solid rivets",
        "first-three",
        &[
            "title = \"Set\"\ndo = \"rivet\"\njoints = [\"J\"]\ntext = \"From the middle outward.\"",
            "title = \"Set\"\ndo = \"rivet\"",
        ],
        &[
            "title = \"Set, as the procedure says\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Set\"\ndo = \"rivet\"\njoints = [\"JB\"]",
            "title = \"Bolt\"\ndo = \"bolt\"",
        ],
    ),
    (
        "blind rivets",
        "first-three-blind",
        &["title = \"Set\"\ndo = \"rivet\"\njoints = [\"JB\"]"],
        &["title = \"Set\"\ndo = \"rivet\"\njoints = [\"J\"]", "title = \"Set\"\ndo = \"rivet\""],
    ),
    (
        "mist of a coat",
        "coat-mist",
        &["title = \"Prime\"\ndo = \"prime\"", "title = \"Paint\"\ndo = \"paint\""],
        &["title = \"Wash\"\ndo = \"clean\"\ntext = \"Paint comes later.\""],
    ),
    (
        "rivets kept cold",
        "keep-cold",
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JD\"]",
            "title = \"Drive\"\ndo = \"rivet\"\ntext = \"From the cold box.\"",
        ],
        &[
            "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
            "title = \"Look\"\ndo = \"inspect\"\njoints = [\"JD\"]",
        ],
    ),
    (
        "a furnace",
        "hot-parts",
        &["title = \"Age the ribs\"\ndo = \"heat-treat\""],
        &["title = \"Look\"\ndo = \"inspect\"\ntext = \"The part was hardened.\""],
    ),
    (
        "a tank or line under pressure",
        "test-pressure",
        &[
            "title = \"Test the tank for leaks\"\ndo = \"test\"",
            "title = \"Test the pitot line\"\ndo = \"test\"\ntext = \"Pressure slowly up.\"",
        ],
        &[
            "title = \"Test the trim motor\"\ndo = \"test\"\ntext = \"Both ways.\"",
            "title = \"Look\"\ndo = \"inspect\"\ntext = \"No leak, no pressure mark.\"",
        ],
    ),
    (
        "current",
        "live-wire",
        &[
            "title = \"Connect the battery\"\ndo = \"connect\"",
            "title = \"Put the lights in\"\ndo = \"install\"\ntools = [\"crimping tool\"]",
        ],
        &[
            "title = \"Connect the rudder cables\"\ndo = \"connect\"",
            "title = \"Torque\"\ndo = \"torque\"\ntext = \"Safety wire after it.\"",
        ],
    ),
    (
        "a press",
        "press",
        &["title = \"Press the bushing in\"\ndo = \"press-fit\""],
        &["title = \"Fit\"\ndo = \"fit\"\ntext = \"Press the skin down by hand.\""],
    ),
    (
        "cold for a press fit",
        "cold-shrink",
        &["title = \"Freeze the bushing\"\ndo = \"press-fit\"\ntext = \"Dry ice for an hour.\""],
        &["title = \"Press the bushing in\"\ndo = \"press-fit\""],
    ),
    (
        "what a step uses up",
        "chromate",
        &["title = \"Press the bushing in\"\ndo = \"press-fit\"\nuses = [\"zinc chromate primer\"]"],
        &["title = \"Press the bushing in\"\ndo = \"press-fit\"\nuses = [\"wax\"]"],
    ),
    (
        "heat for a press fit",
        "heat",
        &["title = \"Press the bushing in\"\ndo = \"press-fit\"\ntext = \"Heat the lug in the oven.\""],
        &["title = \"Press the bushing in\"\ndo = \"press-fit\""],
    ),
];
