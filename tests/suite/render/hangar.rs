//! What paper goes through in a hangar: dropped, left for weeks, photocopied, smeared; and still says what it must.
//!
//! The copies are pictures of the printed pages; a code reader and a text reader stand for tired eyes.

mod copier;

use shophead::ident::SheetCode;
use shophead::plan::{Options, Packet};
use shophead::render::{BoxPlace, Laid, Templates, print};

use crate::build::bracket::bracket_packets;
use crate::build::picture::Picture;
use crate::render::{laid, packed};
use copier::{Copier, Smear, smeared};

/// Dots an inch of the scanner.
const DOTS: i64 = 200;

fn dots(micrometres: i64) -> i64 {
    micrometres * DOTS / 25_400
}

/// Sheet code, page and number of pages, from what every page carries.
fn head(page: &str) -> (String, usize, usize) {
    let code = page.split_whitespace().find(|word| word.len() == 11 && SheetCode::parse(word).is_ok()).unwrap();
    let text = packed(page);
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).collect::<String>();
    let counted = text.match_indices("page").find_map(|(at, _)| {
        let number = digits(&text[at + 4..]);
        let total = digits(text[at + 4 + number.len()..].strip_prefix("of")?);
        Some((number.parse().ok()?, total.parse().ok()?))
    });
    let (number, total) = counted.unwrap();
    (code.to_owned(), number, total)
}

#[test]
fn dropped_packets_are_put_back_in_order_by_their_heads_and_a_lost_page_is_missed() {
    let packets = bracket_packets(Options::default());
    let mut floor: Vec<String> = packets.iter().flat_map(|packet| laid(&packet.document()).page_texts()).collect();
    let all = floor.len();
    assert!(all >= 8, "two packets of four pages or more: {all}");
    let lost = floor.remove(5);
    // A stride that has no common part with the number of pages visits each once, in no order.
    let step = [7, 11, 13].into_iter().find(|prime| !floor.len().is_multiple_of(*prime)).unwrap();
    let dropped: Vec<&String> = (0..floor.len()).map(|at| &floor[at * step % floor.len()]).collect();
    let mut sorted: Vec<(String, usize, usize)> = dropped.iter().map(|page| head(page)).collect();
    sorted.sort();
    let codes: Vec<String> = packets.iter().map(|packet| packet.head.code.clone().unwrap()).collect();
    assert!(sorted.iter().all(|(code, ..)| codes.contains(code)), "{sorted:?}");
    let mut missing = Vec::new();
    for code in &codes {
        let own: Vec<&(String, usize, usize)> = sorted.iter().filter(|(own, ..)| own == code).collect();
        let total = own[0].2;
        missing.extend(
            (1..=total)
                .filter(|page| own.iter().all(|(_, own, _)| own != page))
                .map(|page| (code.clone(), page, total)),
        );
    }
    assert_eq!(missing, [head(&lost)]);
}

/// Somebody else comes back after three weeks: each row of holes names the steps of its life, each of them has one mark for
/// it (its own box where a step has several rows, else the step's), and every foot asks where the work stopped.
#[test]
fn the_state_of_every_row_of_holes_is_marked_once_at_each_step_of_its_life() {
    let packet = bracket_packets(Options::default()).remove(0);
    let pages = laid(&packet.document());
    let (boxes, texts) = (pages.boxes().unwrap(), pages.page_texts());
    let whole = packed(&texts.concat());
    for joint in &packet.joints {
        assert!(!joint.stages.is_empty());
        assert!(whole.contains(&packed(&format!("steps {}", joint.stages.join(", ")))), "{}", joint.id);
        let own = format!("state:{}", joint.id);
        for step in packet.steps.iter().filter(|step| step.joints.iter().any(|one| one.id == joint.id)) {
            let of_step: Vec<&BoxPlace> = boxes.iter().filter(|one| one.step == step.id).collect();
            let states = of_step.iter().filter(|one| one.field == own).count();
            assert_eq!(states, usize::from(step.joints.len() > 1), "{} at {}", joint.id, step.id);
            assert!(of_step.iter().any(|one| one.field == "done:initials"));
            assert!(joint.stages.iter().any(|stage| stage.starts_with(&step.number)));
        }
    }
    assert!(texts.iter().all(|page| packed(page).contains("stopped:date")));
}

/// The words of a page with the height at which each stands, in thousandths of the page.
fn heights(pdf: &[u8], page: usize) -> Option<Vec<(u32, String)>> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.pdf");
    std::fs::write(&file, pdf).unwrap();
    let page = page.to_string();
    let Ok(output) =
        std::process::Command::new("pdftotext").args(["-bbox", "-f", &page, "-l", &page]).arg(&file).arg("-").output()
    else {
        assert!(std::env::var_os("CI").is_none(), "pdftotext is missing");
        return None;
    };
    let text = String::from_utf8(output.stdout).unwrap();
    let number = |line: &str, name: &str| -> Option<u32> {
        let value = line.split(&format!("{name}=\"")).nth(1)?.split('"').next()?;
        value.split('.').next()?.parse().ok()
    };
    let whole =
        text.lines().find_map(|line| line.contains("<page ").then(|| number(line, "height")).flatten()).unwrap();
    let word = |line: &str| {
        let said = line.split_once("\">")?.1.split_once("</word>")?.0.to_owned();
        Some((number(line, "yMin")? * 1000 / whole, said))
    };
    Some(text.lines().filter(|line| line.contains("<word ")).filter_map(word).collect())
}

/// Which holes stay open, which side gets the heads: answered above the mark of the step, on half a page.
#[test]
fn open_holes_and_head_side_stand_with_the_riveting_before_its_mark() {
    let packet = bracket_packets(Options::default()).remove(0);
    let document = packet.document();
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    let mark = printed.boxes.iter().find(|one| one.step == "rivet" && one.field == "done:initials").unwrap();
    let Some(words) = heights(&printed.pdf, mark.page) else { return };
    let number = &packet.steps.iter().find(|step| step.id == "rivet").unwrap().number;
    let step = words.iter().find(|(_, word)| word == number).unwrap().0;
    let end = u32::try_from(mark.y.0 / 280).unwrap();
    let block: Vec<&(u32, String)> = words.iter().filter(|(at, _)| (step..=end).contains(at)).collect();
    let at =
        |wanted: &str| block.iter().find(|(_, word)| word == wanted).unwrap_or_else(|| panic!("{wanted}: {block:?}")).0;
    let (open, head) = (at("OPEN"), at("manufactured"));
    assert!(open.abs_diff(head) < 500 && open < end && head < end, "{open} {head} {end}");
    assert!(end - step < 700, "the block of the step takes {} thousandths of the page", end - step);
}

/// Whether the four lines of a box are there, and its inside is free.
fn is_a_box(copy: &Picture, place: impl Fn((i64, i64)) -> (i64, i64), one: &BoxPlace) -> bool {
    let (left, top) = (dots(one.x.0), dots(one.y.0));
    let (right, bottom) = (dots(one.x.0 + one.width.0), dots(one.y.0 + one.height.0));
    let dark = |at: (i64, i64), reach: (i64, i64)| {
        let (x, y) = place(at);
        (-4..=4).any(|away| copy.at(x + away * reach.0, y + away * reach.1) < 150)
    };
    let share = |found: usize, of: usize| found * 100 / of;
    let across: Vec<i64> = (left + 3..right - 3).collect();
    let down: Vec<i64> = (top + 3..bottom - 3).collect();
    let rows = [top, bottom].map(|y| share(across.iter().filter(|x| dark((**x, y), (0, 1))).count(), across.len()));
    let columns = [left, right].map(|x| share(down.iter().filter(|y| dark((x, **y), (1, 0))).count(), down.len()));
    let (mut light, mut all) = (0, 0);
    for y in top + 8..bottom - 8 {
        for x in left + 8..right - 8 {
            let (x, y) = place((x, y));
            all += 1;
            light += usize::from(copy.at(x, y) > 150);
        }
    }
    rows.iter().chain(&columns).all(|share| *share >= 90) && light * 100 >= all * 97
}

/// Ruled lines of an original of which a copy shows less than four fifths, and how many there are in all.
fn lost_lines(
    original: &Picture,
    copy: &Picture,
    place: impl Fn((i64, i64)) -> (i64, i64),
    stained: impl Fn((i64, i64)) -> bool,
) -> (usize, usize) {
    const LEAST: i64 = 60;
    let (width, height) = (i64::try_from(original.width).unwrap(), i64::try_from(original.height).unwrap());
    let dark = |x, y| original.at(x, y) < 160;
    let (mut lost, mut all) = (0, 0);
    for y in 1..height {
        let mut x = 0;
        while x < width {
            let length = (x..width).take_while(|x| dark(*x, y)).count();
            let end = x + i64::try_from(length).unwrap();
            // The rows of a thick line are one line: only its upper edge is looked at.
            if end - x >= LEAST && (x..end).filter(|x| dark(*x, y - 1)).count() * 2 < length {
                let seen: Vec<(i64, i64)> =
                    (x + 4..end - 4).map(|x| place((x, y))).filter(|at| !stained(*at)).collect();
                let kept = seen.iter().filter(|(x, y)| (-4..=4).any(|away| copy.at(*x, y + away) < 150)).count();
                all += 1;
                lost += usize::from(kept * 5 < seen.len() * 4);
            }
            x = end.max(x + 1);
        }
    }
    (lost, all)
}

fn step_page(packet: &Packet, pages: &Laid) -> usize {
    let boxes = pages.boxes().unwrap();
    let drill = packet.steps.iter().find(|step| step.id == "drill").unwrap();
    boxes.iter().find(|one| one.step == drill.id).unwrap().page
}

/// Twice photocopied on two bad machines, smeared with primer, scanned at 200 dots an inch.
#[test]
fn codes_numbers_and_boxes_survive_two_photocopies_and_a_smear() {
    let packet = bracket_packets(Options::default()).remove(0);
    let document = packet.document();
    let number = step_page(&packet, &laid(&document));
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    let Some(original) = Picture::of(&printed.pdf, number, usize::try_from(DOTS).unwrap()) else { return };
    let (first, second) = (Copier { scale: 1010, slip: 3, seed: 1 }, Copier { scale: 985, slip: -5, seed: 2 });
    let smear = |x, y| Smear { at: (dots(x), dots(y)), size: (dots(22_000), dots(9_000)) };
    // Over the upper code, over the head of the step, over the foot.
    let smears = [smear(188_000, 18_000), smear(70_000, 60_000), smear(150_000, 262_000)];
    let copy = smeared(second.copy(&first.copy(&original)), &smears);
    let place = |at| second.place(first.place(at));

    let code = document.code.clone().unwrap();
    let Some(codes) = copy.codes() else { return };
    let said = document.page_text(u32::try_from(number).unwrap(), &printed.print);
    assert!(codes.contains(&said), "{codes:?}");

    let own: Vec<&BoxPlace> = printed.boxes.iter().filter(|one| one.page == number).collect();
    assert!(own.len() >= 3);
    for one in own {
        assert!(is_a_box(&copy, place, one), "{one:?} cannot be made out");
    }
    assert!(
        !is_a_box(&Picture { pixels: vec![255; copy.pixels.len()], ..copy.clone() }, place, &printed.boxes[0]),
        "a blank page has no box"
    );

    let stained = |at: (i64, i64)| {
        smears.iter().any(|smear| (at.0 - smear.at.0).abs() < smear.size.0 && (at.1 - smear.at.1).abs() < smear.size.1)
    };
    let (lost, lines) = lost_lines(&original, &copy, place, stained);
    assert!(lines > 30, "{lines}");
    assert_eq!(lost, 0, "of {lines} ruled lines");

    let Some(words) = copy.words() else { return };
    // A sheet code is read with O for 0 and I or L for 1, by hand too; the shape of a bracket says nothing, and a full stop that
    // is no decimal point may be a speck.
    let plain = |text: &str| {
        let text = packed(text);
        let follows = |at: usize| text[at + 1..].starts_with(|c: char| c.is_ascii_digit());
        let kept = text.char_indices().filter(|(at, c)| *c != '.' || follows(*at)).map(|(_, c)| c);
        kept.collect::<String>()
            .to_uppercase()
            .replace('O', "0")
            .replace(['I', 'L'], "1")
            .replace(['(', '[', '{', ')', ']', '}'], "")
    };
    let words = plain(&words);
    let step = packet.steps.iter().find(|step| step.id == "drill").unwrap();
    // Where the code is misread by a character, the check refuses it.
    let letters: Vec<char> = words.chars().collect();
    for window in letters.windows(code.len()) {
        let same = window.iter().zip(code.chars()).filter(|(one, other)| **one == *other).count();
        let read: String = window.iter().collect();
        assert!(same < code.len() - 2 || read == code || SheetCode::parse(&read).is_err(), "{read} is read for {code}");
    }
    let mut wanted = vec![code, format!("page{number}"), step.number.clone()];
    wanted.extend(step.joints.iter().map(|joint| joint.lead.clone()));
    assert!(wanted.len() > 3);
    for wanted in wanted {
        assert!(words.contains(&plain(&wanted)), "`{wanted}` is not read in\n{words}");
    }
}

/// A hole is enlarged on purpose: the sheet said before whether the next size has room, with both numbers.
#[test]
fn the_sheet_says_beforehand_whether_the_next_size_has_room() {
    let packet = bracket_packets(Options::default()).remove(0);
    let pages = laid(&packet.document());
    let texts: Vec<String> = pages.page_texts().iter().map(|page| packed(page)).collect();
    for joint in &packet.joints {
        let page = texts.iter().find(|page| page.contains(&packed(&joint.next_size.why))).unwrap();
        let verdict = format!("roomforthenextsize:{}", packed(joint.next_size.verdict));
        assert!(page.contains(&verdict), "{}: {verdict}", joint.id);
        if joint.next_size.verdict != "not judged" {
            let numbers = joint.next_size.why.matches(" in").count();
            assert!(numbers >= 2, "what is and what it takes: {}", joint.next_size.why);
        }
    }
    assert!(packet.joints.iter().any(|joint| joint.next_size.verdict == "yes" || joint.next_size.verdict == "no"));
}
